"""``python -m reports`` is the command `ellwand`."""

from reports.start import main

main()

"""``python -m reports`` is the command `ellwand`."""

from reports.cli import main

main()

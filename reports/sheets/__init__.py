"""An answer as a workbook, as tables with commas between, and as one page to read or print."""

"""The living workbook: prices, minutes and quantities are inputs, and every cost is a formula."""

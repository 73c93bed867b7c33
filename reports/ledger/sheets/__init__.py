"""The ledger as a workbook and as tables."""

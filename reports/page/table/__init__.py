"""The markers of answers on the page's cutting table."""

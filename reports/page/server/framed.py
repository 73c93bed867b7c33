"""Pages that stand beside the page itself: its look, without its scripts."""

from html import escape

HTML = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{title}</title>
<link rel="icon" href="/icon.svg" type="image/svg+xml">
<script src="/js/theme.js"></script>
<link rel="stylesheet" href="/css/style.css">
{styles}
</head>
<body>
{body}
</body>
</html>
"""

BRAND = '<svg viewBox="0 0 32 32" aria-hidden="true"><use href="/icon.svg#wand"/></svg>'


def framed(title: str, styles: str, body: str) -> str:
    """A whole page: its title, links to further styles, and what is in it, as HTML."""
    return HTML.format(title=escape(title), styles=styles, body=body)

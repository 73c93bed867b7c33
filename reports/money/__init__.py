"""From lengths to purchases and money."""

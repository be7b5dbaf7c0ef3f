"""How figures are written on a page."""

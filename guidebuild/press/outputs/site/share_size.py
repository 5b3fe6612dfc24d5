"""How large the picture is that stands for a page where it is shared: its maker and the page that names it both say so."""

SHARE_SIZE = (1200, 630)
"""Pixels across and down."""

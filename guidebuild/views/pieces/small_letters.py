"""How large the letters of a small map are, apart from what draws it: printing needs no geometry."""

LETTERS = 20.0
"""Units that the letters of a small map are high. What prints one makes that its least type, and the map as large as follows."""

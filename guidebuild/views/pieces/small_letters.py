"""How large the letters of small maps are, apart from what draws them: printing needs no geometry."""

LETTERS = 20.0
"""Units that the letters of a card's map are high. What prints one makes that its least type, and the map as large as follows."""
LEAFLET_LETTERS = 26.0
"""The same on the cover of a leaflet, where numbers stand for names."""

"""Leaders' packs and calendar events."""

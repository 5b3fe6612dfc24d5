"""Episode scripts."""

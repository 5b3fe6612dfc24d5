"""The website."""

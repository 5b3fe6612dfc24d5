"""Slides to be posted one after the other."""

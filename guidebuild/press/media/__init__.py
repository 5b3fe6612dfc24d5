"""Recordings and films: all that tells is taken off them, and what they carry is read."""

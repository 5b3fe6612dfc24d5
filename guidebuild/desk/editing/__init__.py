"""Changing what the guide's files say, a value at a time: only the lines of that value change."""

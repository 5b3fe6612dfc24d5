"""The one class of errors that end a command: the text is a line for the author."""

from __future__ import annotations


class SaidInOneLineError(Exception):
    """Something stands in the way of the whole command. Says what, and what to do."""

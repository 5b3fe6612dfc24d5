"""One room an output; each has `output.py` and its own pieces."""

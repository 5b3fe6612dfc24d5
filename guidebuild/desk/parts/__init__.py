"""The parts of the desk, a module each; `table.py` lists them."""

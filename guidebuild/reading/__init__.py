"""Files of a guide → a Guide and findings. Every value remembers its file, line and column."""

"""What tells taxa apart: separation, comparison, shortest diagnoses, keys and the finder's table."""

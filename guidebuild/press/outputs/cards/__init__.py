"""Cards and all that is printed beside them."""

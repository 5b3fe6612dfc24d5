"""What is out, where and when, from what the author states and from what was really seen; and never a leak."""

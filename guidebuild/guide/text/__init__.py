"""Text that an author typed: what it says as plain words, to the ear, and which links and notes stand in it."""

"""Tables and archives for others to use."""

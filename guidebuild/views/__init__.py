"""What each output shows, as plain frozen data: no HTML, no files, nothing looked up later."""

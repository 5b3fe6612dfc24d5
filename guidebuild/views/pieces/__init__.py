"""What several outputs show alike."""

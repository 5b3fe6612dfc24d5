"""What episode scripts say and show."""

"""What each page of the site shows."""

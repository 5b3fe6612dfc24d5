"""What the preview adds to each page it serves: a script that follows edits, and the look of its list of findings."""

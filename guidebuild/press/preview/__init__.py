"""Pages that follow an author's edits."""

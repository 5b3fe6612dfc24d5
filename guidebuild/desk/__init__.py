"""The author's page: it reads and writes the guide's own files."""

"""What a guide says: frozen values, no files, no HTML. Every other room starts from these."""

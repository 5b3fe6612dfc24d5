"""Templates, typefaces and authors' prose as safe HTML."""

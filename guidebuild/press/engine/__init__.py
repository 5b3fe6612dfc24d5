"""What publishing stands on: digests, the store, the crew of processes, and putting files in place at once."""

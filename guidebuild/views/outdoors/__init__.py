"""What is out, walks and field lists as shown."""

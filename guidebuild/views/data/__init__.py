"""What tables and archives hold."""

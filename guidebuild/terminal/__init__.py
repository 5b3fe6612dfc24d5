"""What is printed on a terminal: tables that line up, colours only where they help, plain when piped."""

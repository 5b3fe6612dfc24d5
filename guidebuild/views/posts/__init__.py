"""What posts and the plan of weeks show."""

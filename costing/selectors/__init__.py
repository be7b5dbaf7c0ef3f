"""Questions to the database: every one names the kitchen it asks about."""

"""What will not work, and what to change."""

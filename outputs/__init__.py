"""What comes out: commands, files, and reading them back."""

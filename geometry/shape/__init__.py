"""What is where: the layout of every part, as numbers and outlines."""

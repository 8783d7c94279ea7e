"""What it becomes: the layout, what is judged about it, and its solids."""

"""The command ``new``: the talk at the terminal, and the build file that comes of it."""

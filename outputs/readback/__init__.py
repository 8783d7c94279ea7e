"""One reader for each kind of file; it knows nothing of the writers."""

"""Parts: what must be ordered, by when."""

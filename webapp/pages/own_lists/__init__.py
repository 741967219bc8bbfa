"""Starter lists of one's own: made of a build, shown, named, taken out and put back."""

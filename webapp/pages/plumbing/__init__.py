"""Plumbing: circuits with what they still need, runs, the buy list, the shelf."""

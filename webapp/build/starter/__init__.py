"""Starter lists: whole lists of tasks that questions fit to one build, now and again later."""

"""Photographs of tasks: added, looked at, captioned, removed."""

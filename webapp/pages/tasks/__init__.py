"""Tasks: entering many, editing one, and its job card."""

"""What is said of the plumbing of a build."""

PLUMBING_STAYS = "What is plumbed in it stays in the document alone: keep that."
"""After a document is stored: the data file has no place for plumbing."""

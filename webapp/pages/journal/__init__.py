"""The journal of a build: every change as a sentence, and taking changes back."""

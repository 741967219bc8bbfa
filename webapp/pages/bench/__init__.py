"""The Bench: what to do now."""

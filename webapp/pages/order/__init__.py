"""The job order: what comes after what, and why."""

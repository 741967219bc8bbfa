"""First start: what stands between a build and the key, the day itself, and its sheet."""

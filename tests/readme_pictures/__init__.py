"""The pictures of the README, made from the running program: `python -m tests.readme_pictures`."""

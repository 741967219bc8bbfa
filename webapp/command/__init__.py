"""What each command does; `webapp.__main__` reads the command line and calls it."""

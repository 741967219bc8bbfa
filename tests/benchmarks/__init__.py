"""How fast the program is: `python -m tests.benchmarks` prints a table and asserts nothing."""

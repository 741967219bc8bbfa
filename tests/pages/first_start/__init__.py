"""The pages of First start, and the ways in which they could hurt somebody."""

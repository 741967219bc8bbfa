"""The shop: when it is open, who works in it and what can be got out."""

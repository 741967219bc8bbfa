"""A report of the whole build in one file: for a buyer, an inspector, a friend."""

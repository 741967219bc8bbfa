"""The list of builds: entering, importing, exporting and deleting them."""

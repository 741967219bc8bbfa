"""A year of two builds: lived by the program's own services, then measured as it is served."""

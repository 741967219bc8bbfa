"""Lists from a spreadsheet: pasted or uploaded, columns assigned, looked at, taken whole."""

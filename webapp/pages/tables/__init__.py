"""The tables of a build as CSV files, for a spreadsheet."""

"""The path to first start: what decides the date."""

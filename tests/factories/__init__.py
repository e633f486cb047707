"""Plain makers of rows for tests, one file for each models file."""

"""Lists brought in from files: read, checked row by row, shown, and only then saved. Plain Python."""

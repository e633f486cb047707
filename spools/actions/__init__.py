"""What the shop does, one deed a file; pages, API, commands and tasks all call these."""

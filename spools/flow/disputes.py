"""The words by which the holds are known that wait for the foreman to sort something out."""

TOLD_TWICE = "told twice"
DOUBTFUL = "doubtful reading"

"""What everybody may ask the foreman for, by the deed that it would be."""

WANTS: dict[str, str] = {
    "held": "put it on hold",
    "rushed": "rush it",
    "put_on_bench": "put it on another bench",
    "rejected": "look at it and reject it",
    "scrapped": "scrap it",
}

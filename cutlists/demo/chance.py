"""The demo's dice: the same names give the same throws on every machine."""

import random


def dice(*names: object) -> random.Random:
    """Return a generator that depends on its names alone.

    >>> dice("tie-in", 214).random() == dice("tie-in", 214).random()
    True
    """
    return random.Random("|".join(map(str, names)))  # noqa: S311  seeded so that the demo is the same every time

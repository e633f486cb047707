"""What is said when a length can't be read for sure."""


class LengthError(ValueError):
    """A length that has no value or more than one; the message shows two right ways to write it."""

"""What the shop refuses, in words: a code for programs, what is wrong, and what to do about it."""

from dataclasses import dataclass, field
from typing import Any


@dataclass
class ShopError(Exception):
    """A refusal that a person reads. ``status`` is the HTTP answer; ``facts`` what a page needs to offer a way out."""

    code: str
    words: str
    what_to_do: str
    status: int = 409
    fields: dict[str, str] = field(default_factory=dict)
    facts: dict[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"{self.words} {self.what_to_do}".strip()


def not_found(what: str) -> ShopError:
    """Nothing of that name in this person's shop; the same answer whether it exists elsewhere or not."""
    return ShopError("not_found", f"There is no {what} here.", "Check the mark, or ask the foreman.", status=404)


def no_shop() -> ShopError:
    """The person belongs to no shop yet: such a one may only keep the tables."""
    return ShopError("no_shop", "You belong to no shop yet.", "Ask the office to put you in one.", status=403)


def not_your_role(deed: str, who: str) -> ShopError:
    """The person's roles don't allow this."""
    return ShopError("not_your_role", f"“{deed}” is for the {who}.", "Ask one of them to do it.", status=403)


def key_reused() -> ShopError:
    """A caller's key came back with other content."""
    return ShopError(
        "key_reused",
        "This key was already used for something else.",
        "Load the page again and repeat the tap.",
        status=422,
    )


def invalid(fields: dict[str, str], words: str = "Some figures can't be used yet.") -> ShopError:
    """Fields that must be mended; nothing was saved."""
    return ShopError("invalid", words, "Mend the marked fields and send again.", status=422, fields=fields)


def busy() -> ShopError:
    """Two people collided three times in a row, or the database is coming back up."""
    return ShopError("busy", "Somebody else was at the same spool.", "Tap once more; nothing was saved.", status=503)

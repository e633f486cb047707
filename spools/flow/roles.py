"""Who works here, by what they do; a person may hold several roles."""

from enum import StrEnum


class Role(StrEnum):
    """A job in the shop; the value is what is stored."""

    FOREMAN = "foreman"
    CUTTER = "cutter"
    FITTER = "fitter"
    FIELD = "field"
    DRIVER = "driver"
    MANAGER = "manager"
    TABLET = "tablet"  # the shared tablet's own account: it shows, but only somebody signed on at it records


WORDS: dict[Role, str] = {
    Role.FOREMAN: "Foreman",
    Role.CUTTER: "Cutter",
    Role.FITTER: "Fitter / welder",
    Role.FIELD: "Field",
    Role.DRIVER: "Driver",
    Role.MANAGER: "Project manager",
    Role.TABLET: "Shared tablet",
}

EVERYONE = frozenset(Role)


def say_roles(roles: frozenset[Role]) -> str:
    """Return roles as words for a message: ``foreman or fitter / welder``."""
    return " or ".join(WORDS[role].lower() for role in Role if role in roles)

"""One request worked through: what is built, and everything else that was asked of it."""

from typing import Any

from geometry.request import RequestError, open_request
from geometry.worked.grade import grade_worked
from geometry.worked.result import Worked
from geometry.worked.rolling_offset import rolling_worked
from geometry.worked.saddle import saddle_worked
from geometry.worked.survey import survey_worked
from geometry.worked.tie_in import tie_in_worked
from geometry.worked.whole_spool import whole_spool_worked

__all__ = ["Worked", "work"]

WAYS = (
    ("survey", survey_worked),
    ("line", whole_spool_worked),
    ("readings", tie_in_worked),
    ("saddle", saddle_worked),
    ("rolling", rolling_worked),
    ("grade", grade_worked),
)
"""What can give the legs, and what works each through."""


def work(values: dict[str, Any]) -> Worked:
    """Work one request through.

    Raises:
        RequestError: a field is missing, of another type, or names what doesn't exist; the message is one line.

    """
    fields = open_request(values)
    given = [(key, worked) for key, worked in WAYS if fields.has(key)]
    if len(given) == 1:
        return given[0][1](fields)
    raise RequestError(
        'Give one of these: "readings" of the jig, "survey" shots, the "line" of a spool, a "saddle", '
        'a "rolling" offset, a "grade".'
    )

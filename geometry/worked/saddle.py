"""A branch on a main by itself: its wrap and the main's hole."""

from geometry.answer import finding_values, wrap_values
from geometry.explain_more import wrap_lines
from geometry.piece_wraps import PieceWrap, saddle_of
from geometry.request import Fields, asked_graduation, asked_layout, asked_pipe, on_main, unread_keys
from geometry.worked.result import Worked
from geometry.wraps import hole_layout, saddle_wrap


def saddle_worked(fields: Fields) -> Worked:
    """Work a branch on a main through by itself: its wrap and the main's hole.

    Raises:
        RequestError: a field is missing or wrong.
        WrapError: the branch can't be saddled on this main.

    """
    asked = fields.part("saddle")
    on = on_main(asked.part("main"))
    saddle = saddle_of(asked_pipe(fields), on)
    layout, graduation = asked_layout(fields), asked_graduation(fields)
    wraps = (PieceWrap(mark="branch", at="main", wrap=saddle_wrap(saddle, layout), hole=hole_layout(saddle, layout)),)
    values = {"wraps": wrap_values(wraps), "findings": [finding_values(one) for one in unread_keys(fields)]}
    return Worked(values=values, lines=wrap_lines(wraps, graduation), built=True)

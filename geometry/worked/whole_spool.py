"""A whole spool on a given center line, worked through."""

from geometry.build import build_chain
from geometry.explain_chain import explain_chain
from geometry.findings import Finding
from geometry.request import Fields, chain, unread_keys
from geometry.spool import ChainRequest
from geometry.worked.result import Worked, answer_values, as_checked, asked_for


def whole_spool_worked(fields: Fields) -> Worked:
    """Work a spool on a given center line through.

    Raises:
        RequestError: a field is missing or wrong.

    """
    request, found = chain(fields)
    return chain_worked(fields, request, found)


def chain_worked(
    fields: Fields, request: ChainRequest, found: tuple[Finding, ...], *, before: tuple[str, ...] = ()
) -> Worked:
    """Build a whole spool and answer with it; ``before`` is the working that led to its center line."""
    answer = build_chain(request)
    extras, more = asked_for(fields, request, answer)
    answer = as_checked(answer, (*found, *answer.findings, *unread_keys(fields)))
    values = answer_values(answer, request, extras)
    return Worked(values, (*before, *explain_chain(request, answer), *more), answer.buildable)

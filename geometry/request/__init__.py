"""JSON or CSV to requests: the command line's way in."""

from geometry.request.choices import asked_bend, asked_end, asked_layout, asked_pipe, on_main
from geometry.request.fields import Fields, RequestError
from geometry.request.measured import check_input, fit_input
from geometry.request.shots import asked_shots, shots_csv
from geometry.request.source import csv_requests, json_request
from geometry.request.tie_in import (
    TieIn,
    asked_bends,
    asked_graduation,
    chain,
    chain_on,
    open_request,
    spool_on_legs,
    tie_in,
    unread_keys,
)

__all__ = [
    "Fields",
    "RequestError",
    "TieIn",
    "asked_bend",
    "asked_bends",
    "asked_end",
    "asked_graduation",
    "asked_layout",
    "asked_pipe",
    "asked_shots",
    "chain",
    "chain_on",
    "check_input",
    "csv_requests",
    "fit_input",
    "json_request",
    "on_main",
    "open_request",
    "shots_csv",
    "spool_on_legs",
    "tie_in",
    "unread_keys",
]

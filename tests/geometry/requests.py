"""Requests of the command line, and a way to run it as a person does."""

import copy
import io
import json
import sys

from geometry.__main__ import main

REQUEST = {
    "pipe": {"nps": "4", "schedule": "40"},
    "readings": {
        "leg_a": "3' 4-5/16\"",
        "leg_b": "27 7/8",
        "included_angle": 142,
        "burn": "4",
        "set_point": "4",
        "closing": "5' 4-5/8\"",
    },
    "bend": {"kind": "trimmed_elbow", "radius": "long"},
    "ends": {
        "a": {"prep": "grooved", "measured_to": "pipe_end"},
        "b": {"prep": "beveled", "measured_to": "pipe_end"},
    },
    "root_gap": "3/32",
}


def request(**changed):
    """Return the request with some values changed: ``readings__leg_a="30"``; None takes one out."""
    values = copy.deepcopy(REQUEST)
    for path, value in changed.items():
        *way, last = path.split("__")
        part = values
        for name in way:
            part = part.setdefault(name, {})
        if value is None:
            part.pop(last, None)
        else:
            part[last] = value
    return values


class Said:
    """What one run printed: exit code, standard output, standard error, and the JSON in it."""

    def __init__(self, code, out, err):
        self.code, self.out, self.err = code, out, err

    @property
    def answer(self):
        """The answer as JSON."""
        return json.loads(self.out)

    @property
    def codes(self):
        """The codes of the findings."""
        return [finding["code"] for finding in self.answer["findings"]]


def run(asked, *arguments, monkeypatch, capsys):
    """Run the command in this process on a request, some text or some bytes."""
    raw = json.dumps(asked).encode() if isinstance(asked, dict) else asked.encode() if isinstance(asked, str) else asked
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw)))
    try:
        code = main(arguments)
    except SystemExit as left:
        code = left.code
    told = capsys.readouterr()
    return Said(code, told.out, told.err)

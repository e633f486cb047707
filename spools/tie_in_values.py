"""A tie-in as it is to be added, before it is one."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTieIn:
    """A tie-in as it is to be measured and built."""

    mark: str
    station_mm: float
    side: str
    nps: str
    schedule: str = "40"
    material: str = "A53 B"
    end_a: str = "beveled"
    end_b: str = "grooved"
    measured_to_a: str = "pipe_end"
    measured_to_b: str = "pipe_end"
    bend_kind: str = "trimmed_elbow"
    bend_options: dict[str, Any] = field(default_factory=dict)
    design_included_deg: float | None = None
    needed_on: date | None = None
    note: str = ""

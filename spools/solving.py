"""From what was typed at a tie-in to legs, checks and a spool that can be built."""

from dataclasses import dataclass, replace
from typing import Any

from geometry.adjust import CheckError, CheckInput
from geometry.bends.base import BendChoice
from geometry.build import ChainRequest, SpoolAnswer, SpoolRequest, build, build_chain
from geometry.checks import CheckReport, check_reading
from geometry.ends.base import EndChoice, OnMain
from geometry.findings import Finding, error, has_errors, warning
from geometry.jig import Jig as JigRange
from geometry.jig import SideReading, legs_of
from geometry.spool import BuildRequest
from geometry.tables import UnknownPipe, pipe
from geometry.tables.odd_sizes import is_odd
from spools.errors import invalid
from spools.laid_out import LaidOut, two_bends_finding
from spools.models import SetPoints, TieIn
from spools.say_lengths import job_graduation
from spools.typed_fields import TypedFields

ENGINE = "geometry 1"
# The full check says these with the likely mistake; the build's own short form of them is left out.
SAID_BY_THE_CHECK = frozenset({"check_missing", "does_not_close", "over_spool_tolerance"})
# Nothing is built on these without somebody's decision, although the numbers agree with each other.
NEEDS_A_DECISION = frozenset({"over_spool_tolerance", "jig_out_of_check", "differs", "odd_size"})
# Specifications of plain carbon steel pipe as shops write them; anything else is asked about.
SADDLE = "saddle"
CARBON_STEEL = ("A53", "A106", "API 5L", "A135", "A795")


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What a person typed; burns left empty mean the jig's usual one."""

    leg_a: str
    leg_b: str
    included: str
    burn_a: str = ""
    burn_b: str = ""
    closing: str = ""
    d: str = ""
    e: str = ""
    measured_to_a: str = ""
    measured_to_b: str = ""
    hand: str = ""
    up_mark: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedOfTwoBends(Typed):
    """What a survey's two bends are typed as: the outer legs and the first included angle, the whole line beside."""

    line: LaidOut


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """The typed reading as numbers, in mm and degrees; legs from the pivot center.

    With ``line``, two bends from a survey: then the legs are its outer ones and the included angle that of the first.
    """

    leg_a_mm: float
    leg_b_mm: float
    included_deg: float
    burn_a_mm: float
    burn_b_mm: float
    closing_mm: float | None
    d_mm: float | None
    e_mm: float | None
    findings: tuple[Finding, ...]
    line: LaidOut | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What the checks and the make-up say about a reading."""

    report: CheckReport | None
    request: SpoolRequest | ChainRequest | None
    answer: SpoolAnswer | None
    findings: tuple[Finding, ...]

    @property
    def closes(self) -> bool:
        """Whether the reading may become a spool without anybody's decision."""
        return bool(
            self.report
            and self.report.checked
            and self.report.closes
            and not any(f.code in NEEDS_A_DECISION for f in self.findings)
            and self.answer
            and self.answer.buildable
            and not has_errors(self.findings)
        )

    @property
    def trouble(self) -> str:
        """The first thing in words that keeps it from being built; empty where nothing does."""
        return next((f.text for f in self.findings if f.level == "error"), "")

    def with_findings(self, *more: Finding) -> "Judged":
        """Return the same judgement with what else was found."""
        return replace(self, findings=_once([*self.findings, *more])) if more else self

    @property
    def buildable(self) -> bool:
        """Whether a spool could be built at all, should somebody release it."""
        return bool(self.answer and self.answer.buildable)


def understand(typed: Typed, *, units: str, set_points: SetPoints) -> Understood:
    """Return the numbers of a typed reading.

    Raises ``ShopError`` ``invalid`` naming every field that can't be read, each with two right ways to write it.
    """
    fields = TypedFields(units)
    leg_a = fields.needed("leg_a", typed.leg_a, "Read leg A on the tape at the jig, such as 3' 4-5/16\" or 40-5/16.")
    leg_b = fields.needed("leg_b", typed.leg_b, "Read leg B on the tape at the jig, such as 2' 3-7/8\" or 27-7/8.")
    usual = set_points.usual_burn
    burn_a = fields.needed("burn_a", typed.burn_a or usual, "Write the tape mark held at the set point, such as 4.")
    burn_b = fields.needed("burn_b", typed.burn_b or usual, "Write the tape mark held at the set point, such as 4.")
    closing, d, e = (fields.optional(name, getattr(typed, name)) for name in ("closing", "d", "e"))
    included = fields.included(typed.included)
    if fields.trouble:
        raise invalid(fields.trouble)
    legs = legs_of(
        SideReading(reading_mm=leg_a, burn_mm=burn_a, set_point_mm=set_points.set_point_a_mm),
        SideReading(reading_mm=leg_b, burn_mm=burn_b, set_point_mm=set_points.set_point_b_mm),
        included_deg=included + set_points.included_offset_deg,
        jig=JigRange(
            least_included_deg=set_points.included_min_deg,
            most_included_deg=set_points.included_max_deg,
            least_leg_mm=set_points.leg_min_mm,
            most_leg_mm=set_points.leg_max_mm,
        ),
    )
    return Understood(
        leg_a_mm=legs.leg_a_mm,
        leg_b_mm=legs.leg_b_mm,
        included_deg=legs.included_deg,
        burn_a_mm=burn_a,
        burn_b_mm=burn_b,
        closing_mm=closing,
        d_mm=d,
        e_mm=e,
        findings=legs.findings,
        line=typed.line if isinstance(typed, TypedOfTwoBends) else None,
    )


def judge(tie_in: TieIn, understood: Understood, *, set_points: SetPoints, ends: tuple[str, str]) -> Judged:
    """Check a reading and make it up; ``ends`` are what legs A and B were measured to."""
    findings = list(understood.findings)
    if understood.line:
        findings.append(two_bends_finding(understood.line, tie_in.job.units))
    report = None if understood.line else _checked(understood, set_points, findings)
    request = None if has_errors(understood.findings) else _asked(tie_in, understood, ends, findings)
    answer = _built(request, findings) if request else None
    if request and is_odd(tie_in.nps):
        text = f"Odd size: {request.pipe.name} stands in no pipe table. It waits for the foreman's yes."
        findings.insert(0, warning("odd_size", text))
    return Judged(report=report, request=request, answer=answer, findings=_once(findings))


def request_for(tie_in: TieIn, understood: Understood, ends: tuple[str, str]) -> SpoolRequest | ChainRequest:
    """Return the geometry's request for one tie-in. Raises ``UnknownPipe``."""
    asked = asked_of(tie_in, ends)
    if understood.line:
        return ChainRequest(**asked.shared(), line=understood.line.line, bends=understood.line.bends)
    return SpoolRequest(
        **asked.shared(),
        leg_a_mm=understood.leg_a_mm,
        leg_b_mm=understood.leg_b_mm,
        included_deg=understood.included_deg,
        bend=bend_of(tie_in),
    )


def bend_of(tie_in: TieIn) -> BendChoice:
    """Return how a tie-in's turns are made."""
    options: dict[str, Any] = tie_in.bend_options or {}
    return BendChoice(kind=tie_in.bend_kind, **options)


def asked_of(tie_in: TieIn, ends: tuple[str, str]) -> BuildRequest:
    """Return what is asked of a tie-in's spool whatever its legs: pipe, ends, gap. Raises ``UnknownPipe``."""
    return BuildRequest(
        pipe=pipe(tie_in.nps, tie_in.schedule),
        end_a=_end(tie_in, "a", ends[0]),
        end_b=_end(tie_in, "b", ends[1]),
        root_gap_mm=tie_in.job.root_gap_mm,
        graduation=job_graduation(tie_in.job.units, tie_in.job.graduation),
        material="carbon steel" if tie_in.material.startswith(CARBON_STEEL) else tie_in.material,
    )


# What the flange, coupling or fitting that was bought has, where the tables don't say it.
BOUGHT = ("flange_class", "flange_length_mm", "flange_setback_mm", "coupling_gap_mm", "fitting_face_mm")


def _end(tie_in: TieIn, side: str, measured_to: str) -> EndChoice:
    """Return one end with what was said of it. A saddle sits on the tie-in's main, at the angle that was given."""
    prep: str = getattr(tie_in, f"end_{side}")
    said = tie_in.end_options.get(side, {})
    on_main = None
    if prep == SADDLE and "included_deg" in said:
        main = pipe(tie_in.main.nps, tie_in.main.schedule)
        on_main = OnMain(
            od_mm=main.od_mm,
            wall_mm=main.wall_mm,
            included_deg=said["included_deg"],
            offset_mm=said.get("offset_mm", 0.0),
            seat=said.get("seat", "set-on"),
        )
    return EndChoice(
        prep=prep,
        measured_to=measured_to,
        coupling=said.get("coupling"),
        field_trim_mm=said.get("field_trim_mm", 0.0),
        on_main=on_main,
        **{name: said[name] for name in BOUGHT if name in said},
    )


def _checked(understood: Understood, set_points: SetPoints, findings: list[Finding]) -> CheckReport | None:
    try:
        report = check_reading(
            CheckInput(
                leg_a_mm=understood.leg_a_mm,
                leg_b_mm=understood.leg_b_mm,
                included_deg=understood.included_deg,
                closing_mm=understood.closing_mm,
                mark_to_end_b_mm=understood.d_mm,
                back_mark_to_end_b_mm=understood.e_mm,
                burn_a_mm=understood.burn_a_mm,
                burn_b_mm=understood.burn_b_mm,
                set_point_a_mm=set_points.set_point_a_mm,
                set_point_b_mm=set_points.set_point_b_mm,
            )
        )
    except CheckError as refusal:
        findings.append(error("cannot_check", str(refusal)))
        return None
    findings.extend(report.findings)
    return report


def _asked(
    tie_in: TieIn, understood: Understood, ends: tuple[str, str], findings: list[Finding]
) -> SpoolRequest | ChainRequest | None:
    try:
        return request_for(tie_in, understood, ends)
    except UnknownPipe as refusal:
        findings.append(error("unknown_pipe", str(refusal)))
        return None


def _built(request: SpoolRequest | ChainRequest, findings: list[Finding]) -> SpoolAnswer:
    answer = build(request) if isinstance(request, SpoolRequest) else build_chain(request)
    findings.extend(f for f in answer.findings if f.code not in SAID_BY_THE_CHECK)
    return answer


def _once(findings: list[Finding]) -> tuple[Finding, ...]:
    seen: dict[str, Finding] = {}
    for finding in findings:
        seen.setdefault(f"{finding.code}:{finding.text}", finding)
    order = {"error": 0, "warning": 1, "caution": 2}
    return tuple(sorted(seen.values(), key=lambda finding: order[finding.level]))

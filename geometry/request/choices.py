"""What a request chooses: pipe, make-ups and ends."""

from geometry.bends import MAKE_UPS, BendChoice
from geometry.ends import END_PREPS, MEASURED_TO, EndChoice, OnMain
from geometry.request.fields import Fields, RequestError
from geometry.tables import PipeRow, UnknownPipe, pipe
from geometry.wraps import Layout, WrapError


def asked_pipe(fields: Fields) -> PipeRow:
    """Return the pipe that a request names by size and schedule.

    Raises:
        RequestError: no such size or schedule.

    """
    asked = fields.part("pipe")
    try:
        return pipe(asked.text("nps"), asked.text("schedule"))
    except UnknownPipe as unknown:
        raise RequestError(f"pipe: {unknown}") from unknown


def asked_bend(asked: Fields) -> BendChoice:
    """Return the make-up of one turn; a trimmed long radius elbow where nothing is said.

    Raises:
        RequestError: a field is of another type or names what doesn't exist.

    """
    source = asked.one_of("source", ("90", "180"), "") if asked.has("source") else None
    return BendChoice(
        kind=asked.one_of("kind", tuple(kind.code for kind in MAKE_UPS), "trimmed_elbow"),
        radius="short" if asked.one_of("radius", ("long", "short"), "long") == "short" else "long",
        welds=asked.whole("welds", 1),
        bend_radius_mm=asked.length_or_none("bend_radius"),
        source=None if source is None else "90" if source == "90" else "180",
        miters_allowed=asked.flag("miters_allowed"),
    )


def asked_end(asked: Fields) -> EndChoice:
    """Return one end; what it is measured to is never assumed, so leaving it out becomes a finding.

    Raises:
        RequestError: a field is missing, of another type or names what doesn't exist.

    """
    coupling = asked.one_of("coupling", ("flexible", "rigid"), "") if asked.has("coupling") else None
    return EndChoice(
        prep=asked.one_of("prep", tuple(prep.code for prep in END_PREPS)),
        measured_to=asked.one_of("measured_to", MEASURED_TO) if asked.has("measured_to") else "",
        field_trim_mm=asked.length_or_none("field_trim") or 0.0,
        coupling=None if coupling is None else "rigid" if coupling == "rigid" else "flexible",
        coupling_gap_mm=asked.length_or_none("coupling_gap"),
        groover_straight_mm=asked.length_or_none("groover_straight"),
        flange_length_mm=asked.length_or_none("flange_length"),
        flange_setback_mm=asked.length_or_none("flange_setback"),
        flange_class=asked.text("flange_class", "150"),
        root_gap_mm=asked.length_or_none("root_gap"),
        fitting_face_mm=asked.length_or_none("fitting_face"),
        engagement_mm=asked.length_or_none("engagement"),
        root_process="GTAW" if asked.one_of("root_process", ("SMAW", "GTAW"), "SMAW") == "GTAW" else "SMAW",
        on_main=on_main(asked.part("on_main")) if asked.has("on_main") else None,
    )


def on_main(asked: Fields) -> OnMain:
    """Return the main under a saddle: by ``od`` and ``wall``, or by ``nps`` and ``schedule``.

    Raises:
        RequestError: a field is missing or wrong.

    """
    if asked.has("nps"):
        try:
            row = pipe(asked.text("nps"), asked.text("schedule"))
        except UnknownPipe as unknown:
            raise asked.wrong("nps", str(unknown)) from unknown
        od_mm, wall_mm = row.od_mm, row.wall_mm
    else:
        od_mm, wall_mm = asked.length_mm("od"), asked.length_mm("wall")
    included_deg = asked.degrees_or_none("included_angle")
    edge = asked.one_of("edge", ("torch square", "inside", "outside"), "torch square")
    return OnMain(
        od_mm=od_mm,
        wall_mm=wall_mm,
        included_deg=90.0 if included_deg is None else included_deg,
        offset_mm=asked.length_or_none("offset") or 0.0,
        seat="set-in" if asked.one_of("seat", ("set-on", "set-in"), "set-on") == "set-in" else "set-on",
        edge="inside" if edge == "inside" else "outside" if edge == "outside" else "torch square",
    )


def asked_layout(fields: Fields) -> Layout:
    """Return how wraps are laid out: ``lines`` or ``every_deg``, the curve's ``points`` and the ``sheet``.

    Raises:
        RequestError: a field is of another type, or can't be laid out.

    """
    asked = fields.part("wraps")
    every_deg = asked.whole("every_deg", 0)
    try:
        return Layout(
            lines=asked.whole("lines", 16),
            every_deg=every_deg or None,
            points=asked.whole("points", 256),
            sheet_mm=asked.length_or_none("sheet") or 0.0,
        )
    except WrapError as refused:
        raise RequestError(f"wraps: {refused}") from refused

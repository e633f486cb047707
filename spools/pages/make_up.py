"""How a tie-in is made: its turn among the ways that can be built, its ends, and what the ends need to know."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from geometry.angles import AngleError, parse_angle
from geometry.bends import MAKE_UPS
from geometry.ends import END_PREPS
from spools.actions.change_make_up import WHO, MakeUp, change_make_up
from spools.errors import ShopError
from spools.models import TieIn
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.queries.field import one_tie_in
from spools.queries.ways_to_make import WaysToMake, WayToMake, ways_to_make
from spools.say_lengths import say_length
from spools.typed_fields import TypedFields

AS_IT_IS = "as it is"
BENT = "bent pipe"
SEATS = (("set-on", "set-on: the branch sits on the main"), ("set-in", "set-in: the branch goes into the main"))
LENGTHS = ("radius", "offset", "trim_a", "trim_b", "own_a", "own_b")
SIDES = (("left", "to the left"), ("right", "to the right"))
FLANGE_CLASSES = ("150", "300", "400", "600", "900", "1500", "2500")  # ASME B16.5
OWN_MEASURE = {
    "flanged_weld_neck": "flange_length_mm",
    "flanged_slip_on": "flange_setback_mm",
    "grooved": "coupling_gap_mm",
    "threaded": "fitting_face_mm",
}
OWN_WORDS = (
    "From the sheet of what was bought. Weld-neck flange: face to bevel. Slip-on: pipe end from its face. Coupling: "
    "gap between the pipes. Threaded fitting: center to face. Empty: the tables'."
)
COUPLINGS = (("", "not said"), ("flexible", "flexible"), ("rigid", "rigid"))


class MakeUpForm(forms.Form):
    """The turn and both ends; lengths in the job's units. ``made`` is what was filled in, for the deed."""

    turn = forms.CharField(label="The turn is made by")
    radius = forms.CharField(label="Bending radius, for bent pipe", max_length=24, required=False)
    end_a = forms.ChoiceField(label="End at the main", choices=lambda: [(e.code, e.word) for e in END_PREPS])
    included = forms.CharField(
        label="Saddle: included angle between branch and main", max_length=12, required=False, help_text="90 is square."
    )
    offset = forms.CharField(label="Saddle: offset from the main's center line", max_length=24, required=False)
    side = forms.ChoiceField(
        label="Saddle: offset to which side",
        choices=SIDES,
        required=False,
        help_text="Facing along the main with that included angle in front of you, the branch up.",
    )
    seat = forms.ChoiceField(label="Saddle: seat", choices=SEATS, required=False)
    coupling_a = forms.ChoiceField(label="Coupling at the main", choices=COUPLINGS, required=False)
    class_a = forms.ChoiceField(
        label="Flange at the main: class", choices=[(one, one) for one in FLANGE_CLASSES], required=False
    )
    own_a = forms.CharField(
        label="Bought for the end at the main: its own measure", max_length=24, required=False, help_text=OWN_WORDS
    )
    trim_a = forms.CharField(label="Left on at the main for field trim", max_length=24, required=False)
    end_b = forms.ChoiceField(label="End at the drain", choices=lambda: [(e.code, e.word) for e in END_PREPS])
    coupling_b = forms.ChoiceField(label="Coupling at the drain", choices=COUPLINGS, required=False)
    class_b = forms.ChoiceField(
        label="Flange at the drain: class", choices=[(one, one) for one in FLANGE_CLASSES], required=False
    )
    own_b = forms.CharField(
        label="Bought for the end at the drain: its own measure", max_length=24, required=False, help_text=OWN_WORDS
    )
    trim_b = forms.CharField(label="Left on at the drain for field trim", max_length=24, required=False)
    reason = forms.CharField(label="Made so, because", max_length=200)

    def __init__(self, *args: Any, ways: WaysToMake, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.ways = ways
        self.made: MakeUp | None = None

    def clean(self) -> dict[str, Any]:
        """Read the typed lengths and angles; each that can't be read is said beside its field."""
        data = super().clean() or {}
        tie_in = self.ways.tie_in
        typed = TypedFields(tie_in.job.units)
        lengths = {name: typed.optional(name, data.get(name, "")) for name in LENGTHS}
        saddle: dict[str, Any] = {}
        if data.get("end_a") == "saddle":
            to_the_left = -1.0 if data.get("side") == "right" else 1.0
            saddle = {
                "offset_mm": to_the_left * (lengths["offset"] or 0.0) or None,
                "seat": data.get("seat") or "set-on",
            }
            if data.get("included", "").strip():
                try:
                    saddle["included_deg"] = parse_angle(data["included"])
                except AngleError as refusal:
                    typed.trouble["included"] = str(refusal)
        bend = self._bend(data.get("turn", ""), lengths["radius"], typed)
        for name, words in typed.trouble.items():
            self.add_error(name, words)
        ends = {
            side: {
                "coupling": data.get(f"coupling_{side}"),
                "field_trim_mm": lengths[f"trim_{side}"],
                **_bought(data, side, lengths[f"own_{side}"]),
            }
            for side in ("a", "b")
        }
        ends["a"] |= saddle
        if bend and not self.errors:
            self.made = MakeUp(
                bend_kind=bend[0],
                bend_options=bend[1],
                end_a=data["end_a"],
                end_b=data["end_b"],
                end_options={side: {k: v for k, v in said.items() if v} for side, said in ends.items()},
            )
        return data

    def _bend(self, turn: str, radius_mm: float | None, typed: TypedFields) -> tuple[str, dict[str, Any]] | None:
        tie_in = self.ways.tie_in
        if turn == AS_IT_IS:
            return tie_in.bend_kind, tie_in.bend_options
        if turn == BENT:
            if radius_mm is None:
                typed.trouble.setdefault("radius", "Type the radius of the bender's die.")
                return None
            return "bent_pipe", {"bend_radius_mm": radius_mm}
        way = next((way for way in offered(self.ways) if way.code == turn), None)
        if way is None:
            typed.trouble["turn"] = "Choose one of the ways shown."
            return None
        return way.kind, way.options


def _bought(data: dict[str, Any], side: str, own_mm: float | None) -> dict[str, Any]:
    """Return what was said of the flange, coupling or fitting of an end; class 150 goes without saying."""
    prep = data.get(f"end_{side}", "")
    said = data.get(f"class_{side}") or "150"
    of_class = {"flange_class": said} if prep.startswith("flanged") and said != "150" else {}
    return of_class | ({OWN_MEASURE[prep]: own_mm} if prep in OWN_MEASURE else {})


def offered(ways: WaysToMake) -> tuple[WayToMake, ...]:
    """Return what can be chosen: the ways that can be built, or before a reading every usual one."""
    if ways.can or ways.tie_in.current_reading_id:
        return tuple(way for way in ways.can if way.kind != "bent_pipe")
    return tuple(WayToMake(one.word, one.code, {}, ()) for one in MAKE_UPS if one.code != "bent_pipe")


def make_up(request: ShopRequest, tie_in_id: int) -> HttpResponse:
    """Show how a tie-in is made and can be made; the foreman changes it."""
    tie_in = one_tie_in(tie_in_id, request.user)
    ways = ways_to_make(tie_in)
    posted = request.method == "POST"
    form = MakeUpForm(request.POST if posted else None, ways=ways, initial=_as_it_is(tie_in))
    status = 422 if posted else 200
    if posted and form.is_valid() and form.made:
        try:
            _, spool = change_make_up(
                tie_in_id=tie_in.id,
                made=form.made,
                person=request.user,
                key=posted_key(request),
                at=timezone.now(),
                reason=form.cleaned_data["reason"],
            )
        except ShopError as trouble:
            for name, words in trouble.fields.items():
                form.add_error(name if name in form.fields else None, words)
            if not trouble.fields:
                form.add_error(None, f"{trouble.words} {trouble.what_to_do}")
            status = trouble.status
        else:
            messages.success(request, f"{tie_in.mark} is made so." + (f" {spool.label} is released." if spool else ""))
            return redirect("spool", spool.id) if spool else redirect("make-up", tie_in.id)
    context = {
        "form": form,
        "ways": ways,
        "offered": offered(ways),
        "tie_in": tie_in,
        "turn": form["turn"].value() or AS_IT_IS,
        "may_change": request.user.may(WHO),
        "key": fresh_key(),
    }
    return render(request, "spools/make_up.html", context, status=status)


def _as_it_is(tie_in: TieIn) -> dict[str, Any]:
    units = tie_in.job.units
    a, b = tie_in.end_options.get("a", {}), tie_in.end_options.get("b", {})
    bent_mm = tie_in.bend_options.get("bend_radius_mm") if tie_in.bend_kind == "bent_pipe" else None

    def said(length_mm: float | None) -> str:
        return say_length(length_mm, units) if length_mm else ""

    return {
        "turn": AS_IT_IS,
        "radius": said(bent_mm),
        "end_a": tie_in.end_a,
        "end_b": tie_in.end_b,
        "included": f"{a['included_deg']:g}" if "included_deg" in a else "",
        "offset": said(abs(a.get("offset_mm", 0.0))),
        "side": "right" if a.get("offset_mm", 0.0) < 0.0 else "left",
        "seat": a.get("seat", "set-on"),
        "coupling_a": a.get("coupling", ""),
        "coupling_b": b.get("coupling", ""),
        "class_a": a.get("flange_class", "150"),
        "class_b": b.get("flange_class", "150"),
        "own_a": said(next((a[one] for one in OWN_MEASURE.values() if one in a), None)),
        "own_b": said(next((b[one] for one in OWN_MEASURE.values() if one in b), None)),
        "trim_a": said(a.get("field_trim_mm")),
        "trim_b": said(b.get("field_trim_mm")),
    }


urlpatterns = [path("tie-ins/<int:tie_in_id>/make-up/", make_up, name="make-up")]

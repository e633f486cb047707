"""The few filters that every template may use: lengths, times and words; no arithmetic, no queries."""

from datetime import datetime

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from geometry.lengths import split_feet_inches
from geometry.tables.odd_sizes import say_pipe, say_size
from spools.flow.steps import BY_CODE, say
from spools.models import Shop
from spools.say_lengths import in_units, say_length, say_station

register = template.Library()


@register.filter
def measure(length_mm: float | None, job_units: str = "us") -> str:
    """A length in the job's units, as text: ``3' 4-5/16"``."""
    return "" if length_mm is None else say_length(length_mm, job_units)


@register.filter
def big_length(length_mm: float | None, job_units: str = "us") -> SafeString | str:
    """A length as a big figure with a stacked fraction."""
    if length_mm is None:
        return ""
    if job_units == "metric":
        return format_html('<span class="len"><b>{}</b> mm</span>', round(length_mm))
    parts = split_feet_inches(length_mm)
    feet = format_html("<b>{}</b> ft ", parts.feet) if parts.feet else ""
    fraction = (
        format_html('<span class="frac"><sup>{}</sup><sub>{}</sub></span>', parts.numerator, parts.denominator)
        if parts.numerator
        else ""
    )
    inches = format_html("<b>{}</b>", parts.inches) if parts.inches or not fraction else ""
    spoken = say_length(length_mm, job_units)
    return format_html('<span class="len" role="img" aria-label="{}">{}{}{} in</span>', spoken, feet, inches, fraction)


@register.filter
def said_in(text: str, job_units: str = "us") -> str:
    """A sentence of the geometry with its lengths as the job reads them."""
    return in_units(text, job_units)


@register.filter
def fine_measure(length_mm: float | None, job_units: str = "us") -> str:
    """A small gap, to 1/32 in or a tenth of a millimeter, as text: ``3/32"``."""
    if length_mm is None:
        return ""
    return f"{length_mm:.1f} mm" if job_units == "metric" else say_length(length_mm, job_units, "1/32")


@register.filter
def off_by(length_mm: float | None, job_units: str = "us") -> str:
    """How far something measured is from what it should be: ``1/16" over``, ``on the mark``."""
    if length_mm is None:
        return ""
    words = fine_measure(abs(length_mm), job_units)
    nothing = fine_measure(0.0, job_units)
    return "on the mark" if words == nothing else f"{words} {'over' if length_mm > 0 else 'under'}"


@register.filter
def station(station_mm: float | None, job_units: str = "us") -> str:
    """A station along the main: ``12+40`` in feet, or meters."""
    return "" if station_mm is None else say_station(station_mm, job_units)


@register.filter
def pipe_called(nps: str, schedule: str = "") -> str:
    """Call a pipe by its name: ``NPS 6 Sch 40``, or by its measures where it has no nominal size."""
    return say_pipe(nps, schedule)


@register.filter
def size_called(nps: str) -> str:
    """Call a size: ``NPS 6``, or ``OD 5.25 in``."""
    return say_size(nps)


@register.filter
def shop_time(at: datetime | None, shop: Shop) -> str:
    """A moment on the shop's own clock: ``Tue 24 Nov 10:42``."""
    return f"{at.astimezone(shop.zone):%a %-d %b %H:%M}" if at else ""


@register.filter
def shop_clock(at: datetime | None, shop: Shop) -> str:
    """A moment on the shop's own clock to the second: ``10:42:07``."""
    return f"{at.astimezone(shop.zone):%H:%M:%S}" if at else ""


@register.filter
def pounds(kg: float | None, job_units: str = "us") -> str:
    """A weight in whole pounds, or kilograms on a metric job."""
    if kg is None:
        return ""
    return f"{kg:.0f} kg" if job_units == "metric" else f"{kg / 0.45359237:.0f} lb"


@register.filter
def word(code: str) -> str:
    """The shop's word for a step or a deed."""
    return say(code) if code else ""


@register.filter
def imperative(code: str) -> str:
    """The step as an order: ``Weld``."""
    return BY_CODE[code].imperative if code in BY_CODE else code

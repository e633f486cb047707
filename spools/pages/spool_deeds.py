"""The deeds beside the route as the spool's page posts them."""

from collections.abc import Callable
from typing import Any

from geometry.lengths import LengthError
from spools.actions.ask_foreman import ask_foreman
from spools.actions.bind_tag import bind_tag
from spools.actions.hold_spool import hold_spool
from spools.actions.let_go import let_go
from spools.actions.old_paper import take_paper_away
from spools.actions.pick_told import pick_told
from spools.actions.put_on_bench import put_on_bench, take_off_bench
from spools.actions.put_weld_down import put_weld_down
from spools.actions.reject_coating import reject_coating
from spools.actions.reject_weld import Found, reject_weld
from spools.actions.report_misfit import report_misfit
from spools.actions.rush_spool import rush_spool, unrush_spool
from spools.actions.say_fit import FITS, say_fit
from spools.actions.scrap_spool import scrap_spool
from spools.actions.weld_again import weld_again
from spools.actions.wrong_cut import wrong_cut
from spools.errors import invalid
from spools.models import Spool
from spools.pages.asking import ShopRequest, posted_number
from spools.recorded import Recorded
from spools.typed_fields import read_length_mm


def reason_of(request: ShopRequest) -> str:
    """Return the reason that was typed."""
    return request.POST.get("reason", "").strip()[:300]


def _found(request: ShopRequest) -> Found:
    joint = request.POST.get("joint", "")
    return Found(joint=posted_number(joint) if joint else None, defect=request.POST.get("defect", "")[:20])


def _real_mm(request: ShopRequest, spool: Spool) -> float | None:
    text = request.POST.get("real", "").strip()[:40]
    if not text:
        return None
    try:
        return read_length_mm(text, spool.tie_in.job.units)
    except LengthError as refusal:
        raise invalid({"real": str(refusal)}, str(refusal)) from refusal


DEEDS: dict[str, Callable[[ShopRequest, Spool, dict[str, Any]], Recorded]] = {
    "held": lambda request, spool, call: hold_spool(
        **call, reason=reason_of(request), owner=request.POST.get("owner", "")[:40]
    ),
    "let_go": lambda request, spool, call: let_go(
        **call, hold=posted_number(request.POST.get("hold", "")), reason=reason_of(request)
    ),
    "told": lambda request, spool, call: pick_told(
        **call, hold=posted_number(request.POST.get("hold", "")), which=request.POST.get("which", "")
    ),
    "paper_gone": lambda request, spool, call: take_paper_away(**call),
    "rushed": lambda request, spool, call: rush_spool(**call, reason=reason_of(request)),
    "unrushed": lambda request, spool, call: unrush_spool(**call),
    "put_on_bench": lambda request, spool, call: put_on_bench(
        **call, bench_id=posted_number(request.POST.get("bench", ""))
    ),
    "taken_off_bench": lambda request, spool, call: take_off_bench(**call),
    "rejected": lambda request, spool, call: reject_weld(
        **call,
        reason=reason_of(request),
        back_to=request.POST.get("back_to", "welded"),
        cause=request.POST.get("cause", "weld")[:20],
        found=_found(request),
    ),
    "weld_again": lambda request, spool, call: weld_again(
        **call, step=request.POST.get("step", "welded"), reason=reason_of(request), found=_found(request)
    ),
    "wrong_cut": lambda request, spool, call: wrong_cut(
        **call, piece=request.POST.get("piece", ""), reason=reason_of(request), real_mm=_real_mm(request, spool)
    ),
    "fits": lambda request, spool, call: say_fit(**call, how=FITS, anyway=True),
    "misfit": lambda request, spool, call: report_misfit(
        **call, how=request.POST.get("how", ""), reason=reason_of(request)
    ),
    "coating_bad": lambda request, spool, call: reject_coating(
        **call, how=request.POST.get("how", ""), defect=request.POST.get("defect", ""), note=reason_of(request)
    ),
    "scrapped": lambda request, spool, call: scrap_spool(**call, reason=reason_of(request)),
    "weld_by": lambda request, spool, call: put_weld_down(
        **call,
        joint=posted_number(request.POST.get("joint", "")),
        welder_id=posted_number(request.POST.get("welder", "")),
        procedure=request.POST.get("procedure", ""),
    ),
    "asked": lambda request, spool, call: ask_foreman(
        **call, wants=request.POST.get("wants", ""), reason=reason_of(request)
    ),
    "tagged": lambda request, spool, call: bind_tag(**call, tag=request.POST.get("tag", "")),
}

"""What the checks and the fit are asked: the reading, how well it was measured, and the joint at end B."""

from geometry.adjust import CheckError, CheckInput
from geometry.allowances import joint_allowance
from geometry.closing import spool_tolerance_mm
from geometry.fit import USUAL_BUILD, BuildSigmas, FitInput
from geometry.instruments import USUAL_SIGMAS, MeasuringSigmas
from geometry.request.fields import Fields, RequestError
from geometry.request.tie_in import TieIn

USUAL_SIGNIFICANCE = 0.01


def check_input(fields: Fields, asked: TieIn) -> CheckInput:
    """Return a tie-in as the checks take it; ``sigmas`` of the request go before the usual ones.

    Raises:
        RequestError: a sigma or a significance that can't be.

    """
    spool, checks = asked.spool, asked.checks
    try:
        return CheckInput(
            leg_a_mm=spool.leg_a_mm,
            leg_b_mm=spool.leg_b_mm,
            included_deg=min(spool.included_deg, 180.0),
            closing_mm=spool.closing_mm,
            mark_to_end_b_mm=checks.d_mm,
            back_mark_to_end_b_mm=checks.e_mm,
            burn_a_mm=asked.a.burn_mm,
            burn_b_mm=asked.b.burn_mm,
            set_point_a_mm=asked.a.set_point_mm,
            set_point_b_mm=asked.b.set_point_mm,
            sigmas=_sigmas(fields.part("sigmas")),
            significance=fields.part("sigmas").number("significance", USUAL_SIGNIFICANCE),
            spool_tolerance_mm=spool_tolerance_mm(spool.pipe.nps),
        )
    except CheckError as refused:
        raise RequestError(f"readings: {refused}") from refused


def fit_input(fields: Fields, asked: TieIn, measured: CheckInput, *, take_off_mm: float) -> FitInput:
    """Return a tie-in as the fit takes it: ``fit`` is true, or says what it is built to and the shop's sigmas.

    Raises:
        RequestError: a field is wrong, or the coupling of a grooved end B isn't named.

    """
    fit = fields.part("fit")
    end_b = asked.spool.end_b
    try:
        allowance = joint_allowance(
            asked.spool.pipe, prep=end_b.prep, coupling=end_b.coupling, field_trim_mm=end_b.field_trim_mm
        )
        build = BuildSigmas(
            jig_play_mm=_or(fit.length_or_none("jig_play"), USUAL_BUILD.jig_play_mm),
            cut_mm=_or(fit.length_or_none("cut"), USUAL_BUILD.cut_mm),
            fit_up_mm=_or(fit.length_or_none("fit_up"), USUAL_BUILD.fit_up_mm),
            fit_up_turn_deg=fit.number("fit_up_turn", USUAL_BUILD.fit_up_turn_deg),
            fitting_turn_deg=fit.number("fitting_turn", USUAL_BUILD.fitting_turn_deg),
        )
        return FitInput(
            measured=measured,
            take_off_mm=take_off_mm,
            allowance=allowance,
            build=build,
            built_to="adjusted"
            if fit.one_of("built_to", ("readings", "adjusted"), "readings") == "adjusted"
            else "readings",
        )
    except RequestError:
        raise
    except ValueError as refused:
        raise RequestError(f"fit: {refused}") from refused


def _sigmas(asked: Fields) -> MeasuringSigmas:
    try:
        return MeasuringSigmas(
            tape_mm=_or(asked.length_or_none("tape"), USUAL_SIGMAS.tape_mm),
            protractor_deg=asked.number("protractor", USUAL_SIGMAS.protractor_deg),
            closing_mm=_or(asked.length_or_none("closing"), USUAL_SIGMAS.closing_mm),
        )
    except ValueError as refused:
        if isinstance(refused, RequestError):
            raise
        raise RequestError(f"sigmas: {refused}") from refused


def _or(given: float | None, usual: float) -> float:
    return usual if given is None else given

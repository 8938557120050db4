"""Has what can't be opened again room for later, by the stricter limit that it gets?

In what is buried, cast in or behind a finished ceiling nothing is put right later without breaking it open. So it gets a limit of its own,
stricter than the code's, and must have room for what comes:

    (1 + s) · Σ (π/4 · OD²)  ≤  f · A

    s    spare, as a share of what lies there, `spare_share`
    OD   outside diameter of each cable, mm: every cable counts
    f    the part of the inside that cables may take in what is closed, `space_factor`
    A    internal area of the compartment, mm²; of a tray or ladder inside width · usable depth

It goes by area for every kind of carrier, whatever the code's own measure is. What is closed is declared, by type, in ``wayroom.toml``:

    [[types]]
    name = "Conduit in slab*"
    access = "closed"       # or "open"

Where that isn't declared, a conduit, tray or ladder of which `installed` is `cast-in` or `ground` counts as closed: a conduit cast in can
be drawn through again, but never enlarged. A trunking that is cast in doesn't, since floor trunking has lids.

Clause: no code has either figure, so both are the project's to give:

    [limits."access.closed"]
    space_factor = 0.35
    spare_share = 0.25
    reason = "the slab isn't opened again"

As long as one of them isn't given the answer is unknown. Only what takes more than `space_factor` without any spare fails all the same.

Worked example. Conduit with a bore of 28.8 mm: A = 651.4 mm². Five cables of 6.6 mm take 5 · π/4 · 6.6² = 171.06 mm²; with 25 % more
213.8 mm², 32.8 %: within a project's 35 %. Six: 205.3 mm², with 25 % more 256.6 mm², 39.4 %: over.

Not asked here: carriers that are declared open; those of which neither `access` nor such an `installed` is declared, however buried they
are; whether a lid can be reached; whether a cable goes in at all, which the rule of fill for its kind asks.
"""

from dataclasses import replace

from pydantic import Field

from checker.model import CarrierKind, LoadedCompartment, Surroundings
from checker.model.texts import percent
from checker.rule import SHARE, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import limit_of
from rules.fill.formula import EXACTLY, needs_of, unsized

ID = "access.closed"
#: Kinds without lids: what surrounds them closes them.
WITHOUT_LIDS = {CarrierKind.CONDUIT, CarrierKind.TRAY, CarrierKind.LADDER}
BUILT_IN = {Surroundings.CAST_IN, Surroundings.GROUND}


class ClosedLimits(Limits):
    """For what can't be opened again. Both are the project's to give.

    ``space_factor``: the part of the inside that cables may take, 0 to 1. ``spare_share``: what is to be free for later, as a share of
    what lies there.
    """

    space_factor: Limit | None = Field(default=None, json_schema_extra=SHARE)
    spare_share: Limit | None = Field(default=None, json_schema_extra={"stricter": "higher", **SHARE})


def _is_closed(subject: LoadedCompartment) -> bool:
    """Declared so; or without lids and declared to be built in."""
    laying = subject.carrier.laying
    if laying.can_be_reopened is not None:
        return not laying.can_be_reopened
    return subject.carrier.kind in WITHOUT_LIDS and laying.installed in BUILT_IN


@rule(id=ID, title="Room in what can't be opened again", asks=_is_closed)
def closed(subject: LoadedCompartment, limits: ClosedLimits) -> Verdict:
    """Fill by area with the spare on top, against the project's limit for what is closed."""
    factor, spare = limits.space_factor, limits.spare_share
    missing = [name for name, limit in (("space_factor", factor), ("spare_share", spare)) if limit is None]
    given = [limit for limit in (factor, spare) if limit is not None]
    blank = Verdict(
        Outcome.UNKNOWN, "", limit=None if factor is None else factor.value, unit="ratio", measure="area",
        basis=given[0].basis.value if given else "", source="; spare: ".join(dict.fromkeys(limit.cited for limit in given)),
        found="{}" if spare is None else f"{{}} with {100 * spare.value:g} % spare",
    )  # fmt: skip
    hint = (
        f'it can\'t be opened again: give {" and ".join(missing)} in wayroom.toml, [limits."{ID}"]' if missing else ""
    )
    lacking = "" if subject.area_mm2 else "no internal size is known"
    lacking = lacking or unsized(subject)
    if lacking or not subject.area_mm2:
        needs = (*needs_of(subject), *((limit_of(ID),) if missing else ()))
        return replace(blank, reason="; ".join(text for text in (lacking, hint) if text), needs=needs)
    occupied = subject.occupied_mm2 or 0.0
    share = 0.0 if spare is None else spare.value
    value = (1.0 + share) * occupied / subject.area_mm2
    more = f", with {100 * share:g} % more {(1.0 + share) * occupied:.1f} mm²" if spare is not None else ""
    is_over = factor is not None and value > factor.value + EXACTLY
    share_told = f"{100 * value:.1f}" if factor is None else percent(value, factor.value, is_over=is_over)
    told = f"{occupied:.1f} mm²{more} of {subject.area_mm2:.1f} mm² is {share_told} %"
    if factor is not None and is_over:
        alone = "" if spare is not None else " without any spare"
        reason = f"{told}, over {100 * factor.value:g} % for what can't be opened again{alone}"
        return replace(blank, outcome=Outcome.FAIL, reason=reason, value=value, at_least=spare is None)
    if missing:
        return replace(blank, reason=f"{told}; {hint}", needs=(limit_of(ID),))
    reason = f"{told}, within {100 * (factor.value if factor is not None else 0.0):g} % for what can't be opened again"
    return replace(blank, outcome=Outcome.PASS, reason=reason, value=value)

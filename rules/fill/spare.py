"""Is there room left for what comes later?

A carrier that is full on the day of handover takes no cable more. So a project may want a share of what lies in each compartment to be
free for later, by the measure that the code itself has for how full it is:

    (1 + s) · value  ≤  limit

    s      spare, as a share of what lies there, `spare_share`
    value  how full it is by the code's rule of fill: of the area, the width or the conduit's term
    limit  that rule's

By area that is (1 + s) · occupied ≤ limit · internal area. It isn't limit · (1 − s), which asks for more. What is over its limit without
any spare fails here, too. The answer says how much could still come, limit / value − 1.

Where the code's rule can't say how full a compartment is this can't be said either, and where it knows only the least that it can be, only
a fail is certain.

Clause: no code asks for it. Practice is 20 to 25 % for trunking and trays at handover and 30 to 40 % for data, so the project gives it:

    [limits."fill.spare"]
    spare_share = 0.20
    reason = "room for a second phase"

Worked example. Trunking of 50 × 50 mm with walls of 1.0 mm, 2304 mm² inside, limit 45 %. Fifteen cables of 7.8 mm take
15 · π/4 · 7.8² = 716.8 mm², 31.1 %; with 25 % more 38.9 %: within, and 44.6 % more could come. Twenty take 41.5 %; with 25 % more
51.8 %: over.

Not asked here: whether the code's limit changes with the number or the sort of cables that come, as those for conduit of NFPA 70 do;
whether what the project waives of the rule of fill leaves room; how many cables of which size could come; carriers whose kind the code
has no rule of fill for.
"""

import math
from dataclasses import replace

from pydantic import Field

from checker.model import FilledCompartment
from checker.model.texts import percent
from checker.rule import ASKED_WITH, SHARE_MORE, Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import limit_of
from rules.fill.formula import EXACTLY


class SpareLimits(Limits):
    """``spare_share``: what is to be free for later, as a share of what lies there, where the project wants it."""

    spare_share: Limit | None = Field(
        default=None, json_schema_extra={"stricter": "higher", **SHARE_MORE, **ASKED_WITH}
    )


@rule(id="fill.spare", title="Room for what comes later")
def spare(subject: FilledCompartment, limits: SpareLimits) -> Verdict:
    """The code's own measure of fill, with the spare on top, against the code's limit."""
    fill, wanted = subject.fill, limits.spare_share
    if wanted is None:
        reason = 'how much is to be free isn\'t given: wayroom.toml, [limits."fill.spare"] spare_share = …'
        return Verdict(Outcome.UNKNOWN, reason, unit="ratio", needs=(limit_of("fill.spare"),))
    value = None if fill.value is None else (1.0 + wanted.value) * fill.value

    def told(outcome: Outcome, reason: str, needs: tuple[str, ...] = ()) -> Verdict:
        return Verdict(
            outcome, reason, None if outcome is Outcome.UNKNOWN else value, fill.limit, unit="ratio", measure=fill.measure,
            basis=wanted.basis.value, source="; spare: ".join(dict.fromkeys(text for text in (fill.source, wanted.cited) if text)),
            at_least=fill.at_least and outcome is Outcome.FAIL, needs=needs, found=f"{{}} with {100 * wanted.value:g} % spare",
        )  # fmt: skip

    if fill.is_within and fill.value == 0.0 and not fill.at_least:
        return told(Outcome.PASS, "nothing takes room in it")
    if fill.is_within is None or (fill.is_within and (value is None or fill.limit is None)):
        return told(Outcome.UNKNOWN, f"how full it is isn't known: {fill.reason}", fill.needs)
    now, limit, later = fill.value or 0.0, fill.limit or 0.0, value or 0.0
    if not fill.is_within:
        verdict = told(Outcome.FAIL, f"over without any spare: {fill.reason}")
        # what isn't over by its figure, as a cable that is too thick, has no figure for a title
        return verdict if later > limit + EXACTLY else replace(verdict, found="over without any spare")
    is_over = later > limit + EXACTLY
    now_told, later_told = percent(now, limit, is_over=False), percent(later, limit, is_over=is_over)
    figures = f"{now_told} % and {100 * wanted.value:g} % of that more are {later_told} %"
    if is_over and fill.needs:
        return told(
            Outcome.UNKNOWN, f"{figures}, over {100 * limit:g} %, but whether that is the limit isn't known", fill.needs
        )
    if is_over:
        return told(Outcome.FAIL, f"{figures}, over {100 * limit:g} %; {_room(now, limit)}")
    if fill.at_least:
        reason = f"it is at least {100 * now:.1f} % full, so whether there is room isn't known: {fill.reason}"
        return told(Outcome.UNKNOWN, reason, fill.needs)
    return told(Outcome.PASS, f"{figures}, within {100 * limit:g} %; {_room(now, limit)}")


def _room(now: float, limit: float) -> str:
    """How much of what lies there could come besides, rounded down."""
    more = math.floor(1000.0 * (limit / now - 1.0) + EXACTLY) / 10.0 if now > 0.0 else 0.0
    return f"{more:.1f} % more could come" if more > 0.0 else "nothing more could come"

"""An answer as the one object that machines read."""

from typing import Any

from checker.fit_text import CAUTION
from checker.result.tables import FindingRow
from checker.room.answering import Answer
from checker.room.counting import Counting, Tried
from checker.room.question import MOST_CIRCUITS
from checker.room.told import (
    DIGITS,
    Alike,
    alike,
    already,
    assumed,
    counted,
    drops_m,
    failed_before,
    gives,
    label,
    length_m,
    tightest,
    wants_route,
    way_steps,
    way_words,
    where_of,
)
from checker.room.tries import one_more
from checker.rule import Outcome

COVERS = "Every rule of the code on all that the added cables touch, without and with them; not whether they can be got at to be drawn in."

#: What there is to say where there is no way.
_NO_WAY: dict[str, Any] = {
    "way": [], "compartment_picked": None, "route": "", "route_wanted": False, "length_m": None, "drops_m": [], "tightest": None,
    "fails": [], "stops": None, "already": [], "waived": [], "unknown": [], "judged": {}, "alternatives": [], "alternatives_not_all": False,
}  # fmt: skip


def as_object(answer: Answer) -> dict[str, Any]:
    """One object. ``most`` None: that can't be said; then ``fits`` is how many go in as far as can be judged."""
    found: dict[str, Any] = {
        "code": answer.code.key,
        "from": answer.question.origin,
        "to": answer.question.call,
        "cables": [
            {
                "cable": cable.key,
                "count": cable.count,
                "diameter_mm": cable.diameter_mm,
                "width_mm": cable.width_mm,
                "height_mm": cable.height_mm,
            }
            for cable in answer.bundle.circuit.cables
        ],
        "service": answer.bundle.circuit.service.value if answer.bundle.circuit.service else "",
        "circuits": answer.times,
        "verdict": answer.outcome.value,
        "most": answer.most,
        "fits": answer.fits,
        "bound_reached": answer.best is not None and answer.best.fits >= MOST_CIRCUITS,
        "except_for": [] if answer.best is None else answer.best.except_for,
        "reason": "" if answer.none is None else answer.none.why,
        "hint": "" if answer.none is None else answer.none.hint,
        "assumed": [problem.what for problem in answer.bundle.problems],
        "covers": COVERS,
        "caution": " ".join([*answer.cautions, CAUTION]),
    }
    if answer.best is None:
        return found | _NO_WAY
    tried = answer.best.of(answer.times)
    return found | {
        **_way(answer, answer.best),
        "tightest": _tightest(answer, tried),
        "fails": [_stop(answer, tried, one) for one in alike(answer, tried.fails)],
        "stops": _first_stop(answer, answer.next),
        "already": [_row(answer, row) for row in already(answer.best)],
        "assumed": assumed(answer, tried),
        "waived": [_row(answer, row) for row in tried.own if row.verdict == Outcome.WAIVED],
        "unknown": [*_unknown(answer, tried), *(_doubt(doubt) for doubt in answer.doubts)],
        "judged": counted(tried.effects.after.values()),
        "alternatives": [_alternative(answer, other) for other in answer.others],
        "alternatives_not_all": answer.not_all,
    }


def _doubt(reason: str) -> dict[str, Any]:
    return {"rule": "", "carriers": [], "places": [], "reason": reason, "give": []}


def _way(answer: Answer, counting: Counting) -> dict[str, Any]:
    way = [
        {"carrier": key, "label": label(answer, key), "compartment": lanes[0] if len(lanes) == 1 else None}
        for key, lanes in way_steps(counting)
    ]
    return {
        "way": way,
        "compartment_picked": counting.way.compartment,
        "route": way_words(answer, counting),
        "route_wanted": wants_route(answer, counting),
        "length_m": length_m(counting),
        "drops_m": drops_m(counting),
    }


def _tightest(answer: Answer, tried: Tried) -> dict[str, Any] | None:
    found = tightest(tried)
    if found is None:
        return None
    row = found.row
    left = None if row.value is None or row.limit is None or row.is_floor else round(row.limit - row.value, DIGITS)
    before = None if found.before is None else found.before.value
    return _row(answer, row) | {"value_before": before, "left": left}


def _row(answer: Answer, row: FindingRow) -> dict[str, Any]:
    return {
        "rule": row.rule,
        "carrier": row.carriers[0] if row.carriers else None,
        "carriers": list(row.carriers),
        "where": where_of(answer, row),
        "compartment": row.compartment,
        "circuits": list(row.circuits) if row.is_of_circuit else [],
        "verdict": row.verdict,
        "value": row.value,
        "limit": row.limit,
        "unit": row.unit,
        "reason": row.reason,
        "clause": row.source,
    }


def _stop(answer: Answer, tried: Tried, one: Alike) -> dict[str, Any]:
    return _row(answer, one.row) | {"places": list(one.places), "already": failed_before(tried, one.row)}


def _first_stop(answer: Answer, tried: Tried | None) -> dict[str, Any] | None:
    """The gravest of what fails with one more than go in, or isn't known then."""
    if tried is None:
        return None
    stops = alike(answer, tried.fails or tried.unknowns)
    return None if not stops else _stop(answer, tried, stops[0]) | {"circuits_then": tried.number}


def _unknown(answer: Answer, tried: Tried) -> list[dict[str, Any]]:
    return [
        {
            "rule": one.row.rule,
            "carriers": list(one.row.carriers),
            "places": list(one.places),
            "reason": one.row.reason,
            "give": gives(answer, one.row),
        }
        for one in alike(answer, tried.unknowns)
    ]


def _alternative(answer: Answer, counting: Counting) -> dict[str, Any]:
    found = _way(answer, counting) | {
        "most": None if answer.doubts and counting.most else counting.most,
        "fits": counting.fits,
    }
    return found | {"bound_reached": counting.fits >= MOST_CIRCUITS, "stops": _first_stop(answer, one_more(counting))}

"""Cases of rules about room beside what lies in a compartment: what ``checker.testing`` reads of what the code's rule of fill says.

The rule of fill isn't asked; the case says what it answers::

    kind = "trunking"
    fill = { verdict = "pass", value = 0.36, limit = 0.45, measure = "area" }
    fill_most = { verdict = "unknown", reason = "no size is known", needs = ["the diameter of cable x"] }
    unbounded = true                 # something that can't be counted may lie in it; left out: nothing may

``fill`` is its answer in favour of the compartment, ``fill_most`` the one against it; left out: the same. ``verdict`` is ``pass``, ``fail``
or ``unknown``; ``value`` and ``limit`` left out: it gave none. Besides ``at_least = true``, ``reason``, ``source`` and ``needs``.
"""

from typing import Any

from checker.model import Carrier, CarrierKind, Fill, FilledCompartment, LoadedCompartment, Place, Section

IS_WITHIN = {"pass": True, "fail": False, "unknown": None}


def filled_of(data: dict[str, Any]) -> FilledCompartment:
    """The compartment that a case describes, with what is said of its fill."""
    is_open = data.get("unbounded", False)
    loaded = LoadedCompartment(
        carrier=Carrier("carrier", Place("carrier", "case"), CarrierKind(data["kind"]), Section()),
        number=1,
        area_mm2=None,
        possible_doubts=("a circuit isn't routed",) if is_open or "fill_most" in data else (),
        unbounded=is_open,
    )
    return FilledCompartment(loaded, _fill(data["fill"]), _fill(data.get("fill_most", data["fill"])))


def _fill(data: dict[str, Any]) -> Fill:
    return Fill(
        value=data.get("value"),
        limit=data.get("limit"),
        measure=data.get("measure", "area"),
        basis="guidance",
        source=data.get("source", "the code's limit"),
        reason=data.get("reason", ""),
        is_within=IS_WITHIN[data["verdict"]],
        at_least=data.get("at_least", False),
        needs=tuple(data.get("needs", ())),
    )

"""Cases of rules that speak of a carrier with all that lies in it, whatever compartment it is in.

A case has circuits, as in ``checker.testing_circuits``, and is one carrier::

    kind = "conduit"
    material = "steel"               # and type = "Conduit 25", tag = "K-1", if they matter
    circuits = [{ mark = "C1", csa_mm2 = 2.5, count = 3, cores = 1, loaded_conductors = 2 }]
    holds = ["C1"]                   # left out: all but those in possible
    possible = ["C2"]
    lines = { C1 = [2, 3] }          # of 3 lines in which the model draws all its cables, 2 lead through it
    unbounded = true                 # something uncounted may lie there

Without ``circuits`` it has ``cables``, as in ``checker.testing_supports``.
"""

from dataclasses import replace
from typing import Any

from checker.model import Enclosure, Member
from checker.testing_circuits import routed_circuit_of
from checker.testing_supports import loaded_enclosure_of


def enclosure_of(data: dict[str, Any]) -> Enclosure:
    """The carrier that a case describes."""
    if "circuits" not in data:
        return loaded_enclosure_of(data)
    made = routed_circuit_of(data).enclosures[0]
    tag = data.get("tag", "K-1")
    carrier = replace(
        made.carrier,
        key=tag,
        place=replace(made.carrier.place, global_id=tag, tag=tag),
        type_name=data.get("type", ""),
    )
    lines = {mark: (some, whole) for mark, (some, whole) in data.get("lines", {}).items()}

    def with_lines(members: tuple[Member, ...]) -> tuple[Member, ...]:
        return tuple(replace(member, lines=lines.get(member.load.mark)) for member in members)

    is_unbounded = data.get("unbounded", False)
    return replace(
        made,
        carrier=carrier,
        members=with_lines(made.members),
        possible=with_lines(made.possible),
        doubts=made.doubts or (("a circuit isn't routed",) if is_unbounded else ()),
        unbounded=is_unbounded,
    )

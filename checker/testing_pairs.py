"""Cases of rules that speak of two neighbouring carriers: what ``checker.testing`` reads of a ``CarrierPair``.

A case has both sides, ``one`` and ``other``, and how they lie::

    clear_mm = 100.0
    beside_m = 3.0                   # along_m, with what goes on from it: the same unless given
    size_doubt = "…"                 # why they may be nearer; crowd_doubt: why not all beside them was looked at
    one = { kind = "ladder", material = "steel", circuits = [{ mark = "D1", service = "data", key = "cat6-u-utp" }] }
    other = { kind = "ladder", material = "steel", circuits = [{ mark = "P", times = 14, device_rating_a = 20, loaded_conductors = 2 }] }

Sides have ``kind``, ``material``, ``type_name``, ``perforated``, ``wall_mm``, ``outside_diameter_mm``, ``bore_mm``, ``possible`` (circuits
that may lie there besides) and ``unbounded``. Circuits have the columns of the schedule as in ``checker.testing_circuits``, with ``key`` of
the cable, ``voltage_v``, ``passes`` and ``times`` for so many alike.
"""

from typing import Any

from checker.model import (
    Cable,
    Carrier,
    CarrierKind,
    CarrierPair,
    Circuit,
    Laying,
    Member,
    Place,
    PlacedCable,
    Section,
    Service,
    Side,
    State,
)
from checker.network.electrical import circuit_load
from checker.testing_circuits import ELECTRICAL


def carrier_pair_of(data: dict[str, Any]) -> CarrierPair:
    """The pair that a case describes."""
    return CarrierPair(
        _side("T-1", data["one"]),
        _side("T-2", data["other"]),
        data["clear_mm"],
        data["beside_m"],
        data.get("along_m", data["beside_m"]),
        data.get("size_doubt", ""),
        data.get("crowd_doubt", ""),
    )


def _side(key: str, item: dict[str, Any]) -> Side:
    section = Section(
        wall_mm=item.get("wall_mm"),
        outside_diameter_mm=item.get("outside_diameter_mm"),
        bore_mm=item.get("bore_mm"),
    )
    carrier = Carrier(
        key,
        Place(key, "case", tag=key),
        CarrierKind(item["kind"]),
        section,
        type_name=item.get("type_name", ""),
        material=item.get("material", ""),
        laying=Laying(perforated=item.get("perforated")),
    )
    members, cables = _circuits(item.get("circuits", []))
    possible_members, possible = _circuits(item.get("possible", []))
    unbounded = item.get("unbounded", False)
    doubts = ("a circuit isn't routed",) if possible or unbounded else ()
    return Side(carrier, members, possible_members, cables, possible, doubts, unbounded)


def _circuits(items: list[dict[str, Any]]) -> tuple[tuple[Member, ...], tuple[PlacedCable, ...]]:
    members, cables = [], []
    for item in items:
        for number in range(1, item.get("times", 1) + 1):
            mark = item["mark"] if number == 1 else f"{item['mark']}-{number}"
            service = Service(item.get("service", "power")) if item.get("service", "power") else None
            circuit = Circuit(
                mark=mark,
                origin="DB",
                calls=("S1", "DB") if item.get("ring") else ("S1",),
                service=service,
                state=State(item.get("state", "new")),
                cables=(Cable(row=1, csa_mm2=item.get("csa_mm2"), cores=item.get("cores")),),
                electrical={name: item[name] for name in ELECTRICAL if name in item},
                unread=tuple(item.get("unread", ())),
            )
            members.append(Member(circuit_load(circuit), item.get("passes", 1)))
            cables.append(
                PlacedCable(
                    mark,
                    service,
                    item.get("key", ""),
                    1,
                    None,
                    csa_mm2=item.get("csa_mm2"),
                    voltage_v=item.get("voltage_v"),
                )
            )
    return tuple(members), tuple(cables)

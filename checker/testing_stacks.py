"""Cases of the rule about trays above each other: what ``checker.testing`` reads where a case has ``stacked``.

A tray or ladder, and what runs above and below it::

    kind = "tray"
    single_layer = true              # and tiers, as under [[types]] in wayroom.toml; left out: not declared
    loaded = 6                       # so many loaded circuits lie in it; data = true: one of data besides, of which no load is given
    stacked = [{ up_mm = 300, from_mm = 0, to_mm = 3000, is_certain = false }]

``up_mm`` is how much higher another one lies, ``from_mm`` and ``to_mm`` on which stretch (left out: 0 to 3000), ``is_certain`` whether it
is a tray with loaded circuits for certain (left out: yes). ``is_level`` is true unless given; ``position_known = false``: where it runs
isn't known. ``stack_doubt``, ``fits_one_layer``, ``type``, ``unbounded``: as in ``checker.model.Enclosure``.
"""

from typing import Any

from checker.model import Carrier, CarrierKind, CircuitLoad, Enclosure, Laying, Member, Place, Section, Service, State
from checker.model.loads import Stacked


def stacked_enclosure_of(data: dict[str, Any]) -> Enclosure:
    """The tray that a case describes, with what runs above and below it."""
    kind = CarrierKind(data["kind"])
    loads = [
        CircuitLoad(f"P{number}", Service.POWER, State.NEW, is_loaded=True) for number in range(1, data["loaded"] + 1)
    ]
    if data.get("data"):
        loads.append(CircuitLoad("D1", Service.DATA, State.NEW, is_loaded=False))
    unbounded = data.get("unbounded", False)
    return Enclosure(
        carrier=Carrier(
            "T-1",
            Place("T-1", "case", tag="T-1"),
            kind,
            Section(),
            type_name=data.get("type", ""),
            laying=Laying(single_layer=data.get("single_layer"), tiers=data.get("tiers")),
        ),
        members=tuple(Member(load) for load in loads),
        doubts=("a circuit isn't routed",) if unbounded else (),
        unbounded=unbounded,
        fits_one_layer=data.get("fits_one_layer", True),
        may_fit_one_layer=data.get("fits_one_layer", True),
        is_level=data.get("is_level", True) if data.get("position_known", True) else None,
        stacked=tuple(_stacked(number, item) for number, item in enumerate(data["stacked"], start=2)),
        stack_doubt=data.get("stack_doubt", ""),
    )


def _stacked(number: int, item: dict[str, Any]) -> Stacked:
    key = f"T-{number}"
    carrier = Carrier(key, Place(key, "case", tag=key), CarrierKind.TRAY, Section())
    return Stacked(
        carrier, item["up_mm"], item.get("from_mm", 0.0), item.get("to_mm", 3000.0), item.get("is_certain", True)
    )

"""Cases of rules that speak of a compartment, or of a place where divided carriers meet: what ``checker.testing`` reads for them.

One compartment::

    kind = "trunking"
    area_mm2 = 2304.0                # and area_least_mm2, with the thickest plausible wall, where that isn't known
    cables = [{ count = 20, diameter_mm = 7.8 }]
    possible = [{ count = 1, diameter_mm = 7.8 }]    # what may lie in it besides
    unbounded = true                 # something that can't be counted may, too

Besides ``width_mm``, ``width_least_mm``, ``side_mm``, ``side_least_mm``, ``bore_mm`` (the area follows from it unless given), as
``checker.model.LoadedCompartment`` explains them; of the carrier ``perforated``, ``installed``, ``outside_diameter_mm`` and
``outside_width_mm``; and ``run = { length_m, bends_deg, between_enclosures }``. ``checker.testing_cables`` says what cables have.

A place where three carriers of two compartments each meet names with each cable the ``compartment`` that it passes in (left out: not
known), and may have ``partition`` with its ``partition_why``, and ``no_fitting = true``.
"""

from typing import Any

from checker.model import (
    Carrier,
    CarrierKind,
    DividedFitting,
    Fitting,
    FittingKind,
    Lane,
    Laying,
    LoadedCompartment,
    Partition,
    Passing,
    Place,
    PlacedCable,
    Run,
    Section,
    Surroundings,
)
from checker.testing_cables import placed_cable_of
from checker.units import circle_area_mm2


def subject_of(data: dict[str, Any]) -> LoadedCompartment:
    """The compartment that a case describes."""
    kind = CarrierKind(data["kind"])
    section = Section(width_mm=data.get("outside_width_mm"), outside_diameter_mm=data.get("outside_diameter_mm"))
    installed = data.get("installed")
    laying = Laying(Surroundings(installed) if installed else None, data.get("perforated"))
    run = data.get("run")
    bore = data.get("bore_mm")
    return LoadedCompartment(
        carrier=Carrier("carrier", Place("carrier", "case"), kind, section, laying=laying),
        number=1,
        area_mm2=data.get("area_mm2", circle_area_mm2(bore) if bore else None),
        area_least_mm2=data.get("area_least_mm2"),
        width_mm=data.get("width_mm"),
        width_least_mm=data.get("width_least_mm"),
        side_mm=data.get("side_mm"),
        side_least_mm=data.get("side_least_mm"),
        bore_mm=bore,
        size_doubt="the wall isn't known" if "area_least_mm2" in data else "",
        cables=tuple(placed_cable_of(number, cable) for number, cable in enumerate(data.get("cables", []))),
        possible=_possible(data),
        possible_doubts=_doubts(data),
        unbounded=data.get("unbounded", False),
        run=None
        if run is None
        else Run(1, ("carrier",), run.get("length_m"), run.get("bends_deg"), run.get("between_enclosures")),
    )


def fitting_of(data: dict[str, Any]) -> DividedFitting:
    """The place that a case describes: three carriers of a kind and two compartments meet at a tee; all passes from one to another."""
    kind, lanes = CarrierKind(data["kind"]), (Lane(1), Lane(2))
    keys = ("L-1", "L-2", "L-3")
    partition = data.get("partition")
    tee = Fitting(
        "TEE-1",
        Place("TEE-1", "case", tag="TEE-1"),
        FittingKind.TEE,
        partition=Partition(partition) if partition else None,
        partition_why=data.get("partition_why", ""),
    )
    return DividedFitting(
        None if data.get("no_fitting") else tee,
        tuple(Carrier(key, Place(key, "case", tag=key), kind, Section(lanes=lanes)) for key in keys),
        passing=tuple(
            Passing(tuple((key, cable.get("compartment")) for key in keys[:2]), (placed_cable_of(number, cable),))
            for number, cable in enumerate(data.get("cables", []))
        ),
        possible=_possible(data),
        possible_doubts=_doubts(data),
        unbounded=data.get("unbounded", False),
    )


def _possible(data: dict[str, Any]) -> tuple[PlacedCable, ...]:
    return tuple(placed_cable_of(number, cable) for number, cable in enumerate(data.get("possible", []), start=100))


def _doubts(data: dict[str, Any]) -> tuple[str, ...]:
    return ("a circuit isn't routed",) if data.get("possible") or data.get("unbounded") else ()

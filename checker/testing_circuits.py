"""Cases of rules that speak of circuits: what ``checker.testing`` reads where a case has ``circuits``.

The first circuit is the one that is asked about, the others lie with it::

    circuits = [
      { mark = "C1", csa_mm2 = 2.5, count = 3, cores = 1, design_current_a = 8, device_rating_a = 10, loaded_conductors = 2 },
      { mark = "C2", csa_mm2 = 2.5, count = 3, cores = 1, loaded_conductors = 2, times = 5 },
    ]
    kind = "trunking"                # one carrier that holds all, or
    carriers = [{ kind = "trunking", holds = ["C1"] }, { kind = "tray", holds = ["C1", "C2"], single_layer = true, fits_one_layer = true }]

Circuits have the columns of the schedule (``conductor`` and ``insulation`` are copper and PVC unless they are given; ``cables`` is a list
of rows for several), ``times`` for so many alike, ``terminations_c``, ``unread`` columns and ``ring = true``. Carriers have ``perforated``,
``single_layer``, ``tiers``, ``installed``, ``fits_one_layer``, ``possible`` (marks), ``passes`` (of the first circuit), ``run_m`` and
``between_enclosures``, of the run.
"""

from dataclasses import replace
from typing import Any

from checker.model import (
    Cable,
    Carrier,
    CarrierKind,
    Circuit,
    CircuitLoad,
    Enclosure,
    Laying,
    Member,
    Place,
    RoutedCircuit,
    Run,
    Section,
    Service,
    State,
    Surroundings,
)
from checker.network.electrical import circuit_load

ELECTRICAL = (
    "design_current_a", "device_rating_a", "ambient_c", "third_harmonic", "loaded_conductors", "method", "device",
)  # fmt: skip


def routed_circuit_of(data: dict[str, Any]) -> RoutedCircuit:
    """The circuit that a case describes, with what lies beside it."""
    loads = [load for item in data["circuits"] for load in _loads(item)]
    carriers = data.get("carriers", [data])
    return RoutedCircuit(
        load=loads[0],
        enclosures=tuple(_enclosure(number, item, loads) for number, item in enumerate(carriers, start=1)),
        open_doubts=("something uncounted may lie with it",) if data.get("unbounded") else (),
        not_overloaded_together=data.get("not_overloaded_together", ""),
    )


def _loads(item: dict[str, Any]) -> list[CircuitLoad]:
    rows = item.get("cables", [item])
    service = item.get("service", "power")
    circuit = Circuit(
        mark=item["mark"],
        origin="DB",
        calls=("S1", "DB") if item.get("ring") else ("S1",),
        service=Service(service) if service else None,
        state=State(item.get("state", "new")),
        sets=item.get("sets", 1),
        cables=tuple(
            Cable(
                row=number,
                count=row.get("count"),
                csa_mm2=row.get("csa_mm2"),
                cores=row.get("cores"),
                awg_kcmil=row.get("awg_kcmil", ""),
                conductor=row.get("conductor", item.get("conductor", "copper")),
                insulation=row.get("insulation", item.get("insulation", "PVC")),
            )
            for number, row in enumerate(rows)
        ),
        electrical={name: item[name] for name in ELECTRICAL if name in item},
        unread=tuple(item.get("unread", ())),
    )
    declared = [("*", float(item["terminations_c"]))] if "terminations_c" in item else []
    load = circuit_load(circuit, declared)
    return [load, *(replace(load, mark=f"{load.mark}-{number}") for number in range(2, item.get("times", 1) + 1))]


def _enclosure(number: int, item: dict[str, Any], loads: list[CircuitLoad]) -> Enclosure:
    def members(marks: list[str]) -> tuple[Member, ...]:
        return tuple(
            Member(load, item.get("passes", 1) if load is loads[0] else 1)
            for load in loads
            if load.mark in marks or load.mark.rpartition("-")[0] in marks
        )

    installed = item.get("installed")
    laying = Laying(
        Surroundings(installed) if installed else None,
        item.get("perforated"),
        item.get("single_layer"),
        item.get("tiers"),
    )
    possible = item.get("possible", [])
    holds = item.get("holds", [load.mark for load in loads if load.mark not in possible])
    return Enclosure(
        carrier=Carrier(
            f"carrier-{number}",
            Place(f"carrier-{number}", "case"),
            CarrierKind(item["kind"]),
            Section(),
            material=item.get("material", ""),
            laying=laying,
        ),
        members=members(holds),
        possible=members(possible),
        doubts=("a circuit isn't routed",) if possible else (),
        fits_one_layer=item.get("fits_one_layer"),
        may_fit_one_layer=item.get("fits_one_layer") is not False,
        run=Run(1, (f"carrier-{number}",), item["run_m"], None, item.get("between_enclosures"))
        if "run_m" in item
        else None,
    )

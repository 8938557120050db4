"""Random installations give what a second, slow and plain implementation gives.

``tests/oracle.py`` was written from the readings of the trade and the tables alone, by somebody who didn't look at checker/ or
rules/. Later changes to the readings (ties between nearest carriers, what ends a run, cables thicker than the inside) were made in both.
"""

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import (
    Cable,
    Carrier,
    CarrierKind,
    Circuit,
    Equipment,
    Installation,
    Lane,
    Place,
    Section,
    Service,
    State,
)
from checker.model.geometry import add, distance
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from tests import oracle

# Places of a small building, none within 200 mm of a line between two others, so that no two ways are as long, and no end touches a side.
PLACES = [(0.0, 13.7, 0.0), (2011.3, -100.0, 7.1), (4177.9, 391.0, 0.0), (307.3, 2203.1, 0.0), (2399.7, 2311.9, 53.0),
          (4507.1, 2903.3, 11.0), (1201.9, 4703.3, 0.0), (3307.7, 5011.1, 1300.7)]  # fmt: skip
# Where carriers end that begin at the side of another, and how far along that.
BEYOND = [(977.7, -1803.1, 0.0), (3391.3, -2111.9, 17.0), (5903.3, 1717.1, 0.0)]
SHARES = [0.31, 0.47, 0.63]
# An end lies at its place, or 6.4 mm off it, which every tolerance bridges.
PLAY = [(0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (5.1, -3.3, 2.0)]
KINDS = ["trunking", "trunking", "conduit", "conduit", "tray", "ladder", "unknown"]
SERVICES = [service.value for service in Service]
SIZES = [None, 50.0, 75.0, 100.0, 61.3]


@st.composite
def cases(draw: st.DrawFn) -> dict[str, Any]:
    """One installation as plain data, in the oracle's words."""
    pairs = draw(
        st.lists(
            st.tuples(st.integers(0, 7), st.integers(0, 7)).filter(lambda p: p[0] < p[1]),
            min_size=1,
            max_size=7,
            unique=True,
        )
    )
    carriers = [draw(carrier_of(number, PLACES[one], PLACES[two])) for number, (one, two) in enumerate(pairs)]
    for beyond, share in zip(
        BEYOND, draw(st.lists(st.sampled_from([None, *SHARES]), min_size=3, max_size=3)), strict=True
    ):
        if share is not None:
            main = draw(st.sampled_from(carriers))
            off = draw(st.sampled_from([0.0, 0.0, 431.7]))  # at its side, or beside it
            start = [a + share * (b - a) for a, b in zip(main["start"], main["end"], strict=True)]
            tap = draw(carrier_of(len(carriers), (start[0], start[1], start[2] + off), beyond, [(0.0, 0.0, 0.0)]))
            assume(all(is_clear(tap, other) and is_clear(other, tap) for other in carriers))
            carriers.append(tap)
    points = [
        tuple(value + draw(st.sampled_from([0.0, 217.3, -403.9])) for value in (*PLACES, *BEYOND)[n])
        for n in draw(st.lists(st.integers(0, 10), min_size=2, max_size=4))
    ]
    equipment = [
        {"id": f"E{n}", "point": list(point), "storey": draw(st.sampled_from(["L0", "L0", "L1"]))}
        for n, point in enumerate(points)
    ]
    ends = [item["id"] for item in equipment] + [carriers[0]["id"], "nowhere"]
    circuits = [draw(circuit_of(number, ends)) for number in range(draw(st.integers(0, 5)))]
    return {
        "reach_mm": 3000.0,
        "tray_limit": draw(st.sampled_from([None, 0.40])),
        "carriers": carriers,
        "equipment": equipment,
        "circuits": circuits,
    }


def is_clear(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether each end of one lies at the other, or far from its axis and from its ends."""
    feet = [oracle.foot(other, one[tip])[0] for tip in ("start", "end")]
    apart = [math.dist(one[tip], other[end]) for tip in ("start", "end") for end in ("start", "end")]
    return all(off < 1.0 or off > 200.0 for off in feet) and min(apart) > 310.0


@st.composite
def carrier_of(
    draw: st.DrawFn,
    number: int,
    start: tuple[float, float, float],
    end: tuple[float, float, float],
    play: list[tuple[float, float, float]] = PLAY,
) -> dict[str, Any]:
    kind = draw(st.sampled_from(KINDS))
    is_round = kind == "conduit"  # a rectangular one goes by no table of the code
    count = draw(st.sampled_from([1, 1, 1, 2, 3]))
    start, end = (add(place, draw(st.sampled_from(play))) for place in (start, end))
    given_widths = count > 1 and not is_round and draw(st.booleans())
    lanes = [
        {
            "width": draw(st.sampled_from([11.7, 23.3, 31.1])) if given_widths else None,
            "services": draw(st.none() | st.lists(st.sampled_from(SERVICES), min_size=1, max_size=3)),
        }
        for _ in range(count)
    ]
    return {
        "id": f"K{number}", "kind": kind, "start": start, "end": end,
        "width": None if is_round else draw(st.sampled_from(SIZES)), "height": None if is_round else draw(st.sampled_from(SIZES)),
        "diameter": draw(st.sampled_from([None, 16.0, 20.0, 25.0, 32.0, 41.0, 110.0])) if is_round else None,
        "wall": draw(st.sampled_from([None, None, 1.2, 1.6])),
        "depth": draw(st.sampled_from([None, 33.3])) if kind in {"tray", "ladder"} else None,
        "material": draw(st.sampled_from(["", "steel"])), "storey": draw(st.sampled_from(["L0", "L0", "L0", "L1"])), "lanes": lanes,
    }  # fmt: skip


@st.composite
def circuit_of(draw: st.DrawFn, number: int, ends: list[str]) -> dict[str, Any]:
    cable = st.fixed_dictionaries({
        "count": st.sampled_from([None, 0, 1, 3, 6]), "diameter": st.sampled_from([None, 3.9, 5.2, 6.7, 13.1, 17.0]),
        "csa": st.sampled_from([None, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0]), "cores": st.sampled_from([None, 1, 1, 1, 3]),
        "stranded": st.sampled_from([None, True, False]), "rated": st.sampled_from([None, 125.0, 750.0]),
    })  # fmt: skip
    return {
        "mark": f"C{number}", "from": draw(st.sampled_from(ends)), "to": draw(st.sampled_from(ends)),
        "service": draw(st.none() | st.sampled_from(SERVICES)),
        "state": draw(st.sampled_from(["new", "new", "existing", "spare", "removed"])),
        "compartment": draw(st.sampled_from([None, None, 1, 2, 9])),
        "voltage": draw(st.sampled_from([None, 24.0, 50.0, 230.0, 400.0])), "cables": draw(st.lists(cable, min_size=1, max_size=2)),
    }  # fmt: skip


def installed(case: dict[str, Any]) -> Installation:
    """The same as an installation of ours."""
    carriers = []
    for item in case["carriers"]:
        lanes = tuple(
            Lane(n, lane["width"], None if lane["services"] is None else frozenset(map(Service, lane["services"])))
            for n, lane in enumerate(item["lanes"], start=1)
        )
        section = Section(
            item["width"],
            item["height"],
            item["diameter"],
            None,
            None,
            item["wall"],
            None,
            item["depth"],
            lanes,
            "test",
        )
        start, end = tuple(item["start"]), tuple(item["end"])
        place = Place(item["id"], "test.ifc", tag=item["id"], storey=item["storey"])
        carriers.append(
            Carrier(
                item["id"],
                place,
                CarrierKind(item["kind"]),
                section,
                "",
                item["material"],
                start,
                end,
                None,
                distance(start, end),
                0.0,
            )
        )
    equipment = tuple(
        Equipment(
            item["id"],
            Place(item["id"], "test.ifc", tag=item["id"], storey=item["storey"]),
            "IfcOutlet",
            tuple(item["point"]),
        )
        for item in case["equipment"]
    )
    circuits = tuple(
        Circuit(
            item["mark"], item["from"], (item["to"],), Service(item["service"]) if item["service"] else None, State(item["state"]),
            cables=tuple(
                Cable(2, "", cable["count"], cable["diameter"], csa_mm2=cable["csa"], cores=cable["cores"], stranded=cable["stranded"],
                      rated_voltage_v=cable["rated"])
                for cable in item["cables"]
            ),
            compartment=item["compartment"], voltage_v=item["voltage"],
        )
        for item in case["circuits"]
    )  # fmt: skip
    ordered = tuple(sorted(carriers, key=lambda carrier: carrier.key))
    return Installation(
        "test", "Test", carriers=ordered, equipment=equipment, circuits=circuits, reach_mm=case["reach_mm"]
    )


def same(found: float | None, expected: float | None) -> bool:
    return (
        found is expected
        if found is None or expected is None
        else math.isclose(found, expected, rel_tol=1e-12, abs_tol=1e-12)
    )


@settings(max_examples=400)
@given(cases())
def test_two_implementations_agree(case: dict[str, Any]) -> None:
    plugins = load_plugins()
    code = plugins.codes["bs-7671"]
    if case["tray_limit"] is not None:
        code = tightened(code, {"fill.tray": {"space_factor": case["tray_limit"], "reason": "test"}}, "test")
    result = check_installation(installed(case), code, plugins)
    expected = oracle.check(case, {row.circuit: row.carriers for row in result.circuits})
    for route in result.circuits:
        way = expected["routes"][route.circuit] if route.state != "removed" else None
        assert (list(route.carriers) if route.is_routed else None) == (list(way[0]) if way else None), route
        assert route.length_m == (pytest.approx(way[1] / 1000.0, abs=1e-5) if way else None), route
    segregation = {
        (f.carriers[0], f.compartment): f.verdict for f in result.findings if f.rule == "segregation.compartment"
    }
    for row in result.compartments:
        here = expected["compartments"][row.carrier, row.number]
        # the oracle takes no terms of cables without a diameter; by the least that they can be they may be too many all the same
        unsized = row.occupied_mm2 is None and row.measure == "term" and row.verdict == "fail"
        assert row.verdict == here["verdict"] or (unsized and here["verdict"] == "unknown"), (row, here)
        assert segregation[row.carrier, row.number] == here["segregation"], (row, here)
        assert same(row.internal_area_mm2, here["area"]), (row, here)
        assert same(row.occupied_mm2, here["occupied"]), (row, here)
        if here["limit"] is not None and not unsized:  # without one, a fill of nothing is given here and not there
            assert same(row.fill, here["fill"]), (row, here)
        if row.verdict in {"pass", "fail"} and row.cables and row.fill is not None:
            assert (row.measure, row.limit) == (here["measure"], here["limit"]), (row, here)

"""Sums that must agree, whatever the installation: what circuits bring lies in the compartments, and nothing is lost.

Installations are random grids of carriers; the length of each way is had by plain means that know nothing of joins.
"""

import csv
import io
import math
from collections import Counter, defaultdict
from dataclasses import dataclass, replace

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import Cable, Circuit, Installation, Service, State
from checker.network.routing import route_all
from checker.network_rows import take_off_rows
from checker.report.csv_files import routes_csv
from checker.result.accounting import count
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet
from tests.network.grids import ABOVE_MM, Grid, grids, shortest

PLUGINS = load_plugins()
#: The first compartment is for power, the second for data.
TWO_LANES = replace(STEEL_50, lanes=lanes(Service.POWER, Service.DATA))
LANE_OF = {Service.POWER: 1, Service.DATA: 2}


def checked(inst: Installation) -> Result:
    return check_installation(inst, PLUGINS.codes["bs-7671"], PLUGINS, now="2026-01-01T00:00:00Z")


@dataclass(frozen=True, slots=True)
class Case:
    """A grid with cables in its circuits, some of its carriers divided. ``divided`` are their keys."""

    grid: Grid
    model: Installation
    divided: frozenset[str]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    grid = draw(grids())
    undivided = [item.key for item in grid.carriers if item.section == STEEL_50]
    divided = frozenset(draw(st.sets(st.sampled_from(undivided)))) if undivided else frozenset()
    carriers = tuple(replace(item, section=TWO_LANES) if item.key in divided else item for item in grid.carriers)
    circuits = []
    for number, item in enumerate(grid.circuits):
        sizes = draw(st.lists(st.tuples(st.sampled_from([5.0, 7.5, 11.3]), st.integers(1, 4)), min_size=1, max_size=3))
        cables = tuple(Cable(2 + n, count=many, diameter_mm=size) for n, (size, many) in enumerate(sizes))
        state = draw(st.sampled_from([State.NEW, State.NEW, State.EXISTING, State.SPARE, State.REMOVED]))
        calls = item.calls if draw(st.booleans()) or number else ("NOWHERE",)
        circuits.append(replace(item, cables=cables, sets=draw(st.sampled_from([1, 1, 2])), state=state, calls=calls))
    model = replace(grid.model, carriers=carriers, circuits=tuple(circuits))
    return Case(grid, model, divided)


def way_mm(case: Case, item: Circuit) -> float:
    """The length of a circuit's way; infinite: it has none, or takes no room."""
    if item.calls == ("NOWHERE",) or item.state is State.REMOVED:
        return math.inf
    return shortest(case.grid, item)


def area_mm2(item: Circuit) -> float:
    """Σ of the areas of all cables of a circuit."""
    return sum(
        item.sets * (cable.count or 0) * math.pi / 4.0 * (cable.diameter_mm or 0.0) ** 2 for cable in item.cables
    )


@settings(max_examples=150, deadline=None)
@given(cases())
def test_the_volume_in_the_compartments_is_that_of_the_circuits(case: Case) -> None:
    result = checked(case.model)
    stretch: dict[tuple[str, str], float] = defaultdict(float)
    for route in route_all(case.model).routes:
        for visit in route.visits:
            stretch[visit.carrier, route.circuit] += abs(visit.to_mm - visit.from_mm)
    found = sum(
        (row.count or 0) * (row.area_mm2 or 0.0) * stretch[row.carrier, row.circuit]
        for row in result.cables
        if row.certain
    )
    lengths = {item.mark: way_mm(case, item) for item in case.model.circuits}
    expected = sum(area_mm2(item) * lengths[item.mark] for item in case.model.circuits if lengths[item.mark] < math.inf)
    event("nothing lies anywhere" if not expected else "something lies somewhere")
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-6)
    # and the area of each compartment is that of the circuits that lie in it
    by_mark = {item.mark: area_mm2(item) for item in case.model.circuits}
    for compartment in result.compartments:
        if all(item.state is State.REMOVED for item in case.model.circuits):
            assert compartment.occupied_mm2 is None  # no circuit is known: what lies there isn't either
            continue
        assert compartment.occupied_mm2 == pytest.approx(sum(by_mark[mark] for mark in compartment.circuits))


@settings(max_examples=150, deadline=None)
@given(cases())
def test_every_cable_lies_in_the_compartments_of_its_route_and_in_no_other(case: Case) -> None:
    result = checked(case.model)
    found = Counter[tuple[str, int, str]]()
    for row in result.cables:
        if row.certain:
            found[row.carrier, row.number, row.circuit] += row.count or 0
    expected = Counter[tuple[str, int, str]]()
    services = {item.mark: item for item in case.model.circuits}
    for route in route_all(case.model).routes:
        item = services[route.circuit]
        for key in route.carriers:
            number = LANE_OF[item.service] if key in case.divided and item.service is not None else 1
            expected[key, number, item.mark] = item.sets * sum(cable.count or 0 for cable in item.cables)
    assert found == expected
    # what isn't routed, and not removed, may lie in every compartment that takes it
    takes = {
        (carrier.key, lane.number, item.mark)
        for item in case.model.circuits
        if item.state is not State.REMOVED and way_mm(case, item) == math.inf
        for carrier in case.model.carriers
        for lane in carrier.section.lanes
        if lane.takes(item.service)
    }
    assert {(row.carrier, row.number, row.circuit) for row in result.cables if not row.certain} == takes


@settings(max_examples=150, deadline=None)
@given(cases(), st.sampled_from([0.0, 0.1]), st.sampled_from([0.0, 300.0]))
def test_the_take_off_is_the_ways_with_drops_and_allowance_of_all_cables(
    case: Case, share: float, end_mm: float
) -> None:
    model = replace(case.model, allowance_share=share, end_allowance_mm=end_mm)
    rows = take_off_rows(model, route_all(model))
    found = sum(row.total_m for row in rows if row.total_m is not None)
    expected = 0.0
    for item in model.circuits:
        way = way_mm(case, item)
        if way < math.inf:
            each = (way + 2 * ABOVE_MM) * (1.0 + share) + 2 * end_mm
            expected += each * item.sets * sum(cable.count or 0 for cable in item.cables)
    assert 1000.0 * found == pytest.approx(expected)
    assert {row.circuit for row in rows} == {item.mark for item in model.circuits if item.state is not State.REMOVED}
    assert all(row.reason for row in rows if row.total_m is None)


@settings(max_examples=100, deadline=None)
@given(cases(), st.data())
def test_sums_are_the_same_however_the_schedule_is_ordered_and_split_into_rows(case: Case, data: st.DataObject) -> None:
    def split(item: Circuit) -> Circuit:
        single = [replace(cable, count=1) for cable in item.cables for _ in range(cable.count or 0)]
        return replace(item, cables=tuple(data.draw(st.permutations(single))))

    circuits = tuple(data.draw(st.permutations([split(item) for item in case.model.circuits])))
    one, other = checked(case.model), checked(replace(case.model, circuits=circuits))

    def lying(result: Result) -> dict[tuple[str, int, str, float | None, bool], int]:
        found = Counter[tuple[str, int, str, float | None, bool]]()
        for row in result.cables:
            found[row.carrier, row.number, row.circuit, row.diameter_mm, row.certain] += row.count or 0
        return found

    def cut(result: Result) -> dict[tuple[str, str], float]:
        found: dict[tuple[str, str], float] = defaultdict(float)
        for row in result.take_off:
            found[row.circuit, row.cable] += row.total_m or 0.0
        return found

    assert lying(one) == lying(other)
    assert cut(one) == pytest.approx(cut(other))
    for row, same in zip(one.compartments, other.compartments, strict=True):
        assert (row.carrier, row.number, row.verdict, row.worst_verdict, row.circuits, row.cables) == (
            same.carrier, same.number, same.verdict, same.worst_verdict, same.circuits, same.cables,
        )  # fmt: skip
        assert row.occupied_mm2 == pytest.approx(same.occupied_mm2)
    assert routes_csv(one) == routes_csv(other)


@settings(max_examples=100, deadline=None)
@given(cases())
def test_every_circuit_is_told_once_routed_or_with_the_reason_and_the_counts_add_up(case: Case) -> None:
    result = checked(case.model)
    rows = list(csv.DictReader(io.StringIO(routes_csv(result).decode())))
    assert sorted(row["circuit"] for row in rows) == sorted(item.mark for item in case.model.circuits)
    is_routed = {item.mark: way_mm(case, item) < math.inf for item in case.model.circuits}
    for row in rows:
        assert bool(row["routed_by"]) == bool(row["segments"]) == is_routed[row["circuit"]]
        assert is_routed[row["circuit"]] or row["reason"]
    counts = count(result)
    assert counts.circuits_read == len(case.model.circuits) == counts.circuits_routed + counts.circuits_unrouted
    assert counts.circuits_routed == sum(is_routed.values())
    assert counts.carriers_read == len(case.model.carriers) == counts.carriers_checked + counts.carriers_unknown


@settings(max_examples=100, deadline=None)
@given(cases(), st.data())
def test_a_carrier_that_is_moved_changes_only_circuits_that_passed_it(case: Case, data: st.DataObject) -> None:
    moved = data.draw(st.sampled_from(case.model.carriers))
    assert moved.start_mm is not None
    assert moved.end_mm is not None
    # up, out of every joint and above all equipment, to which nothing comes nearer by it: 200 mm before, 300 mm now
    start, end = ((x, y, z + 500.0) for x, y, z in (moved.start_mm, moved.end_mm))
    apart = replace(moved, start_mm=start, end_mm=end)
    carriers = tuple(apart if item.key == moved.key else item for item in case.model.carriers)
    before = {route.circuit: route for route in route_all(case.model).routes}
    after = {route.circuit: route for route in route_all(replace(case.model, carriers=carriers)).routes}
    for mark, route in before.items():
        if moved.key not in route.carriers and route.carriers:
            event("another circuit")
            assert (after[mark].visits, after[mark].length_mm) == (route.visits, route.length_mm)
        if not route.carriers:
            assert not after[mark].carriers  # a gap more leads nobody on


def test_what_several_legs_bring_is_counted_as_often_as_they_pass() -> None:
    # DB, S1 in the middle of B, S2 at the end of C: A by the first leg, B by both, which meet end to end, C by the second;
    # and then back to S1: B once more from its middle on, C twice
    line = [carrier(key, (x, 0, 0), (x + 2000.0, 0, 0)) for key, x in (("A", 0.0), ("B", 2000.0), ("C", 4000.0))]
    ends = [outlet("DB", (0, 0, 200)), outlet("S1", (3000, 0, 200)), outlet("S2", (6000, 0, 200))]
    result = checked(installation(*line, *ends, circuit("P1", "DB", "S1", "S2", "S1", count=3)))
    assert {(row.carrier, row.count) for row in result.cables} == {("A", 3), ("B", 6), ("C", 6)}
    # 3 m and 0.4 m of drops, 3 m and 0.4 m, and as much back
    assert sum(row.total_m or 0.0 for row in result.take_off) == pytest.approx(3 * 3 * 3.4)

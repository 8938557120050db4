"""Where the model draws cables tells their compartment where nothing else does, and is told where it contradicts.

K1 is a trunking 225 wide of three compartments, 4 m along x; its compartments count up to +y. Each is 72.9 wide: (225 − 4 · 1.6) / 3.
"""

from dataclasses import replace

import pytest

from checker.model import Circuit, ProblemKind, Section, Service
from checker.network.lanes import LaneBy, said_lane
from checker.network.loading import Loading, load
from checker.network.route import Visit
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, lanes, outlet
from tests.network.test_drawn import line, way_of

POWER, CONTROL, DATA = Service.POWER, Service.CONTROL, Service.DATA
WIDE = Section(width_mm=225.0, height_mm=50.0, wall_mm=1.6, divider_mm=1.6, source="test")


def loaded(services: tuple[Service | None, ...], of: Circuit, y: float) -> tuple[Loading, set[int]]:
    """One circuit drawn in K1 so far across it, and the compartments in which it lies for certain."""
    floor = replace(
        carrier("K1", (0, 0, 0), (4000, 0, 0)), section=replace(WIDE, lanes=lanes(*services)), across=(0, 1, 0)
    )
    cable = line("a", (0, 200, 0), (0, y, 0), (4000, y, 0), (4000, 200, 0))
    inst = installation(floor, outlet("DB", (0, 200, 0)), outlet("S1", (4000, 200, 0)), of, model_cables=(cable,))
    found = load(inst, route_all(inst), load_plugins().codes["bs-7671"].sizes)
    return found, {item.number for item in found.compartments if item.cables}


def told(found: Loading) -> list[tuple[ProblemKind, str]]:
    return [(problem.kind, problem.what) for problem in found.problems]


@pytest.mark.parametrize("y", [0, 10, 22])
def test_a_line_on_the_axis_tells_nothing(y: float) -> None:
    found, lies = loaded((None, None, None), circuit("P1", "DB", "S1", service=DATA), y)
    assert lies == set()
    assert found.lanes_by["P1", "K1"] == "unknown"


def test_off_the_axis_the_drawing_tells_it_where_nothing_else_does() -> None:
    found, lies = loaded((None, None, None), circuit("P1", "DB", "S1", service=DATA), 30)  # the second, up to 36.4
    assert lies == {2}
    assert found.lanes_by["P1", "K1"] == "drawing"


def test_the_schedule_is_believed_before_the_drawing_and_the_contradiction_is_told() -> None:
    found, lies = loaded((None, None, None), circuit("P1", "DB", "S1", service=DATA, compartment=1), 30)
    assert lies == {1}
    assert found.lanes_by["P1", "K1"] == "circuit"
    assert (ProblemKind.ASSUMPTION, "the schedule says compartment 1, and the model draws it in 2: K1") in told(found)


def test_the_service_that_a_compartment_is_for_is_believed_before_the_drawing() -> None:
    found, lies = loaded((POWER, CONTROL, DATA), circuit("P1", "DB", "S1", service=DATA), 30)
    assert lies == {3}
    assert found.lanes_by["P1", "K1"] == "service"
    assert (ProblemKind.ASSUMPTION, "by its service it takes compartment 3, and the model draws it in 2: K1") in told(
        found
    )


def test_a_compartment_that_isnt_for_the_service_isnt_taken_from_the_drawing() -> None:
    """The second is for control; data may lie in the first or the third."""
    found, lies = loaded((DATA, CONTROL, DATA), circuit("P1", "DB", "S1", service=DATA), 30)
    assert lies == set()
    assert found.lanes_by["P1", "K1"] == "unknown"


@pytest.mark.parametrize(
    ("visit", "compartment", "number", "by"),
    [
        (Visit("K1", 0, 1, compartment=3, seen_compartment=2), 1, 3, LaneBy.ROUTE),
        (Visit("K1", 0, 1, seen_compartment=2), 1, 1, LaneBy.CIRCUIT),
        (Visit("K1", 0, 1, seen_compartment=2), None, 2, LaneBy.DRAWING),
        (Visit("K1", 0, 1), None, None, LaneBy.UNKNOWN),
        (Visit("K1", 0, 1, seen_compartment=4), None, None, LaneBy.UNKNOWN),  # there is no fourth
    ],
)
def test_the_order_of_belief(visit: Visit, compartment: int | None, number: int | None, by: LaneBy) -> None:
    floor = replace(carrier("K1", (0, 0, 0), (4000, 0, 0)), section=replace(WIDE, lanes=lanes(None, None, None)))
    choice = said_lane(floor, visit, circuit("P1", "DB", "S1", compartment=compartment))
    assert (choice.number, choice.by) == (number, by)


def test_a_compartment_doesnt_follow_by_side_from_one_drawn_line_to_another() -> None:
    """Two home runs by A, which has three compartments, and by B, which lies on from it: neither line goes from the one to the other."""
    section = replace(WIDE, lanes=lanes(None, None, None))
    a = replace(carrier("A", (0, 0, 0), (4000, 0, 0)), section=section, across=(0, 1, 0))
    b = replace(carrier("B", (4000, 0, 0), (8000, 0, 0)), section=section, across=(0, 1, 0))
    ends = outlet("DB", (4000, 200, 0)), outlet("S1", (0, 200, 0)), outlet("S2", (8000, 200, 0))
    cables = (
        line("a", (4000, 200, 0), (3990, 30, 0), (0, 30, 0), (0, 200, 0)),
        line("b", (4000, 200, 0), (4010, 0, 0), (8000, 0, 0), (8000, 200, 0)),
    )
    inst = installation(a, b, *ends, circuit("P1", "DB", "S1", "S2"), model_cables=cables)
    found = load(inst, route_all(inst), load_plugins().codes["bs-7671"].sizes)
    assert (found.lanes_by["P1", "A"], found.lanes_by["P1", "B"]) == ("drawing", "unknown")


def test_where_across_is_only_a_convention_the_drawing_tells_nothing() -> None:
    section = replace(WIDE, lanes=lanes(None, None, None))
    floor = replace(carrier("K1", (0, 0, 0), (4000, 0, 0)), section=section, across=(0, 1, 0))
    cable = line("a", (0, 200, 0), (0, 30, 0), (4000, 30, 0), (4000, 200, 0))
    for is_known, lane in ((True, 2), (False, None)):
        (visit,) = way_of([cable], replace(floor, is_across_known=is_known)).visits
        assert visit.seen_compartment == lane

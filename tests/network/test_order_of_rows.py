"""What is told of a compartment doesn't go by the order in which the schedule has its rows."""

from dataclasses import replace

import pytest

from checker.model import Cable, Circuit, Service
from checker.network.grouping import group_circuits
from checker.network.loading import load
from checker.network.near_loading import NearLoading
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet

SIZES = load_plugins().codes["bs-7671"].sizes
ENDS = (outlet("DB", (0.0, 100.0, 0.0)), outlet("S", (4000.0, 100.0, 0.0)))
LINE = carrier("T", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), replace(STEEL_50, lanes=lanes(Service.POWER, None)))
LOAD: dict[str, float | str] = {"design_current_a": 8.0, "device_rating_a": 10.0, "loaded_conductors": 2}


def of(mark: str, end: str = "S", compartment: int | None = 1) -> Circuit:
    """Two rows: two live conductors of 2.5 mm², and one of 1.5 mm²."""
    found = circuit(mark, "DB", end, count=2, compartment=compartment, electrical=LOAD)
    thin = Cable(row=3, count=1, diameter_mm=3.0, cores=1, csa_mm2=1.5, conductor="copper", insulation="PVC")
    return replace(found, cables=(*found.cables, thin))


CIRCUITS = [
    of("P10"),
    of("P9"),
    of("Q2", "nowhere"),
    of("Q11", "nowhere"),
    of("A1", compartment=7),
    of("A", compartment=7),
]


@pytest.mark.parametrize("turned", [CIRCUITS[::-1], CIRCUITS[3:] + CIRCUITS[:3]])
def test_compartments_and_enclosures_are_the_same_whatever_the_order_of_circuits_and_of_their_rows(
    turned: list[Circuit],
) -> None:
    first = installation(*ENDS, LINE, *CIRCUITS)
    second = installation(*ENDS, LINE, *(replace(item, cables=item.cables[::-1]) for item in turned))
    found = [load(inst, route_all(inst), SIZES) for inst in (first, second)]
    assert found[0].compartments == found[1].compartments
    assert found[0].problems == found[1].problems
    grouped = [
        group_circuits(inst, route_all(inst), loading).enclosures
        for inst, loading in zip((first, second), found, strict=True)
    ]
    assert [member.load.mark for member in grouped[0]["T"].members] == ["A", "A1", "P9", "P10"]
    assert [
        [
            [(member.load.mark, member.passes) for member in members]
            for members in (item["T"].members, item["T"].possible)
        ]
        for item in grouped
    ] == [[[("A", 1), ("A1", 1), ("P9", 1), ("P10", 1)], [("Q2", 1), ("Q11", 1)]]] * 2


def test_circuits_are_listed_as_people_count() -> None:
    inst = installation(*ENDS, LINE, *CIRCUITS)
    one, other = load(inst, route_all(inst), SIZES).compartments
    assert list(dict.fromkeys(cable.circuit for cable in one.cables)) == ["P9", "P10"]
    assert list(dict.fromkeys(cable.circuit for cable in other.possible)) == ["A", "A1"]
    assert "circuits A, A1 lie isn't known" in " ".join(other.possible_doubts)


def test_what_lies_where_on_the_way_that_was_found_is_the_same_as_on_a_way_that_could_be() -> None:
    """P10 lies in compartment 1 once; A in either, for which compartment it is said to be in doesn't exist."""
    inst = installation(*ENDS, LINE, *CIRCUITS)
    routing = route_all(inst)
    loading = load(inst, routing, SIZES)
    where = NearLoading(inst, routing.network)
    for mark, passes in (("P10", {("T", 1): (1, 0)}), ("A", {("T", 1): (0, 1), ("T", 2): (0, 1)})):
        route = next(item for item in routing.routes if item.circuit == mark)
        assert dict(where.lying(mark, route.visits).compartments) == passes
        for item in loading.compartments:
            sure, perhaps = passes.get(("T", item.number), (0, 0))
            assert tuple(cable for cable in item.cables if cable.circuit == mark) == where.cables(mark, sure)
            assert tuple(cable for cable in item.possible if cable.circuit == mark) == where.cables(mark, perhaps)

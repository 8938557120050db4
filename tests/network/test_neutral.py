"""Which conductor of a circuit of three phases is its neutral, told by size alone."""

import pytest

from checker.model import Cable, Circuit, Service
from checker.model.loads import Neutral
from checker.network.electrical import circuit_load

Row = tuple[int, int, float]


def neutral(*rows: Row, loaded: int = 3, **more: object) -> Neutral:
    """Of rows of count, cores and mm²."""
    cables = tuple(
        Cable(row=number, count=count, cores=cores, csa_mm2=size, conductor="Cu", insulation="pvc")
        for number, (count, cores, size) in enumerate(rows)
    )
    load = circuit_load(
        Circuit("C1", "DB", ("S",), Service.POWER, cables=cables, electrical={"loaded_conductors": loaded}, **more)  # type: ignore[arg-type]
    )
    assert load.neutral is not None
    return load.neutral


@pytest.mark.parametrize(
    ("rows", "loaded", "line", "least", "most"),
    [
        (((1, 4, 16.0),), 3, 16.0, 16.0, 16.0),  # one of the cores of a cable
        (((1, 5, 16.0),), 4, 16.0, 16.0, 16.0),
        (((4, 1, 16.0), (1, 1, 10.0)), 3, 16.0, 16.0, 16.0),  # the fourth of one size; what is thinner is protective
        (((5, 1, 16.0),), 3, 16.0, 16.0, 16.0),
        (((3, 1, 95.0), (2, 1, 50.0)), 3, 95.0, 50.0, 50.0),  # neutral and protective conductor are both of 50
        (((3, 1, 95.0), (1, 1, 50.0)), 4, 95.0, 50.0, 50.0),  # four are loaded, so the fourth is the neutral
        (((3, 1, 95.0), (1, 1, 50.0)), 3, 95.0, None, 50.0),  # it may be protective
        (((3, 1, 95.0), (1, 1, 50.0), (1, 1, 25.0)), 3, 95.0, 25.0, 50.0),  # the one or the other
        (((3, 1, 50.0), (1, 1, 95.0), (1, 1, 25.0)), 4, 50.0, 25.0, 95.0),  # a neutral thicker than the lines, perhaps
        (((4, 1, 50.0), (1, 1, 95.0)), 4, 50.0, 50.0, 95.0),  # the fourth of 50 or the thicker one
    ],
)
def test_the_neutral_is_what_sizes_leave_for_it(
    rows: tuple[Row, ...], loaded: int, line: float, least: float | None, most: float
) -> None:
    found = neutral(*rows, loaded=loaded)
    assert (found.line_mm2, found.least_mm2, found.most_mm2) == (line, least, most)
    assert found.is_as_lines is (line == least == most)
    assert bool(found.doubt) is (least != most)
    assert (found.conductor, found.insulation) == ("copper", "PVC")


@pytest.mark.parametrize(
    ("rows", "doubt"),
    [
        (((1, 3, 16.0),), "no core for a neutral"),
        (((1, 3, 16.0), (1, 1, 10.0)), "may be protective"),
        (((1, 4, 16.0), (1, 4, 10.0)), "multicore cables differ"),
        (((3, 1, 16.0),), "no conductor for a neutral"),
        (((3, 1, 16.0), (3, 1, 10.0)), "which of its conductors are the lines"),
        (((2, 1, 16.0), (2, 1, 10.0)), "which of its conductors are the lines"),
        (((6, 1, 95.0), (2, 1, 50.0)), "6 conductors of 95 mm², which may be several a phase"),
    ],
)
def test_where_sizes_dont_tell_it_nothing_is_said_but_why(rows: tuple[Row, ...], doubt: str) -> None:
    found = neutral(*rows)
    assert (found.line_mm2, found.least_mm2, found.most_mm2) == (None, None, None)
    assert doubt in found.doubt
    assert not found.is_as_lines


@pytest.mark.parametrize("column", ["cable", "count", "csa_mm2", "insulation"])
def test_what_cant_be_read_makes_it_unknown(column: str) -> None:
    found = neutral((3, 1, 95.0), (1, 1, 50.0), loaded=4, unread=(column,))
    assert found.most_mm2 is None
    assert found.doubt


def test_there_is_a_question_only_where_three_phases_are_given() -> None:
    cables = (Cable(row=1, count=2, cores=1, csa_mm2=2.5),)
    for given in ({"loaded_conductors": 2}, {}):
        circuit = Circuit("C1", "DB", ("S",), Service.POWER, cables=cables, electrical=given)  # type: ignore[arg-type]
        assert circuit_load(circuit).neutral is None

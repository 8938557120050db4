"""What is asked for where the live conductors of a circuit aren't known: only what its rows leave open."""

from dataclasses import replace
from typing import Any

import pytest

from checker.model import Cable
from checker.network.electrical import circuit_load
from rules.grouping.figures import need_of_doubt
from tests.installations import circuit

WHOLE = Cable(2, "", 1, 15.0, csa_mm2=6.0, cores=4, conductor="copper", insulation="PVC")
GIVEN = {"design_current_a": 15.0, "device_rating_a": 20.0, "loaded_conductors": 3}


def need(unread: tuple[str, ...] = (), **blank: Any) -> str:
    """What is asked of a circuit of one row, of which something is blank."""
    made = circuit("UP-08", "DB", "AC-1", electrical=GIVEN)
    load = circuit_load(replace(made, cables=(replace(WHOLE, **blank),), unread=unread))
    assert load.doubt
    return need_of_doubt(load)


@pytest.mark.parametrize(
    ("unread", "blank", "asked"),
    [
        (("count",), {"count": None}, "the number of cables of circuit UP-08"),
        ((), {"count": None}, "the number of cables of circuit UP-08"),
        (("cable",), {"diameter_mm": None}, "the diameter of the cables of circuit UP-08"),
        (("cores",), {"cores": None}, "the number of cores of the cables of circuit UP-08"),
        (("csa_mm2",), {"csa_mm2": None}, "the conductor size of circuit UP-08"),
        (("sets",), {}, "the sets of circuit UP-08"),
        (("cable",), {}, "the live conductors of circuit UP-08"),  # its size is there, so it is no size that is missing
        ((), {"cores": 2}, "the live conductors of circuit UP-08"),  # fewer cores than are loaded
    ],
)
def test_it_asks_for_the_column_that_is_open(unread: tuple[str, ...], blank: dict[str, Any], asked: str) -> None:
    assert need(unread, **blank) == asked


def test_a_circuit_that_is_whole_has_no_doubt() -> None:
    made = circuit("UP-08", "DB", "AC-1", electrical=GIVEN)
    assert circuit_load(replace(made, cables=(WHOLE,))).doubt == ""

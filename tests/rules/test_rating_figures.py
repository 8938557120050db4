"""The rating tables, against published values beside the project, and against themselves."""

import csv
import math
from pathlib import Path

import pytest

from checker.model import CarrierKind, CircuitLoad, Laying, State
from checker.rule.plugins import load_plugins
from rules.grouping.base import Surrounding, alone
from rules.grouping.limits import RatingLimits


def limits_of(code: str) -> RatingLimits:
    limits = load_plugins().codes[code].limits["grouping.rating"]
    assert isinstance(limits, RatingLimits)
    return limits


def multicore(csa_mm2: float, ambient_c: float) -> CircuitLoad:
    return CircuitLoad(
        "C1", None, State.NEW, is_loaded=True, is_single_core=False, csa_mm2=csa_mm2, conductor="copper", insulation="PVC",
        loaded_conductors=3, ambient_c=ambient_c, third_harmonic=0.0, method="B2",
    )  # fmt: skip


@pytest.mark.corpus
@pytest.mark.parametrize("code", ["bs-7671", "iec-60364"])
def test_published_ratings_at_other_ambients_come_out(shared: Path, code: str) -> None:
    with (shared / "figures" / "7e_ambient_check_B2_some.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) > 20
    in_trunking = Surrounding(CarrierKind.TRUNKING, Laying())
    for row in rows:
        found = alone(
            multicore(float(row["csa_mm2"]), float(row["ambient_C"])), in_trunking, limits_of(code), is_strict=True
        )
        assert found.amps == pytest.approx(float(row["base_x_Ca"]), abs=0.005), row
        assert math.floor(found.amps + 0.5) == int(row["published_A"]), row


@pytest.mark.corpus
@pytest.mark.parametrize(
    ("table", "figures", "columns"),
    [
        ("base_ratings.csv", "4g_base_ampacity_cu.csv", {}),
        ("ambient_air.csv", "4d_B52_14_ambient_air.csv", {"ambient_C": "ambient_c"}),
        ("grouping_bunched.csv", "4a_B52_17.csv", {"circuits_or_multicore_cables": "circuits"}),
        ("grouping_multicore_layers.csv", "4b_B52_20_multicore_trays.csv", {"cables_per_tray": "cables"}),
        ("grouping_single_core_layers.csv", "4c_B52_21_single_core_trays.csv", {"three_phase_circuits": "circuits"}),
    ],
)
def test_tables_are_those_that_were_worked_out(shared: Path, table: str, figures: str, columns: dict[str, str]) -> None:
    with (shared / "figures" / figures).open(encoding="utf-8", newline="") as stream:
        given = [{columns.get(name, name): text for name, text in row.items()} for row in csv.DictReader(stream)]
    ours = load_plugins().tables[table].rows
    names = [name for name in ours[0] if name in given[0]]
    assert len(names) >= 5
    assert [[row[name] for name in names] for row in ours] == [[row[name] for name in names] for row in given]


def test_more_circuits_never_have_a_higher_factor() -> None:
    for table, count, keys in (
        ("grouping_bunched.csv", "circuits", ("item",)),
        ("grouping_multicore_layers.csv", "cables", ("installation", "spacing", "trays")),
        ("grouping_single_core_layers.csv", "circuits", ("installation", "formation", "trays")),
    ):
        rows: dict[tuple[str, ...], list[tuple[int, float]]] = {}
        for row in load_plugins().tables[table].rows:
            rows.setdefault(tuple(row[key] for key in keys), []).append((int(row[count]), float(row["factor"])))
        assert rows
        for key, found in rows.items():
            factors = [factor for _, factor in sorted(found)]
            assert factors == sorted(factors, reverse=True), (table, key)


def test_a_larger_conductor_carries_more_and_three_loaded_less_than_two() -> None:
    rows = load_plugins().tables["base_ratings.csv"].rows
    amps = {
        (row["insulation"], row["loaded"], row["method"], float(row["csa_mm2"])): float(row["amps"]) for row in rows
    }
    by_column: dict[tuple[str, str, str], list[float]] = {}
    for (insulation, loaded, method, _), value in sorted(amps.items()):
        by_column.setdefault((insulation, loaded, method), []).append(value)
    assert all(column == sorted(column) for column in by_column.values())
    for (insulation, loaded, method, csa), value in amps.items():
        if loaded == "3" and (insulation, "2", method, csa) in amps:
            assert value < amps[insulation, "2", method, csa]
        if insulation == "PVC":
            assert value < amps["XLPE", loaded, method, csa]

"""What segregation.spacing is asked about, and its tables."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from checker.model import (
    Carrier,
    CarrierKind,
    CarrierPair,
    CircuitLoad,
    Member,
    Place,
    PlacedCable,
    Section,
    Service,
    Side,
    State,
)
from checker.rule.needs import WALL, of_type
from checker.rule.plugins import load_plugins
from rules.segregation.separation import FIBRE, containment, factor, separations
from rules.segregation.spacing import SpacingLimits, asks

TABLES = Path(__file__).parents[2] / "rules" / "tables"


def limits() -> SpacingLimits:
    found = load_plugins().codes["bs-7671"].limits["segregation.spacing"]
    assert isinstance(found, SpacingLimits)
    return found


def side(key: str, *cables: tuple[str, Service | None, str], possible: bool = False) -> Side:
    """A carrier with cables, each of a circuit of one 20 A phase: mark, service and key."""
    loads = [CircuitLoad(mark, service, State.NEW, is_loaded=service is not Service.DATA, loaded_conductors=2, device_rating_a=20.0)
             for mark, service, _ in cables]  # fmt: skip
    placed = tuple(PlacedCable(mark, service, name, 1, None) for mark, service, name in cables)
    members = tuple(Member(load) for load in loads)
    made = Side(Carrier(key, Place(key, "test"), CarrierKind.TRAY, Section()))
    if possible:
        return replace(made, possible_members=members, possible=placed)
    return replace(made, members=members, cables=placed)


DATA, POWER = side("D", ("D1", Service.DATA, "cat6-u-utp")), side("P", ("P1", Service.POWER, ""))


@pytest.mark.parametrize(
    ("circuits", "p"),
    [(0, 0.0), (1, 0.2), (3, 0.2), (4, 0.4), (7, 0.6), (12, 0.8), (13, 1.0), (15, 1.0), (16, 2.0), (30, 2.0), (31, 3.0), (46, 4.0),
     (61, 5.0), (75, 5.0), (76, 6.0), (float("inf"), 6.0)],
)  # fmt: skip
def test_the_factor_goes_by_the_number_of_circuits(circuits: float, p: float) -> None:
    # figures/5_segregation.toml, P_by_20A_single_phase_circuits
    assert factor(limits().factors, circuits) == p


@pytest.mark.parametrize(
    ("name", "containment", "circuits", "mm"),
    [("b", "open metal", 14, 75.0), ("b", "none", 20, 200.0), ("c", "perforated metal", 8, 15.0), ("d", "none", 40, 30.0),
     ("b", "open metal", 80, 450.0)],
)  # fmt: skip
def test_published_distances_come_out(name: str, containment: str, circuits: int, mm: float) -> None:
    # figures/5_segregation.toml, worked; the last is 75 · 6, which one page misprints as 400
    assert separations(limits().separations)[name, containment] * factor(limits().factors, circuits) == pytest.approx(
        mm
    )


def test_every_data_cable_of_metal_has_a_class_or_is_said_to_have_none_and_fibre_has_no_question() -> None:
    with (TABLES / "cables.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    with (TABLES / "data_cable_classes.csv").open(encoding="utf-8", newline="") as stream:
        classed = {row["key"] for row in csv.DictReader(stream)}
    of_metal = {row["key"] for row in rows if row["family"] in {"data, four pairs", "coaxial"}}
    assert of_metal - classed == {"cat8-s-ftp"}  # our source has no class for category 8
    fibre = {row["key"] for row in rows if row["family"] == "fibre"}
    assert fibre == {row["key"] for row in rows if row["key"].startswith(FIBRE)}
    assert fibre


@pytest.mark.parametrize(
    ("one", "other", "clear_mm", "is_asked"),
    [
        (DATA, POWER, 100.0, True),
        (POWER, DATA, 100.0, True),
        (DATA, POWER, 300.0, True),
        # one circuit wants 60 mm at the most, and what is farther apart than 300 mm isn't asked
        (DATA, POWER, 301.0, False),
        (DATA, side("P", *((f"P{n}", Service.POWER, "") for n in range(6))), 360.0, True),
        (DATA, side("P", *((f"P{n}", Service.POWER, "") for n in range(6))), 361.0, False),
        (DATA, DATA, 100.0, False),
        (POWER, POWER, 100.0, False),
        (side("F", ("F1", Service.DATA, "fibre-simplex")), POWER, 10.0, False),
        (DATA, side("P", ("P1", Service.POWER, ""), possible=True), 100.0, True),
        (side("D", ("D1", Service.DATA, "cat6-u-utp"), possible=True), POWER, 100.0, True),
        (side("D", ("D1", Service.DATA, ""), possible=True), side("P", ("P1", Service.POWER, ""), possible=True), 100.0, False),
        (DATA, side("L", ("L1", Service.ELV, "")), 10.0, False),
        (DATA, side("X", ("X1", None, "")), 10.0, True),
    ],
)  # fmt: skip
def test_asked_is_of_data_and_power_of_which_one_is_certain_near_enough_to_matter(
    one: Side, other: Side, clear_mm: float, *, is_asked: bool
) -> None:
    assert asks(CarrierPair(one, other, clear_mm, 3.0, 3.0)) is is_asked


def test_tables_that_want_more_than_is_looked_for_are_refused() -> None:
    from checker.rule import Table

    mine = limits()
    given = {name: getattr(mine, name) for name in SpacingLimits.model_fields}
    rows = "from_circuits,to_circuits,p,source,confidence\n1,,7,test,high\n"
    with pytest.raises(ValueError, match="isn't looked for"):
        SpacingLimits(**{**given, "factors": Table.parse("more.csv", rows)})


def test_what_is_open_of_a_carrier_is_asked_in_the_words_that_others_ask_it_in() -> None:
    trunking = Carrier("T-1", Place("T-1", "test", tag="T-1"), CarrierKind.TRUNKING, Section())
    walls = limits().solid_steel_mm, limits().solid_aluminium_mm
    assert containment(trunking, *walls)[1] == (of_type("material", trunking), of_type(WALL, trunking))
    # 1.2 mm are solid of steel and not of aluminium
    between = replace(trunking, material="Metal", section=Section(wall_mm=1.2))
    assert containment(between, *walls)[1] == (of_type("material", between),)

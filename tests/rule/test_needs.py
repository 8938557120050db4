"""The words of questions lead to where their answer is said."""

import pytest

from checker.model import Carrier, CarrierKind, Place, PlacedCable, Section
from checker.rule.needs import LOST_ROWS, all_answered, answered_in, limit_of, of_cable, of_circuit, of_sizes, of_type

CARRIER = Carrier("K", Place("K", "m", tag="T-1"), CarrierKind.TRUNKING, Section())


@pytest.mark.parametrize(
    ("need", "where"),
    [
        ("the design current of circuit C 1/2", "schedule, design_current_a of C 1/2"),
        ("the way of circuit C1", "schedule, from, to and route of C1"),
        ("the diameter of cable h07v-r-16", "schedule, diameter_mm; or [[cables]] in wayroom.toml"),
        ("the diameter of the cables of circuit C1", "schedule, diameter_mm of C1"),
        ("the mass of cable h07v-r-16", "schedule, mass_kg_per_km; or [[cables]] in wayroom.toml"),
        ("the wall of type 'T-150 of steel'", "wayroom.toml, [[types]] name = 'T-150 of steel', wall_mm"),
        ("the wall of carrier T-1", "model, T-1"),
        ("the partition of fitting TEE-1", "wayroom.toml, [[fittings]] name = 'TEE-1'"),
        ("a limit of the project for fill.tray", 'wayroom.toml, [limits."fill.tray"]'),
        ("the length of the run of C-1", "model, C-1"),
        ("the neutral of circuit C1", "schedule, loaded_conductors, csa_mm2 and cores of C1"),
        ("the cables of circuit C1", "schedule, cable, count and cores of C1"),
        ("the kind of current of circuit C1", "schedule, service of C1"),
        ("the construction of cable own", "schedule, cable"),
        ("the construction of the cables of circuit C1", "schedule, cable of C1"),
        ("the class of data cable own", "schedule, cable"),
        ("the material of type 'T-1'", "model, type 'T-1'"),
        ("the inside diameter of conduit C-1", "model, C-1"),
        ("where the run of conduit C-1 ends and turns", "model, conduit C-1"),
        ("the way through wall W-1 (EI 60) of carrier T-1", "model, T-1"),
        (
            "whether the containment of one side is enough (one_side_is_enough)",
            'wayroom.toml, [limits."segregation.spacing"] one_side_is_enough',
        ),
        ("the colour of circuit C1", "schedule, C1"),
        ("something else", ""),
    ],
)
def test_a_question_says_where_it_is_answered(need: str, where: str) -> None:
    assert answered_in(need)[0] == where


def test_where_one_question_has_no_place_for_an_answer_the_others_settle_nothing() -> None:
    way = of_circuit("way", "C1")
    assert all_answered([way, way]) == (way,)
    assert all_answered([way, "what a thin wall shields"]) == ()
    assert all_answered([way, ""]) == ()


def test_lost_rows_are_mended_in_the_schedule() -> None:
    assert answered_in(LOST_ROWS)[0] == "schedule, the rows that problems.csv names"


def test_the_same_question_is_in_the_same_words() -> None:
    keyed = PlacedCable("C1", None, "feed", 1, None)
    assert (
        of_cable("diameter", keyed)
        == of_cable("diameter", PlacedCable("C2", None, "feed", 3, None))
        == "the diameter of cable feed"
    )
    assert of_type("wall", CARRIER) == "the wall of carrier T-1"
    assert (of_circuit("way", "C1"), limit_of("fill.area")) == (
        "the way of circuit C1",
        "a limit of the project for fill.area",
    )


def test_sizes_and_numbers_that_are_not_known_are_asked_for_once_each() -> None:
    cables = [
        PlacedCable("C1", None, "", None, None),
        PlacedCable("C1", None, "", None, None),
        PlacedCable("C2", None, "", 2, 50.0),
    ]
    assert of_sizes(cables) == ("the diameter of the cables of circuit C1", "the number of cables of circuit C1")

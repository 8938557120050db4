"""Which questions settle what: by cases whose answer is arithmetic.

Twenty single cores of 7.8 mm take 20 · π/4 · 7.8² = 955.7 mm², between the 871.2 and 1125.0 mm² that trunking of 50 x 50 allows whose wall
isn't known; seventeen take 812.3 mm², which is within both, and twenty-seven 1290.2 mm², which is over both.
"""

from dataclasses import replace

import pytest

from checker.model import CarrierKind, Condition, Installation, Section, Service
from checker.result.question_tables import QuestionRow
from checker.result.tables import Result
from tests.installations import installation
from tests.questions.asked import OPEN_50, answered, astray, checked, ends, length, on, unknown

WALL = "the wall of type 'T-50'"
STEEL = replace(OPEN_50, wall_mm=1.0)
POWER_LOAD = {"loaded_conductors": 2.0, "design_current_a": 10.0, "device_rating_a": 16.0}


def asked(result: Result) -> list[tuple[str, int, int, int]]:
    """Question, what it settles, what is settled with it, and what it touches."""
    return [(row.question, row.settles, row.together, row.touches) for row in result.questions]


def row(result: Result, question: str) -> QuestionRow:
    (found,) = (row for row in result.questions if row.question == question)
    return found


def three(*circuits: int) -> Installation:
    """Three lengths of one type, each with so many cables."""
    parts = [(length(f"K{n}", n), *ends(n), on(n, f"C{n}", count)) for n, count in enumerate(circuits)]
    return installation(*(item for part in parts for item in part))


def test_one_wall_settles_all_lengths_of_its_type() -> None:
    result = checked(three(20, 20, 20))
    assert asked(result) == [(WALL, 3, 3, 3)]
    found = row(result, WALL)
    assert found.where == "wayroom.toml, [[types]] name = 'T-50', wall_mm"
    assert (found.rank, found.rules, found.circuits, found.carriers) == (1, ("fill.compartment",), 3, 3)
    assert found.examples == ("K0/1", "K1/1", "K2/1")


@pytest.mark.parametrize("share", [0.0, 0.4, 1.0])
def test_the_answer_settles_as_many_as_was_promised(share: float) -> None:
    before = three(20, 20, 20)
    assert len(unknown(checked(before))) == 3
    assert not unknown(checked(answered(before, WALL, share, "K0")))


def test_what_is_within_or_over_for_every_wall_asks_nothing() -> None:
    assert asked(checked(three(17, 17, 27))) == []


def test_a_circuit_astray_that_decides_alone_is_the_only_question() -> None:
    # seventeen with ten more are over for every wall, and without them within for every wall
    parts = (length("K0", 0), *ends(0), on(0, "C0", 17), astray("X", 10))
    assert asked(checked(installation(*parts))) == [("the way of circuit X", 1, 1, 1)]


def test_where_neither_settles_alone_both_are_asked() -> None:
    # with three more it is 955.7 mm²: whether X lies there decides only with the wall, and the wall only with X
    parts = (length("K0", 0), *ends(0), on(0, "C0", 17), astray("X", 3))
    # of two that as many hang on, the one that comes first by its words
    assert asked(checked(installation(*parts))) == [(WALL, 0, 0, 1), ("the way of circuit X", 1, 1, 1)]


@pytest.mark.parametrize(
    ("wall", "expected"),
    [
        # with a wall of 1.0 to 1.1 mm 45 % is 1036.8 to 1028.2 mm², within a hundredth: the diameter decides alone
        ((1.0, 1.1), [("the diameter of the cables of circuit R", 1, 1, 1)]),
        # with 0.5 to 3.0 mm it is 1080.5 to 871.2 mm²: one of 14 mm, 966.2 mm² in all, hangs on the wall as well
        ((0.5, 3.0), [("the diameter of the cables of circuit R", 0, 0, 1), (WALL, 1, 1, 1)]),
    ],
)
def test_a_range_is_asked_about_with_all_that_matters_beside_it(
    wall: tuple[float, float], expected: list[tuple[str, int, int, int]]
) -> None:
    # 17 of 7.8 mm and one of 8 to 20 mm: 862.6 to 1126.5 mm²
    ranged = on(0, "R", 1, 20.0)
    ranged = replace(ranged, cables=(replace(ranged.cables[0], diameter_least_mm=8.0),))
    parts = (length("K0", 0, replace(OPEN_50, wall_range_mm=wall)), *ends(0), on(0, "C0", 17), ranged)
    assert asked(checked(installation(*parts))) == expected


def test_the_question_that_settles_most_comes_first_and_counts_go_on() -> None:
    # two lengths hang on the wall, one of another type on its own wall, one circuit on its design current and device
    other = replace(OPEN_50, width_mm=50.0)
    parts = [
        *(item for n in (0, 1) for item in (length(f"K{n}", n), *ends(n), on(n, f"C{n}"))),
        length("K2", 2, other, type_name="U-50"), *ends(2), on(2, "C2"),
        length("K3", 3, STEEL), *ends(3), on(3, "C3", 2, electrical={"loaded_conductors": 2.0, "device_rating_a": 16.0}),
    ]  # fmt: skip
    assert asked(checked(installation(*parts))) == [
        (WALL, 2, 2, 2),
        ("the design current of circuit C3", 1, 3, 1),
        ("the wall of type 'U-50'", 1, 4, 1),
    ]


def test_a_limit_that_only_the_project_can_give_is_asked_for() -> None:
    tray = Section(width_mm=300.0, height_mm=60.0, usable_depth_mm=50.0, wall_mm=1.5, source="test")
    parts = (length("K0", 0, tray, CarrierKind.TRAY), *ends(0), on(0, "C0", 5))
    result = checked(installation(*parts))
    assert asked(result) == [("a limit of the project for fill.tray", 1, 1, 1)]
    assert result.questions[0].where == 'wayroom.toml, [limits."fill.tray"]'


def test_rows_of_the_schedule_that_are_lost_are_one_question_for_all_that_they_keep_unknown() -> None:
    parts = [(length(f"K{n}", n, STEEL), *ends(n), on(n, f"C{n}", 5)) for n in range(3)]
    lost = installation(*(item for part in parts for item in part), lost_rows=(7, 9))
    # fill and segregation of each length
    assert asked(checked(lost)) == [("the rows of the schedule whose circuit isn't known", 6, 6, 6)]


def test_an_existing_carrier_asks_what_lies_there_already() -> None:
    there = replace(length("K0", 0, STEEL), condition=Condition.EXISTING)
    result = checked(installation(there, *ends(0), on(0, "C0", 5)))
    assert asked(result) == [("the circuits that are there already", 2, 2, 2)]


def test_voltages_that_decide_are_asked_for() -> None:
    power, data = on(0, "C0", 5, voltage_v=None), on(0, "D0", 1, service=Service.DATA, voltage_v=None)
    questions = [row.question for row in checked(installation(length("K0", 0, STEEL), *ends(0), power, data)).questions]
    assert questions == [
        "the rated voltage of the cables of circuit C0",
        "the rated voltage of the cables of circuit D0",
        "the voltage of circuit C0",
    ]


def test_a_service_is_asked_for() -> None:
    parts = (length("K0", 0, STEEL), *ends(0), on(0, "C0", 5), on(0, "E0", 1, service=None))
    assert asked(checked(installation(*parts))) == [("the service of circuit E0", 1, 1, 1)]


def test_a_circuit_without_a_way_asks_for_it_and_for_what_its_rating_lacks_besides() -> None:
    lone = astray("X", 2, electrical={"loaded_conductors": 2.0, "device_rating_a": 16.0})
    result = checked(installation(length("K0", 0, STEEL), *ends(0), lone))
    assert {row.question for row in result.questions} == {"the way of circuit X", "the design current of circuit X"}
    assert [row.together for row in result.questions] == [0, 1]


def test_what_no_question_is_known_of_has_the_last_row() -> None:
    # aluminium has no table: no answer of the user's helps
    item = on(0, "C0", 2, electrical=dict(POWER_LOAD))
    metal = replace(item, cables=(replace(item.cables[0], conductor="aluminium"),))
    result = checked(installation(length("K0", 0, STEEL), *ends(0), metal))
    (last,) = result.questions
    assert (last.rank, last.question, last.touches) == (0, "not known what would settle the rest", 1)
    assert last.examples == ("circuit C0",)


def test_where_too_much_is_unknown_to_ask_about_each_all_that_is_open_counts_and_that_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # with a budget that the first length uses up, X's way counts for the others, too, though all of them hang on the wall alone
    monkeypatch.setattr("checker.questions.unknowns.MOST_ASKED", 1)
    result = checked(replace(three(20, 20, 20), circuits=(*three(20, 20, 20).circuits, astray("X", 1, 1.0))))
    fills = [row for row in result.questions if "fill.compartment" in row.rules]
    assert {row.question for row in fills} == {WALL, "the way of circuit X"}
    told = [problem for problem in result.problems if "too much unknown" in problem.what]
    assert len(told) == 1
    assert told[0].elements == 2


def test_the_way_of_a_thin_cable_does_not_keep_a_wall_from_settling_a_length() -> None:
    # 0.8 mm² more or less moves the fill by a thousandth of the limit
    result = checked(replace(three(20, 20, 20), circuits=(*three(20, 20, 20).circuits, astray("X", 1, 1.0))))
    assert asked(result)[0] == (WALL, 3, 3, 3)
    assert not [problem for problem in result.problems if "too much unknown" in problem.what]


@pytest.mark.parametrize(("number", "expected"), [(12, 11), (13, 1)])
def test_the_ways_of_many_circuits_that_are_needed_together_are_one_question(number: int, expected: int) -> None:
    # each takes 47.8 mm² beside seventeen, 812.3 of 1036.8 mm²: four may lie there, and a fifth may not; one
    # of them alone moves the fill by 4.6 % of the limit, so that it falls away
    parts = (length("K0", 0, STEEL), *ends(0), on(0, "C0", 17), *(astray(f"X{n}", 1) for n in range(number)))
    rows = asked(checked(installation(*parts)))
    assert len(rows) == expected
    assert rows[-1][1:] == (1, 1, 1)
    assert (rows[0][0] == "the ways of all circuits") is (expected == 1)

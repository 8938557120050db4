"""What settles room for later: the same as what settles how full it is, found by asking again."""

from dataclasses import replace

from checker.checking import check_installation
from checker.model import CarrierKind, Circuit, Installation, Section
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from tests.installations import installation
from tests.questions.asked import astray, code_of, ends, length, on

SPARE = {"fill.spare": {"spare_share": 0.25, "reason": "a second phase"}}


def checked(installed: Installation) -> Result:
    """An installation as it is asked how full it is and whether there is 25 % room besides."""
    plugins = load_plugins()
    code = tightened(code_of("fill.compartment", "fill.conduit", "fill.spare"), SPARE, "the test", plugins.rules)
    return check_installation(installed, code, plugins)


def of_unknown_cores(mark: str) -> Circuit:
    found = on(0, mark, 1, 3.9)
    return replace(found, cables=(replace(found.cables[0], csa_mm2=2.5, cores=None),))


def test_the_way_of_a_thin_cable_does_not_keep_a_wall_from_settling_the_spare() -> None:
    # fifteen of 7.8 mm take 716.8 mm², within 45 % for every wall; with 25 % more 895.9, between the 871.2 and 1125.0 that walls
    # of 3 to 0 mm allow, and the 0.8 mm² of X move that by a thousandth
    parts = [item for n in range(3) for item in (length(f"K{n}", n), *ends(n), on(n, f"C{n}", 15))]
    rows = checked(installation(*parts, astray("X", 1, 1.0))).questions
    assert [(row.question, row.settles, row.together, row.rules) for row in rows] == [
        ("the wall of type 'T-50'", 3, 3, ("fill.spare",))
    ]


def test_what_matters_once_the_rules_own_question_is_answered_is_asked_with_it() -> None:
    # if it has several cores it goes by area: 11.9 mm², with the three of X 155.3, of 227.0 to 490.9 mm² inside, 68 to 32 % of 45 %
    section = Section(outside_diameter_mm=25.0, source="test")
    conduit = length("K0", 0, section, CarrierKind.CONDUIT, "C-25")
    rows = checked(installation(conduit, *ends(0), of_unknown_cores("C"), on(0, "D", 0), astray("X", 3))).questions
    assert {row.question for row in rows} == {
        "the number of cores of the cables of circuit C",
        "the wall of type 'C-25'",
        "the way of circuit X",
    }
    # neither the fill nor the spare is settled before the last of them
    assert [row.together for row in rows] == [0, 0, 2]


def test_a_multicore_cable_without_a_size_is_asked_for_with_the_cores_of_another() -> None:
    section = Section(outside_diameter_mm=25.0, bore_mm=21.8, source="test")
    conduit = length("K0", 0, section, CarrierKind.CONDUIT, "C-25")
    blank = on(0, "M", 1, None)
    blank = replace(blank, cables=(replace(blank.cables[0], cores=3),))
    rows = checked(installation(conduit, *ends(0), of_unknown_cores("C"), blank)).questions
    assert {row.question for row in rows} == {
        "the number of cores of the cables of circuit C",
        "the diameter of the cables of circuit M",
    }
    assert [row.together for row in rows] == [0, 2]

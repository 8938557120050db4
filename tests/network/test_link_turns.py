"""By how much the way turns from one conduit through fittings into another, and when that can't be told of their centres."""

from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import Body, Fitting, FittingKind, Installation, Vec
from checker.network.link_turns import Leaving, Turns, turns_between
from checker.rule.plugins import load_plugins
from tests.installations import circuit, fitting, installation, outlet
from tests.network.joined import conduit

PLUGINS = load_plugins()
X, Y, Z, BACK = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0)
BEND = FittingKind.BEND


def elbow(key: str, centre: Vec, low: Vec, high: Vec) -> Fitting:
    """A bend of which the body's box is given by two corners, placed at ``centre``."""
    middle = tuple((a + b) / 2 for a, b in zip(low, high, strict=True))
    half = tuple((b - a) / 2 for a, b in zip(low, high, strict=True))
    body = Body(middle, (X, Y, Z), half)  # type: ignore[arg-type]
    return replace(fitting(key, centre, BEND), body=body)


def turns(one: tuple[Vec, Vec], *rest: Fitting, to: tuple[Vec, Vec]) -> Turns | None:
    return turns_between(Leaving(*one), rest, Leaving(*to))


def test_a_bend_between_two_conduits_turns_by_the_angle_between_them_wherever_it_is_placed() -> None:
    for centre in ((60.0, 0.0, 0.0), (0.0, 0.0, 0.0), (35.0, 25.0, 0.0)):  # its corner, its end, the middle of its body
        found = turns(((0, 0, 0), X), fitting("B", centre, BEND), to=((60, 60, 0), (0.0, -1.0, 0.0)))
        assert found == Turns((pytest.approx(90.0),), is_all=True)  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", [BEND, FittingKind.CONNECTOR, FittingKind.UNKNOWN])
def test_a_set_that_is_one_fitting_turns_more_than_its_ends_show(kind: FittingKind) -> None:
    # 100 mm aside over 100 mm: two bends of 45° at the least, though both conduits run along x
    assert turns(((0, 0, 0), X), fitting("S", (50, 50, 0), kind), to=((100, 100, 0), BACK)) == Turns(
        (0.0,), is_all=False
    )


def test_a_bend_whose_ends_are_in_line_is_a_saddle_or_none_at_all() -> None:
    assert turns(((0, 0, 0), X), fitting("S", (150, 40, 0), BEND), to=((300, 0, 0), BACK)) == Turns(
        (0.0,), is_all=False
    )
    found = turns(((0, 0, 0), X), fitting("S", (150, 0, 0), FittingKind.CONNECTOR), to=((300, 0, 0), BACK))
    assert found == Turns((0.0,), is_all=True)


def test_an_eccentric_reducer_is_no_set() -> None:
    found = turns(((0, 0, 0), X), fitting("R", (30, 0, 0), FittingKind.REDUCER), to=((60, 9, 0), BACK))
    assert found == Turns((0.0,), is_all=True)


def test_a_bend_between_conduits_whose_lines_pass_each_other_by_turns_twice() -> None:
    # from x into y, but 200 mm higher: it goes up on its way, so that it turns by more than 90°
    found = turns(((0, 0, 0), X), fitting("B", (60, 0, 100), BEND), to=((60, 60, 200), (0.0, -1.0, 0.0)))
    assert found == Turns((pytest.approx(90.0),), is_all=False)  # type: ignore[arg-type]


def test_a_bend_that_leads_back_turns_by_half_a_circle() -> None:
    found = turns(((0, 0, 0), X), fitting("U", (100, 100, 0), BEND), to=((0, 200, 0), X))
    assert found is not None
    assert (found.each, found.is_all) == ((pytest.approx(180.0),), True)


#: An S of two bends of 60 mm, of tube of 20 mm, that follow each other directly: from (0, 0) along x, up y, on along x from (120, 120).
ONE, TWO = ((0.0, -10.0, -10.0), (70.0, 60.0, 10.0)), ((50.0, 60.0, -10.0), (120.0, 130.0, 10.0))


def test_two_bends_in_a_row_that_are_placed_at_their_corners_turn_by_two_right_angles() -> None:
    pair = elbow("B1", (60, 0, 0), *ONE), elbow("B2", (60, 120, 0), *TWO)
    found = turns(((0, 0, 0), X), *pair, to=((120, 120, 0), BACK))
    assert found == Turns((pytest.approx(90.0), pytest.approx(90.0)), is_all=True)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "centres",
    [
        ((0.0, 0.0, 0.0), (60.0, 60.0, 0.0)),  # each at its beginning: 45° and 45°
        ((35.0, 25.0, 0.0), (85.0, 95.0, 0.0)),  # each in the middle of its body: 54.5° twice
    ],
)
def test_of_two_bends_in_a_row_that_are_placed_elsewhere_it_is_not_known(centres: tuple[Vec, Vec]) -> None:
    pair = elbow("B1", centres[0], *ONE), elbow("B2", centres[1], *TWO)
    assert turns(((0, 0, 0), X), *pair, to=((120, 120, 0), BACK)) == Turns((0.0,), is_all=False)


def saddled(aside: float) -> Installation:
    """From a box 2 m along x, round one bend that turns it by 90°, through a fitting that leads aside, and round another by 90°."""
    return installation(
        fitting("X", (-30, 0, 0)), conduit("C1", (0, 0, 0), (2000, 0, 0)), fitting("B1", (2000, 0, 0), BEND, 60.0),
        conduit("C2", (2000, 0, 0), (2000, 1000, 0)), fitting("S", (2000 + aside / 2, 1100, 0), BEND, 220.0),
        conduit("C3", (2000 + aside, 1200, 0), (2000 + aside, 2200, 0)), fitting("B2", (2000 + aside, 2200, 0), BEND, 60.0),
        conduit("C4", (2000 + aside, 2200, 0), (4000, 2200, 0)), fitting("Y", (4030, 2200, 0)),
        outlet("DB", (-30, -50, 0)), outlet("M", (4030, 2250, 0)), circuit("P1", "C1", "C4"),
    )  # fmt: skip


def test_a_run_with_a_set_that_is_one_fitting_never_passes_for_its_bends() -> None:
    # 90 + 90 by what its ends show, which is the limit; the set adds something
    result = check_installation(saddled(100.0), PLUGINS.codes["bs-7671"], PLUGINS)
    found = {row.rule: row for row in result.findings if row.rule.startswith("pulling.")}
    assert {rule: row.verdict for rule, row in found.items()} == {
        "pulling.bends": "unknown", "pulling.radius": "unknown", "pulling.tension": "unknown",
    }  # fmt: skip
    assert "S has no axis" in found["pulling.bends"].reason

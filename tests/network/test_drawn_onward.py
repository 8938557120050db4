"""Drawn lines that are cut at a fitting go on through it, wherever in it or beside it they are cut.

A and B are trunkings in line along x, 2 m each, joined by the box X, 100 mm in each direction, around 2 m.
"""

import itertools
from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import ModelCable, Service
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet
from tests.network.test_drawn import line, way_of

DIVIDED = replace(STEEL_50, width_mm=100.0, lanes=lanes(Service.POWER, Service.DATA))
A, B = carrier("A", (0, 0, 0), (2000, 0, 0), DIVIDED), carrier("B", (2000, 0, 0), (4000, 0, 0), DIVIDED)
X = fitting("X", (2000, 0, 0))
DB, S1 = outlet("DB", (0, 0, 200)), outlet("S1", (4000, 0, 200))
JOINED = {"A": {"B"}, "B": {"A"}}
UP_TO, FROM = [(0, 0, 200), (0, 0, 0)], [(4000, 0, 0), (4000, 0, 200)]


def cut(before: float, after: float) -> list[ModelCable]:
    """A line from DB to so far before the middle of X, and one from so far behind it to S1."""
    return [line("a", *UP_TO, (2000 - before, 0, 0)), line("b", (2000 + after, 0, 0), *FROM)]


@pytest.mark.parametrize("cables", [cut(40, 40), cut(40, 40)[::-1], cut(0, 250), cut(250, 250)])
def test_lines_cut_at_a_fitting_go_on_into_each_other(cables: list[ModelCable]) -> None:
    one, other = way_of(cables, A, B, X, DB, S1, neighbours=JOINED).visits
    assert (one.carrier, other.carrier) == ("A", "B")
    assert one.line == other.line


def test_lines_that_end_farther_apart_than_a_fitting_is_long_dont() -> None:
    one, other = way_of(cut(251, 250), A, B, X, DB, S1, neighbours=JOINED).visits  # 501 of 500 mm
    assert one.line != other.line


def test_lines_in_carriers_that_arent_joined_dont() -> None:
    one, other = way_of(cut(40, 40), A, B, DB, S1, neighbours={}).visits
    assert one.line != other.line


def test_lines_led_both_ways_from_the_origin_and_cut_at_fittings_go_on_each_in_its_own() -> None:
    """C, A, B and D in line, DB over the middle of A and B is no fitting: the lines are cut where C meets A and B meets D."""
    c, d = carrier("C", (-2000, 0, 0), (0, 0, 0), DIVIDED), carrier("D", (4000, 0, 0), (6000, 0, 0), DIVIDED)
    ends = outlet("DB", (2000, 0, 900)), outlet("S1", (-2000, 0, 200)), outlet("S2", (6000, 0, 200))
    cables = [
        line("a", (1990, 0, 900), (1990, 0, 0), (40, 0, 0)),
        line("b", (2010, 0, 900), (2010, 0, 0), (3960, 0, 0)),
        line("c", (-40, 0, 0), (-2000, 0, 0), (-2000, 0, 200)),
        line("d", (4040, 0, 0), (6000, 0, 0), (6000, 0, 200)),
    ]
    joined = {"A": {"B", "C"}, "B": {"A", "D"}, "C": {"A"}, "D": {"B"}}
    way = way_of(cables, A, B, c, d, *ends, of=circuit("P1", "DB", "S1", "S2"), neighbours=joined)
    pairs = itertools.pairwise(way.visits)
    together = [(one.carrier, other.carrier, one.line == other.line) for one, other in pairs]
    assert sorted(together[::2]) == [("A", "C", True), ("B", "D", True)]
    assert not together[1][2]


@pytest.mark.parametrize("cables", [cut(0, 0), cut(40, 40)])
def test_what_isnt_kept_apart_in_a_box_isnt_passed_wherever_lines_are_cut(cables: list[ModelCable]) -> None:
    """Nothing says whether X keeps compartments apart, and data cables for 125 V pass it beside power of 230 V: unknown."""
    power = replace(circuit("P1", "DB", "S1", area_of=6), voltage_v=230.0)
    power = replace(power, cables=(replace(power.cables[0], rated_voltage_v=750.0),))
    data = replace(circuit("D1", "DB", "S1", service=Service.DATA, area_of=6), voltage_v=5.0)
    data = replace(data, cables=(replace(data.cables[0], rated_voltage_v=125.0),))
    plugins = load_plugins()
    model = installation(A, B, X, DB, S1, power, data, model_cables=tuple(cables))
    result = check_installation(model, plugins.codes["bs-7671"], plugins)
    found = [finding.verdict for finding in result.findings if finding.rule == "segregation.fitting"]
    assert found == ["unknown"]
    assert {item.worst_verdict for item in result.compartments} == {"unknown"}

"""Verdicts that hang on the ways of circuits, against the verdicts that there are when each combination of their ways is given by hand.

Two trunks in line, FEED and TAIL, and between them three rails of which each is 0.8 m longer than the one before: LOW, MID and TOP.
"""

import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from checker import sureness
from checker.checking import check_installation
from checker.judging import Judged
from checker.model import (
    Cable,
    Carrier,
    CarrierKind,
    Circuit,
    Condition,
    Equipment,
    LoadedCompartment,
    ModelCable,
    Place,
    RoutedCircuit,
    RouteStep,
    Section,
    Service,
    Vec,
    WayLimits,
)
from checker.model.geometry import distance
from checker.network.loading import load
from checker.network.routing import route_all
from checker.result.network_tables import NearWayRow
from checker.result.tables import FindingRow, Result
from checker.rule import Outcome, Verdict
from checker.rule.plugins import load_plugins
from checker.sureness_words import Words
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet

PLUGINS = load_plugins()
LADDER = Section(width_mm=300.0, height_mm=60.0, usable_depth_mm=50.0, source="test")
#: Inside 314.16 mm².
PIPE = Section(outside_diameter_mm=23.0, bore_mm=20.0, source="test")


def bent(
    key: str, points: Sequence[Vec], section: Section = STEEL_50, kind: CarrierKind = CarrierKind.TRUNKING
) -> Carrier:
    length = sum(distance(one, other) for one, other in itertools.pairwise(points))
    made = carrier(key, points[0], points[-1], section, kind)
    return replace(made, corners_mm=tuple(points[1:-1]), length_mm=length)


def rail(
    number: int, section: Section = STEEL_50, kind: CarrierKind = CarrierKind.TRUNKING, start: float = 0.0
) -> Carrier:
    """LOW is straight, 3 m; MID and TOP go up by 0.4 and 0.8 m and down again."""
    low, high, up = (start, 0.0, 0.0), (start + 3000.0, 0.0, 0.0), 400.0 * number
    points = [low, high] if not number else [low, (start, 0.0, up), (start + 3000.0, 0.0, up), high]
    return bent(("LOW", "MID", "TOP")[number], points, section, kind)


FEED = carrier("FEED", (-1000.0, 0.0, 0.0), (0.0, 0.0, 0.0))
TAIL = carrier("TAIL", (3000.0, 0.0, 0.0), (4000.0, 0.0, 0.0))
ENDS = (outlet("DB", (-1000.0, 100.0, 0.0)), outlet("S", (4000.0, 100.0, 0.0)))


def checked(code: str, *items: Carrier | Equipment | Circuit, near_m: float | None = 2.0) -> Result:
    inst = installation(*items, near_mm=None if near_m is None else 1000.0 * near_m)
    return check_installation(inst, PLUGINS.codes[code], PLUGINS, now="2026-01-01T00:00:00Z")


def key_of(row: FindingRow) -> tuple[Any, ...]:
    """What a finding is about: a circuit, or a compartment."""
    return (row.rule, row.circuits) if row.is_of_circuit else (row.rule, row.carriers, row.compartment)


def verdicts(result: Result) -> dict[tuple[Any, ...], str]:
    return {key_of(row): row.verdict for row in result.findings}


def said(result: Result, rule: str, about: str) -> tuple[str, str]:
    """The verdict and what is said of other ways: of a carrier, or of a circuit."""
    row = next(
        row
        for row in result.findings
        if row.rule == rule and (row.circuits == (about,) if row.is_of_circuit else row.carriers == (about,))
    )
    return row.verdict, row.other_ways


def led(item: Circuit, keys: Sequence[str]) -> Circuit:
    return replace(item, route=tuple(RouteStep(key, key) for key in keys))


# ---- worked: in 50 × 50 trunking with walls of 1 mm 45 % of 48 × 48 mm are 1036.8 mm²: 13 cables of 10 mm (78.54 mm²) go in, 14 don't

SAME = "the same on all ways of its circuits up to 2 m longer"
WIDE = Section(width_mm=100.0, height_mm=100.0, wall_mm=1.0, source="test")
WIDE_TRUNKS = (replace(FEED, section=WIDE), replace(TAIL, section=WIDE))


def test_a_fail_hangs_on_one_circuit_that_could_go_another_way() -> None:
    fixed = circuit("FIXED", "DB", "S", count=10, route="FEED;LOW;TAIL")
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, circuit("C1", "DB", "S", count=4))
    assert said(result, "fill.compartment", "LOW") == (
        "fail",
        "fails only if C1 goes this way: by MID (0.80 m longer) it would pass",
    )
    assert said(result, "fill.compartment", "MID") == ("pass", SAME)  # 4 cables at the most
    assert said(result, "fill.compartment", "FEED") == ("pass", SAME)  # all 14 pass it on any way, 96 × 96 mm


def test_a_fail_hangs_on_either_of_two_circuits() -> None:
    fixed = circuit("FIXED", "DB", "S", count=8, route="FEED;LOW;TAIL")
    both = [circuit(mark, "DB", "S", count=4) for mark in ("C1", "C2")]  # 16, and 12 without one of them
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, *both)
    verdict, text = said(result, "fill.compartment", "LOW")
    assert verdict == "fail"
    assert text.split("; ") == [
        f"fails only if {mark} goes this way: by MID (0.80 m longer) it would pass" for mark in ("C1", "C2")
    ]


def test_a_fail_hangs_on_two_circuits_together() -> None:
    fixed = circuit("FIXED", "DB", "S", count=8, route="FEED;LOW;TAIL")
    both = [circuit(mark, "DB", "S", count=6) for mark in ("C1", "C2")]  # 20, 14 without one, 8 without both
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, *both)
    assert said(result, "fill.compartment", "LOW") == (
        "fail",
        "hangs on which of their ways C1 and C2 take, none more than 2 m longer",
    )


def test_a_fail_that_no_other_way_mends_is_the_same_on_all() -> None:
    fixed = circuit("FIXED", "DB", "S", count=14, route="FEED;LOW;TAIL")
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, circuit("C1", "DB", "S", count=4))
    assert said(result, "fill.compartment", "LOW") == ("fail", SAME)


def test_a_pass_would_fail_if_a_circuit_came() -> None:
    fixed = circuit("FIXED", "DB", "S", count=10, route="FEED;MID;TAIL")
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, circuit("C1", "DB", "S", count=4))
    assert said(result, "fill.compartment", "MID") == ("pass", "would fail if C1 went by MID (0.80 m longer)")
    assert said(result, "fill.compartment", "LOW") == ("pass", SAME)
    row = next(row for row in result.findings if row.carriers == ("MID",) and row.rule == "fill.compartment")
    assert row.reason.endswith("; would fail if C1 went by MID (0.80 m longer)")


def test_what_all_ways_share_is_counted_once() -> None:
    # 8 cables are 628 mm², within 1037; were they counted once for each of three ways they would be over
    result = checked("bs-7671", FEED, TAIL, rail(0), rail(1), rail(2), *ENDS, circuit("C1", "DB", "S", count=8))
    assert {said(result, "fill.compartment", key) for key in ("FEED", "TAIL", "LOW", "MID", "TOP")} == {("pass", SAME)}


def test_a_circuit_with_several_ways_through_one_carrier_comes_there_once() -> None:
    # from FEED over MID or TOP, each in two halves that meet in a rung: RUNG lies on several ways, and 8 cables fit
    mid = [carrier("M1", (0, 0, 400), (1500, 0, 400)), carrier("M2", (1500, 0, 400), (3000, 0, 400))]
    posts = [carrier("P0", (0, 0, 0), (0, 0, 400)), carrier("P1", (3000, 0, 400), (3000, 0, 0))]
    top = [bent("T1", [(0, 0, 0), (0, -600, 0), (1500, -600, 400), (1500, 0, 400)])]
    result = checked(
        "bs-7671", FEED, TAIL, rail(0), *mid, *posts, *top, *ENDS, circuit("C1", "DB", "S", count=8), near_m=4.0
    )
    assert sum("M2" in row.carriers for row in result.near_ways) > 1
    verdict, text = said(result, "fill.compartment", "M2")
    assert (verdict, text) == ("pass", "the same on all ways of its circuits up to 4 m longer")


def test_data_that_could_go_through_the_power_trunking_is_told() -> None:
    power = replace(circuit("P1", "DB", "S", route="FEED;MID;TAIL"), voltage_v=230.0)
    data = circuit("D1", "RACK", "DESK", service=Service.DATA)
    insulated = [
        replace(item, cables=tuple(replace(cable, rated_voltage_v=volts) for cable in item.cables))
        for item, volts in ((power, 750.0), (data, 125.0))
    ]
    ends = [outlet("RACK", (0.0, 0.0, -100.0)), outlet("DESK", (3000.0, 0.0, -100.0))]
    result = checked("bs-7671", FEED, TAIL, rail(0), rail(1), *ENDS, *ends, *insulated)
    # in 230 V with 125 V cables it would fail
    assert said(result, "segregation.compartment", "MID") == ("pass", "would fail if D1 went by MID (0.80 m longer)")
    assert said(result, "segregation.compartment", "LOW") == ("pass", SAME)


def loaded(mark: str, ampere: float, device: float, *, route: str = "", csa: float = 2.5) -> Circuit:
    """Two single cores, PVC, of a circuit with two loaded conductors."""
    made = circuit(mark, "DB", "S", count=2, area_of=5.0, route=route)
    cables = tuple(replace(cable, csa_mm2=csa) for cable in made.cables)
    given = {"loaded_conductors": 2.0, "design_current_a": ampere, "device_rating_a": device}
    return replace(made, cables=cables, electrical=given)


def test_a_rating_would_pass_on_the_circuits_own_other_way() -> None:
    # the ends are on the rails themselves; three circuits in LOW: 24 A · 0.70 = 16.8 A, under 20 A; alone in MID 24 A
    ends = (outlet("DB", (0.0, 0.0, -100.0)), outlet("S", (3000.0, 0.0, -100.0)))
    fixed = [loaded(f"F{n}", 15.0, 16.0, route="LOW") for n in (1, 2)]
    result = checked("bs-7671", rail(0), rail(1), *ends, *fixed, loaded("C1", 18.0, 20.0))
    assert said(result, "grouping.rating", "C1") == (
        "fail",
        "fails only if C1 goes this way: by MID (0.80 m longer) it would pass",
    )
    # F1 carries 16.8 A of 16 A beside both, and 24 · 0.80 = 19.2 A beside one: it passes whether C1 lies there or not
    assert said(result, "grouping.rating", "F1") == ("pass", SAME)


def test_a_rating_would_fail_if_others_came_to_lie_with_it() -> None:
    ends = (outlet("DB", (0.0, 0.0, -100.0)), outlet("S", (3000.0, 0.0, -100.0)))
    # alone in MID it carries 24 A; with C1 beside it 24 · 0.80 = 19.2 A, under 20 A
    result = checked("bs-7671", rail(0), rail(1), *ends, loaded("F1", 19.0, 20.0, route="MID"), loaded("C1", 9.0, 10.0))
    assert said(result, "grouping.rating", "F1") == ("pass", "would fail if C1 went by MID (0.80 m longer)")
    # C1 needs 10 A: enough on either way
    assert said(result, "grouping.rating", "C1") == ("pass", SAME)


def test_a_rating_would_be_unknown_where_what_lies_on_the_other_way_is() -> None:
    ends = (outlet("DB", (0.0, 0.0, -100.0)), outlet("S", (3000.0, 0.0, -100.0)))
    filled = replace(rail(1), condition=Condition.EXISTING)  # and no circuit is marked as existing
    result = checked("bs-7671", rail(0), filled, *ends, loaded("C1", 9.0, 10.0))
    assert said(result, "grouping.rating", "C1") == ("pass", "would be unknown if C1 went by MID (0.80 m longer)")


def test_a_rating_fails_only_while_another_lies_beside_it() -> None:
    ends = (outlet("DB", (0.0, 0.0, -100.0)), outlet("S", (3000.0, 0.0, -100.0)))
    result = checked("bs-7671", rail(0), rail(1), *ends, loaded("F1", 19.0, 20.0, route="LOW"), loaded("C1", 9.0, 10.0))
    assert said(result, "grouping.rating", "F1") == ("fail", "would pass if C1 went by MID (0.80 m longer)")


def test_what_is_unknown_says_nothing_of_other_ways_and_neither_does_a_run_that_is_not_asked() -> None:
    unsized = circuit("C1", "DB", "S", area_of=None)
    result = checked("bs-7671", FEED, TAIL, rail(0), rail(1), *ENDS, unsized)
    unknown = [row for row in result.findings if row.verdict == "unknown"]
    assert unknown
    assert {row.other_ways for row in unknown} == {""}
    result = checked("bs-7671", FEED, TAIL, rail(0), rail(1), *ENDS, circuit("C1", "DB", "S"), near_m=None)
    assert {row.other_ways for row in result.findings} == {""}


def two_sizes(route: str) -> Circuit:
    return replace(
        circuit("FIXED", "DB", "S", route=route),
        cables=(Cable(2, count=1, diameter_mm=9.0), Cable(3, count=1, diameter_mm=7.0)),
    )


def test_two_conductors_that_fail_would_pass_with_a_third() -> None:
    # NFPA 70, pipe of 314.16 mm²: two of 9 and 7 mm are 102.1 mm², 32.5 % over 31 %; with one of 4 mm 114.7 mm², 36.5 % within 40 %
    rails = (rail(0, PIPE, CarrierKind.CONDUIT), rail(1, PIPE, CarrierKind.CONDUIT))
    fixed = two_sizes("FEED;MID;TAIL")
    small = circuit("C1", "DB", "S", area_of=4.0)
    result = checked("nfpa-70", FEED, TAIL, *rails, *ENDS, fixed, small)
    assert said(result, "fill.count", "MID") == ("fail", "would pass if C1 went by MID (0.80 m longer)")


def test_three_conductors_that_pass_would_fail_without_the_third() -> None:
    rails = (rail(0, PIPE, CarrierKind.CONDUIT), rail(1, PIPE, CarrierKind.CONDUIT))
    fixed = two_sizes("FEED;LOW;TAIL")
    result = checked("nfpa-70", FEED, TAIL, *rails, *ENDS, fixed, circuit("C1", "DB", "S", area_of=4.0))
    assert said(result, "fill.count", "LOW") == ("pass", "would fail if C1 went by MID (0.80 m longer)")


def test_a_count_that_may_be_rounded_up_is_so_on_another_way_too() -> None:
    # of 6.4 mm (32.17 mm²) 0.40 · 314.16 / 32.17 = 3.906 go in, rounded up to four: five fail, and four don't
    rails = (rail(0, PIPE, CarrierKind.CONDUIT), rail(1, PIPE, CarrierKind.CONDUIT))
    fixed = circuit("FIXED", "DB", "S", area_of=6.4, count=4, route="FEED;LOW;TAIL")
    result = checked("nfpa-70", FEED, TAIL, *rails, *ENDS, fixed, circuit("C1", "DB", "S", area_of=6.4))
    assert said(result, "fill.count", "LOW") == (
        "fail",
        "fails only if C1 goes this way: by MID (0.80 m longer) it would pass",
    )


def test_two_legs_that_share_a_carrier_leave_it_one_at_a_time() -> None:
    # DB, S and back: LOW twice, 16 cables of 10 mm; with one leg in MID 8 are left, within 13
    there_and_back = circuit("C1", "DB", "S", "DB", count=8)
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, there_and_back)
    assert said(result, "fill.compartment", "LOW") == (
        "fail",
        "fails only if C1 goes this way: by MID (0.80 m longer) it would pass",
    )


# ---- how much is asked is bounded: a search is 8 steps, and asking of a compartment with less than 8 circuits' cables is one

NOT_LOOKED_AT = "not looked at: so many ways are near"
FIXED_10 = circuit("FIXED", "DB", "S", count=10, route="FEED;LOW;TAIL")
OVER_FULL = (*WIDE_TRUNKS, rail(0), rail(1), *ENDS, FIXED_10, circuit("C1", "DB", "S", count=4))


def count_asks(monkeypatch: pytest.MonkeyPatch, in_all: int, name: str = "judge") -> list[object]:
    """Allows so many steps in all, and gives the list to which each subject that a rule is asked about is added."""
    monkeypatch.setattr(sureness, "SHARES", ((8_000, in_all),))
    asked: list[object] = []
    judge = getattr(sureness, name)

    def counted(rule: object, subject: object, limits: object) -> object:
        asked.append(subject)
        return judge(rule, subject, limits)

    monkeypatch.setattr(sureness, name, counted)
    return asked


def test_without_steps_nothing_is_asked_and_nothing_is_said_to_be_the_same_that_needs_asking(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = count_asks(monkeypatch, 0)
    result, without = checked("bs-7671", *OVER_FULL), checked("bs-7671", *OVER_FULL, near_m=None)
    assert asked == []
    assert said(result, "fill.compartment", "LOW") == ("fail", NOT_LOOKED_AT)
    assert said(result, "fill.compartment", "MID") == ("pass", NOT_LOOKED_AT)
    assert said(result, "fill.compartment", "TAIL") == ("pass", SAME)  # no near way differs there
    assert [(row.id, row.reason) for row in result.findings] == [(row.id, row.reason) for row in without.findings]


def test_what_fails_is_asked_first(monkeypatch: pytest.MonkeyPatch) -> None:
    # whether C1 can do without LOW 8, who moves 1, with C1 there or not 1, by MID 1: one step is left, and who moves in LOW takes it
    asked = count_asks(monkeypatch, 12)
    result = checked("bs-7671", *OVER_FULL)
    assert said(result, "fill.compartment", "LOW") == (
        "fail",
        "fails only if C1 goes this way: by MID (0.80 m longer) it would pass",
    )
    assert said(result, "fill.compartment", "MID") == ("pass", NOT_LOOKED_AT)
    assert len(asked) == 2


def test_no_verdict_takes_more_than_its_own_part(monkeypatch: pytest.MonkeyPatch) -> None:
    # LOW would take 11; MID 1 for who moves, 1 for asking
    monkeypatch.setattr(sureness, "SHARES", ((10, 8_000),))
    result = checked("bs-7671", *OVER_FULL)
    assert said(result, "fill.compartment", "LOW") == ("fail", NOT_LOOKED_AT)
    assert said(result, "fill.compartment", "MID") == ("pass", SAME)


def test_what_is_not_settled_at_first_is_asked_again_with_more(monkeypatch: pytest.MonkeyPatch) -> None:
    # 10 steps are all of it but the last ask, so nothing is said then; the search isn't done, or counted, again
    monkeypatch.setattr(sureness, "SHARES", ((10, 8_000), (8_000, 8_000)))
    result = checked("bs-7671", *OVER_FULL)
    text = "fails only if C1 goes this way: by MID (0.80 m longer) it would pass"
    assert said(result, "fill.compartment", "LOW") == ("fail", text)
    assert said(result, "fill.compartment", "MID") == ("pass", SAME)


@pytest.mark.parametrize(("steps", "word"), [(20, "may hang"), (21, "hangs")])
def test_a_verdict_of_which_not_all_together_could_be_asked_may_hang_on_them(
    monkeypatch: pytest.MonkeyPatch, steps: int, word: str
) -> None:
    # two searches 16, who moves 1, with both there or not 1, each alone 2; then both in MID 1
    monkeypatch.setattr(sureness, "SHARES", ((steps, 8_000),))
    fixed = circuit("FIXED", "DB", "S", count=8, route="FEED;LOW;TAIL")
    both = [circuit(mark, "DB", "S", count=6) for mark in ("C1", "C2")]
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, fixed, *both)
    text = f"{word} on which of their ways C1 and C2 take, none more than 2 m longer"
    assert said(result, "fill.compartment", "LOW") == ("fail", text)


@pytest.mark.parametrize("steps", [0, 3, 9, 11, 12, 13, 14, 28])
def test_what_is_asked_does_not_hang_on_the_order_of_rows(monkeypatch: pytest.MonkeyPatch, steps: int) -> None:
    monkeypatch.setattr(sureness, "SHARES", ((5, steps), (8_000, steps)))
    one, other = checked("bs-7671", *OVER_FULL), checked("bs-7671", *reversed(OVER_FULL))
    assert [(row.id, row.other_ways) for row in one.findings] == [(row.id, row.other_ways) for row in other.findings]


@pytest.mark.parametrize(
    ("steps", "number", "text"), [(0, 0, NOT_LOOKED_AT), (100, 2, "would fail if C1 went by MID (0.80 m longer)")]
)
def test_ratings_are_asked_within_bounds_too(
    monkeypatch: pytest.MonkeyPatch, steps: int, number: int, text: str
) -> None:
    asked = count_asks(monkeypatch, steps, "judge_circuit")
    ends = (outlet("DB", (0.0, 0.0, -100.0)), outlet("S", (3000.0, 0.0, -100.0)))
    result = checked("bs-7671", rail(0), rail(1), *ends, loaded("F1", 19.0, 20.0, route="MID"), loaded("C1", 9.0, 10.0))
    assert said(result, "grouping.rating", "F1") == ("pass", text)
    # of F1 with C1 there or not, and with C1 there; of C1 by LOW and by MID
    assert len([subject for subject in asked if subject.load.mark == "F1"]) == number
    assert len([subject for subject in asked if subject.load.mark == "C1"]) == number


# ---- circuits that weren't asked for near ways


def by_way_of(mark: str, key: str) -> Circuit:
    return replace(circuit(mark, "DB", "S"), limits=WayLimits((frozenset({key}),), frozenset(), (f"by {key}",)))


@pytest.mark.parametrize(
    ("marks", "told"),
    [
        (["P1"], "P1, which is led by wayroom.toml, was not"),
        (["P10", "P2"], "P2, P10, which are led by wayroom.toml, were not"),
        (["P4", "P3", "P2", "P1"], "P1, P2, P3 and 1 more, which are led by wayroom.toml, were not"),
    ],
)
def test_circuits_that_were_not_asked_are_named(marks: Sequence[str], told: str) -> None:
    led_by_hand = [by_way_of(mark, "LOW") for mark in marks]
    result = checked("bs-7671", *WIDE_TRUNKS, rail(0), rail(1), *ENDS, circuit("C1", "DB", "S"), *led_by_hand)
    text = f"the same on all ways that were looked at, up to 2 m longer; {told}"
    assert {said(result, "fill.compartment", key) for key in ("FEED", "LOW", "MID")} == {("pass", text)}


def test_circuits_that_were_not_asked_are_told_by_how_they_are_led() -> None:
    drawn = ModelCable(
        Place("W1", "test.ifc"), ("D1",), path_mm=((-1000.0, 100.0, 0.0), (-1000.0, 0.0, 0.0), (-200.0, 0.0, 0.0))
    )
    items = (*WIDE_TRUNKS, rail(0), rail(1), *ENDS, by_way_of("P1", "LOW"), circuit("D1", "DB", "S"))
    inst = installation(*items, near_mm=2000.0, model_cables=(drawn,))
    result = check_installation(inst, PLUGINS.codes["bs-7671"], PLUGINS, now="2026-01-01T00:00:00Z")
    told = "D1, which is drawn in part, and P1, which is led by wayroom.toml, were not"
    assert said(result, "fill.compartment", "LOW") == (
        "pass",
        f"the same on all ways that were looked at, up to 2 m longer; {told}",
    )


# ---- every combination of ways by hand


def ways_of(
    result: Result, base: Mapping[str, Sequence[str]]
) -> dict[str, list[tuple[NearWayRow | None, tuple[str, ...]]]]:
    """The carriers of each circuit's ways: of the one that was found, and of the near ones."""
    found: dict[str, list[tuple[NearWayRow | None, tuple[str, ...]]]] = {
        mark: [(None, tuple(keys))] for mark, keys in base.items()
    }
    for row in result.near_ways:
        found[row.circuit].append((row, row.carriers))
    return found


ONE = re.compile(
    r"(?:fails only if (?P<a>\w+) goes this way: by (?P<b>\w+) \((?P<c>[\d.]+) m longer\) it would (?P<d>pass|be unknown))"
    r"|(?:would (?P<e>pass|fail|be unknown) if (?P<f>\w+) went by (?P<g>\w+) \((?P<h>[\d.]+) m longer\))"
)
VERDICT = {"pass": "pass", "fail": "fail", "be unknown": "unknown"}


def hold_against_all(
    code: str, fixed: Sequence[Carrier | Equipment], circuits: Sequence[Circuit], near_m: float
) -> None:
    """Holds what is said of each verdict against the verdicts of all combinations."""
    result = checked(code, *fixed, *circuits, near_m=near_m)
    base = {row.circuit: row.carriers for row in result.circuits}
    ways = ways_of(result, base)
    marks = sorted(ways)
    found: dict[tuple[tuple[str, ...], ...], dict[tuple[Any, ...], str]] = {}
    for chosen in itertools.product(*(range(len(ways[mark])) for mark in marks)):
        keys = tuple(ways[mark][number][1] for mark, number in zip(marks, chosen, strict=True))
        given = dict(zip(marks, keys, strict=True))
        found[keys] = verdicts(checked(code, *fixed, *(led(item, given[item.mark]) for item in circuits), near_m=None))
    at_first = tuple(tuple(base[mark]) for mark in marks)
    for row in result.findings:
        about = key_of(row)
        if PLUGINS.rules[row.rule].subject not in {LoadedCompartment, RoutedCircuit}:
            assert row.other_ways == ""  # of other subjects it isn't asked
            continue
        assert found[at_first][about] == row.verdict  # led by hand as it was found
        if row.verdict not in {"pass", "fail"}:
            assert row.other_ways == ""
            continue
        others = {by.get(about, "pass") for by in found.values()}  # where a rule has no question nothing fails
        event(f"{row.rule}: {re.sub(r'[A-Z]+[0-9]?|[0-9.]+', '.', row.other_ways)[:40]}")
        if row.other_ways.startswith("the same on all ways"):
            assert others == {row.verdict}, (about, row.other_ways)
            continue
        assert others != {row.verdict}, (about, row.other_ways)
        if "hang" in row.other_ways:
            continue
        for part in row.other_ways.split("; "):
            told = ONE.fullmatch(part)
            if told is None:
                assert re.fullmatch(r".* and \d+ more", part), part
                continue
            mark, by = told["a"] or told["f"], told["b"] or told["g"]
            outcome, longer = VERDICT[told["d"] or told["e"]], float(told["c"] or told["h"])
            at = marks.index(mark)
            led_so = [
                (*at_first[:at], keys, *at_first[at + 1 :])
                for near, keys in ways[mark]
                if near is not None and near.by == by and abs(near.longer_m - longer) < 0.006
            ]
            assert any(found[keys].get(about, "pass") == outcome for keys in led_so), (about, part)
            if told["a"]:  # it says that it goes this way
                here = row.carriers[0]
                assert here in base[mark], (about, part)


@st.composite
def buildings(draw: st.DrawFn, kinds: Sequence[str]) -> tuple[list[Carrier | Equipment], list[Circuit]]:
    """Rails between two trunks or without these, ends at both and on the way, and circuits whose cables about fill them."""
    rails = []
    for number in range(draw(st.integers(2, 3))):
        kind = draw(st.sampled_from(kinds))
        if kind == "conduit":
            rails.append(rail(number, PIPE, CarrierKind.CONDUIT))
        elif kind == "ladder":
            rails.append(rail(number, LADDER, CarrierKind.LADDER))
        elif kind == "halves":  # in which of them a circuit lies isn't known
            rails.append(rail(number, replace(STEEL_50, lanes=lanes(None, None))))
        elif kind == "filled":  # what lies in it already isn't known
            rails.append(replace(rail(number), condition=Condition.EXISTING))
        elif kind == "lanes":
            rails.append(rail(number, replace(STEEL_50, lanes=lanes(Service.POWER, None))))
        else:
            rails.append(rail(number))
    section = draw(st.sampled_from([STEEL_50, WIDE]))
    trunks = [replace(FEED, section=section), replace(TAIL, section=section)] if draw(st.booleans()) else []
    ends = [
        *ENDS,
        outlet("LEFT", (0.0, 100.0, 0.0)),
        outlet("RIGHT", (3000.0, 100.0, 0.0)),
        outlet("HALF", (1500.0, 100.0, 0.0)),
    ]
    names = ["DB", "S", "LEFT", "RIGHT", "HALF"] if trunks else ["LEFT", "RIGHT", "HALF"]
    circuits = []
    for number in range(draw(st.integers(1, 3))):
        one, other = draw(st.sampled_from([(a, b) for a in names for b in names if a != b]))
        service = draw(st.sampled_from([Service.POWER, Service.POWER, Service.DATA]))
        made = circuit(f"C{number}", one, other, service=service, area_of=draw(st.sampled_from([4.0, 6.4, 7.0, 9.0, 10.0])),
                       count=draw(st.sampled_from([1, 2, 3, 4, 6, 10, 13])))  # fmt: skip
        cables = tuple(
            replace(
                cable,
                rated_voltage_v=125.0 if service is Service.DATA else 750.0,
                csa_mm2=draw(st.sampled_from([2.5, 6.0])),
            )
            for cable in made.cables
        )
        electrical: dict[str, float | str] = {}
        if service is Service.POWER and made.cables[0].count == 2:
            device = draw(st.sampled_from([6.0, 16.0, 20.0, 32.0]))
            electrical = {
                "loaded_conductors": 2.0,
                "device_rating_a": device,
                "design_current_a": device - draw(st.sampled_from([1.0, 4.0])),
            }
        volts = 5.0 if service is Service.DATA else 230.0
        circuits.append(replace(made, cables=cables, electrical=electrical, voltage_v=volts))
    return [*rails, *trunks, *ends], circuits


NEAR_M = st.sampled_from([1.0, 2.0])


@settings(max_examples=120, deadline=None)
@given(buildings(["trunking", "trunking", "trunking", "conduit", "ladder", "lanes", "halves", "filled"]), NEAR_M)
def test_what_is_said_under_bs_7671_is_so(
    building: tuple[list[Carrier | Equipment], list[Circuit]], near_m: float
) -> None:
    hold_against_all("bs-7671", *building, near_m)


@settings(max_examples=120, deadline=None)
@given(buildings(["conduit"]), NEAR_M)
def test_what_is_said_where_limits_go_by_number_is_so(
    building: tuple[list[Carrier | Equipment], list[Circuit]], near_m: float
) -> None:
    hold_against_all("nfpa-70", *building, near_m)


@st.composite
def loaded_buildings(draw: st.DrawFn) -> tuple[list[Carrier | Equipment], list[Circuit]]:
    """Up to four circuits of two single cores, whose devices ask for about what they carry alone, beside one, or beside two others."""
    number = draw(st.integers(2, 3))
    kinds = [
        draw(st.sampled_from([CarrierKind.TRUNKING, CarrierKind.TRUNKING, CarrierKind.LADDER])) for _ in range(number)
    ]
    rails = [rail(n, LADDER if kind is CarrierKind.LADDER else WIDE, kind) for n, kind in enumerate(kinds)]
    trunks = list(WIDE_TRUNKS) if draw(st.booleans()) else []
    ends = [
        *ENDS,
        outlet("LEFT", (0.0, 100.0, 0.0)),
        outlet("RIGHT", (3000.0, 100.0, 0.0)),
        outlet("HALF", (1500.0, 100.0, 0.0)),
    ]
    names = (
        [("DB", "S"), ("LEFT", "RIGHT"), ("LEFT", "HALF")]
        if trunks
        else [("LEFT", "RIGHT"), ("LEFT", "RIGHT"), ("LEFT", "HALF")]
    )
    circuits = []
    for n in range(draw(st.integers(1, 4))):
        # 24 A or 41 A alone, 0.80 beside one, 0.70 beside two, 0.65 beside three
        csa, device = draw(st.sampled_from([(2.5, 16.0), (2.5, 20.0), (2.5, 25.0), (6.0, 32.0), (6.0, 25.0)]))
        one, other = draw(st.sampled_from(names))
        made = loaded(f"C{n}", draw(st.sampled_from([2.0, device - 1.0])), device, csa=csa)
        circuits.append(replace(made, origin=one, calls=(other,)))
    return [*rails, *trunks, *ends], circuits


@settings(max_examples=60, deadline=None)
@given(loaded_buildings(), NEAR_M)
def test_what_is_said_of_ratings_is_so(
    building: tuple[list[Carrier | Equipment], list[Circuit]], near_m: float
) -> None:
    hold_against_all("bs-7671", *building, near_m)


def test_how_many_verdicts_were_not_looked_at_is_a_problem_of_its_own() -> None:
    (compartment,) = load(
        installation(carrier("T", (0, 0, 0), (2000, 0, 0)), circuit("P", "T", "T")),
        route_all(installation(carrier("T", (0, 0, 0), (2000, 0, 0)), circuit("P", "T", "T"))),
        load_plugins().codes["bs-7671"].sizes,
    ).compartments
    asked = Judged("fill.compartment", compartment, Verdict(Outcome.PASS, ""))
    beyond = replace(asked, other_ways=Words.not_looked_at.text)
    (problem,) = sureness.not_looked_at([asked, beyond], [])
    assert (problem.where, problem.elements) == ("1 verdict", 1)
    assert sureness.not_looked_at([asked], []) == []

"""Fill as a range by the tolerances of sizes: it changes no verdict, and says where the limit lies within it.

The expected figures are had by hand. π/4 · 7.8² = 47.784 mm², π/4 · 6.4² = 32.170 mm² (single cores of 16 mm², IEC 60227-3); steel trunking
50 × 50 mm of 1 mm holds 48 · 48 = 2304 mm².
"""

from dataclasses import replace

import pytest

from checker.assemble import compartment_rows
from checker.judging import Judged
from checker.model import (
    Carrier,
    CarrierKind,
    Lane,
    LoadedCompartment,
    Place,
    PlacedCable,
    Run,
    Section,
    Service,
    cable_area_mm2,
)
from checker.model.tolerance import Tolerance
from checker.network.loading import Loading
from checker.network.sizing import Inside
from checker.rule import Basis, Limit, Limits, Outcome, Verdict, judge
from checker.rule.plugins import load_plugins
from checker.tolerance import FillRange, fill_range, told_within, untoleranced, with_ranges
from checker.units import circle_area_mm2
from rules.fill.area import AreaLimits

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
RULE, LIMITS = PLUGINS.rules["fill.compartment"], CODE.limits["fill.compartment"]  # 45 %
OF_16 = Tolerance(6.4, 7.8)


def cable(
    count: int | None, size_mm: float = 7.8, tolerance: Tolerance | None = OF_16, mark: str = "P1"
) -> PlacedCable:
    return PlacedCable(mark, None, "", count, circle_area_mm2(size_mm), diameter_mm=size_mm, tolerance=tolerance)


def trunking(*cables: PlacedCable, area_mm2: float = 2304.0) -> LoadedCompartment:
    carrier = Carrier("K", Place("K", "m"), CarrierKind.TRUNKING, Section(50.0, 50.0, lanes=(Lane(1),)))
    return LoadedCompartment(carrier, 1, area_mm2, side_mm=48.0, width_mm=48.0, cables=cables)


def told(subject: LoadedCompartment) -> tuple[Verdict, str]:
    """The verdict, and what the tolerance adds to its reason."""
    verdict = judge(RULE, subject, LIMITS)
    ends = fill_range(RULE, subject, LIMITS)
    assert ends is not None
    after = told_within(verdict, subject, ends)
    assert replace(after, reason=verdict.reason) == verdict  # nothing but the reason changes
    assert after.reason.startswith(verdict.reason)
    return after, after.reason.removeprefix(verdict.reason)


def test_a_fail_that_the_smallest_sizes_would_pass_says_so() -> None:
    """22 · 32.170 = 707.7 mm², 30.7 %; 22 · 47.784 = 1051.2 mm², 45.6 %: the code counts the upper limit, and it is over 45 %."""
    subject = trunking(cable(22))
    assert fill_range(RULE, subject, LIMITS) == (pytest.approx(0.307178, abs=5e-6), pytest.approx(0.456268, abs=5e-6))
    verdict, added = told(subject)
    assert verdict.outcome is Outcome.FAIL
    assert added == (
        "; within the tolerance of the cables' sizes: fill lies between 30.7 and 45.6 %, limit 45 %,"
        " and with the smallest it would be within"
    )


def test_a_pass_by_a_count_that_is_rounded_up_does_not_read_as_a_fail() -> None:
    """Four of 5.0 mm, 19.635 mm², in 1/2 EMT, 196.13 mm²: 40.05 % and over 40 %, but 0.4 · 196.13 / 19.635 = 3.995 rounds up to four."""
    rule, limits = PLUGINS.rules["fill.count"], PLUGINS.codes["nfpa-70"].limits["fill.count"]
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, Section(bore_mm=15.8, lanes=(Lane(1),)))
    subject = LoadedCompartment(carrier, 1, 196.1286, bore_mm=15.8, cables=(cable(4, 5.0, Tolerance(4.1, 5.0)),))
    verdict, ends = judge(rule, subject, limits), fill_range(rule, subject, limits)
    assert verdict.outcome is Outcome.PASS
    assert ends is not None
    added = told_within(verdict, subject, ends).reason.removeprefix(verdict.reason)
    # 4 · π/4 · 4.1² = 52.81 mm², 26.9 %
    assert added == "; within the tolerance of the cables' sizes: fill lies between 26.9 and 40.05 %, limit 40 %"


def test_a_pass_that_the_largest_sizes_would_fail_says_so() -> None:
    """Counted by a mean of 7.1 mm: 25 · 39.592 = 989.8 mm², 43.0 %; at most 1194.6 mm², 51.8 %, at least 804.2 mm², 34.9 %."""
    verdict, added = told(trunking(cable(25, 7.1)))
    assert (verdict.outcome, verdict.value) == (Outcome.PASS, pytest.approx(0.429601, abs=5e-6))
    assert added == (
        "; within the tolerance of the cables' sizes: fill lies between 34.9 and 51.8 %, limit 45 %,"
        " and with the largest it would be over"
    )


@pytest.mark.parametrize(
    ("area_mm2", "count", "size_mm", "outcome", "is_told"),
    [
        (2304.0, 20, 7.8, Outcome.PASS, False),  # 955.7 mm², 41.5 % at most
        (2304.0, 33, 7.8, Outcome.FAIL, False),  # 33 · 32.170 = 1061.6 mm², 46.1 % at least
        (20 * circle_area_mm2(7.8) / 0.45, 20, 7.1, Outcome.PASS, False),  # at the limit with the largest: not over
        (20 * circle_area_mm2(6.4) / 0.45, 20, 7.8, Outcome.FAIL, True),  # at the limit with the smallest: within
    ],
    ids=["always within", "always over", "the largest exactly at the limit", "the smallest exactly at the limit"],
)
def test_only_a_limit_within_the_range_is_told(
    area_mm2: float, count: int, size_mm: float, outcome: Outcome, *, is_told: bool
) -> None:
    verdict, added = told(trunking(cable(count, size_mm), area_mm2=area_mm2))
    assert verdict.outcome is outcome
    assert bool(added) is is_told


def test_cables_without_a_tolerance_count_at_their_one_size_and_are_named() -> None:
    """22 of 16 mm² as above, and one of 11.3 mm that measures 100.29 mm²: 808.0 mm² or 35.1 % to 1151.5 mm² or 50.0 %."""
    subject = trunking(cable(20), cable(2, mark="P2"), cable(1, 11.3, None, "D1"), cable(0, 3.0, None, "D2"))
    assert fill_range(RULE, subject, LIMITS) == (pytest.approx(0.350706, abs=5e-6), pytest.approx(0.499796, abs=5e-6))
    assert untoleranced(subject) == ("D1",)  # of D2 nothing lies there
    assert told(subject)[1].endswith("; cables of D1 count at their one size, as no tolerance of theirs is known")


def test_planning_values_are_told_as_such() -> None:
    own = replace(cable(5, mark="D1"), planning=True)
    added = told(trunking(cable(17), own))[1]
    assert added.endswith("; those of D1 are planning values")
    assert "planning" not in told(trunking(cable(22)))[1]
    without = told(trunking(cable(22), replace(own, tolerance=None, count=1)))[1]
    assert "planning" not in without  # it has no part in the range
    assert "cables of D1 count at their one size" in without


def test_a_flat_cable_has_both_of_its_sides_at_their_limits() -> None:
    """11.5 × 6.2 mm: 6.2 · 5.3 + π/4 · 6.2² = 63.051 mm²; 9.8 × 5.2 mm: 5.2 · 4.6 + π/4 · 5.2² = 45.157 mm². Ten in 2304 mm²."""
    flat = PlacedCable(
        "P1", None, "", 10, cable_area_mm2(None, 11.5, 6.2), width_mm=11.5, height_mm=6.2,
        tolerance=Tolerance(None, None, 9.8, 11.5, 5.2, 6.2),
    )  # fmt: skip
    found = fill_range(RULE, trunking(flat), LIMITS)
    assert found == (pytest.approx(0.195995, abs=5e-6), pytest.approx(0.273659, abs=5e-6))
    assert (flat.thinnest().width_mm, flat.thinnest().height_mm, flat.thinnest().diameter_mm) == (9.8, 5.2, None)
    assert flat.thickest() == flat


def test_a_conduit_s_bore_has_a_tolerance_too() -> None:
    """Six of 3.2 to 3.9 mm in 16.8 ± 0.3 mm: 6 · (3.2 / 17.1)² = 21.0 %, as the code counts 6 · (3.9 / 16.8)² = 32.3 %, at most
    6 · (3.9 / 16.5)² = 33.5 %, where the project wants 33 %."""
    limit = Limit(value=0.33, basis=Basis.PROJECT, source="a test", confidence="high")
    rule, limits = PLUGINS.rules["fill.area"], AreaLimits(space_factor=limit)
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, Section(outside_diameter_mm=20.0, lanes=(Lane(1),)))
    subject = LoadedCompartment(
        carrier,
        1,
        circle_area_mm2(16.8),
        bore_mm=16.8,
        bore_tolerance_mm=0.3,
        cables=(cable(6, 3.9, Tolerance(3.2, 3.9)),),
    )
    ends = fill_range(rule, subject, limits)
    assert ends == (pytest.approx(0.210116, abs=5e-6), pytest.approx(0.335207, abs=5e-6))
    assert ends is not None
    verdict = judge(rule, subject, limits)
    assert (verdict.outcome, verdict.value) == (Outcome.PASS, pytest.approx(0.323342, abs=5e-6))
    after = told_within(verdict, subject, ends)
    assert (
        "within the tolerance of the cables' sizes and the conduit's bore: fill lies between 21.0 and 33.5 %"
        in after.reason
    )
    assert fill_range(rule, replace(subject, cables=()), limits) is None  # nothing fills it, however wide it is
    bore_alone = replace(subject, cables=(cable(6, 3.9, None),))  # 6 · (3.9 / 17.1)² = 31.2 %
    assert fill_range(rule, bore_alone, limits) == (
        pytest.approx(0.312094, abs=5e-6),
        pytest.approx(0.335207, abs=5e-6),
    )


def test_side_by_side_on_a_ladder_it_is_a_range_of_the_width() -> None:
    """Twelve of 48 to 52 mm, 4/0 AWG, counted as 50 mm, on 609.6 mm: 576 or 94.5 %, 600 or 98.4 %, 624 or 102.4 %; all of it is allowed."""
    code = PLUGINS.codes["nfpa-70"]
    rule, limits = PLUGINS.rules["fill.layer"], code.limits["fill.layer"]
    carrier = Carrier("K", Place("K", "m"), CarrierKind.LADDER, Section(609.6, 101.6, lanes=(Lane(1),)))
    large = replace(cable(12, 50.0, Tolerance(48.0, 52.0)), service=Service.POWER, awg_kcmil="4/0", cores=3)
    subject = LoadedCompartment(carrier, 1, 609.6 * 101.6, width_mm=609.6, cables=(large,))
    ends = fill_range(rule, subject, limits)
    assert ends == (pytest.approx(0.944882, abs=5e-6), pytest.approx(1.023622, abs=5e-6))
    assert ends is not None
    verdict = judge(rule, subject, limits)
    assert (verdict.outcome, verdict.measure) == (Outcome.PASS, "width")
    assert (
        "between 94.5 and 102.4 % of the width, limit 100 %, and with the largest it would be over"
        in told_within(verdict, subject, ends).reason
    )


def test_conduit_terms_go_by_size_classes_and_have_no_range() -> None:
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, Section(outside_diameter_mm=20.0, lanes=(Lane(1),)))
    own = replace(cable(6, 3.9, Tolerance(3.2, 3.9)), csa_mm2=2.5, cores=1, stranded=False)
    subject = LoadedCompartment(
        carrier,
        1,
        circle_area_mm2(16.8),
        bore_mm=16.8,
        bore_tolerance_mm=0.3,
        cables=(own,),
        run=Run(1, ("K",), 5.0, 180.0),
    )
    rule, limits = PLUGINS.rules["fill.conduit"], CODE.limits["fill.conduit"]
    assert judge(rule, subject, limits).measure == "term"
    assert fill_range(rule, subject, limits) is None


@pytest.mark.parametrize(
    "change",
    [
        {"cables": ()},
        {"cables": (cable(0),)},
        {"cables": (cable(22, tolerance=None),)},
        {"cables": (cable(22), cable(None))},
        {"cables": (replace(cable(22), area_least_mm2=40.0, diameter_least_mm=7.1),)},
        {"possible": (cable(1),)},
        {"unbounded": True},
        {"size_doubt": "the wall isn't known", "area_least_mm2": 2000.0},
        {"area_mm2": None},
    ],
    ids=["empty", "none of them", "no tolerance", "no number", "a range", "perhaps more", "unbounded", "no wall", "no size"],
)  # fmt: skip
def test_there_is_no_range_where_nothing_is_sure(change: dict[str, object]) -> None:
    subject = trunking(cable(22))
    assert fill_range(RULE, subject, LIMITS) is not None
    assert fill_range(RULE, replace(subject, **change), LIMITS) is None  # type: ignore[arg-type]


def test_what_fails_for_another_cause_than_its_fill_does_not_hang_on_the_tolerance() -> None:
    """A cable of 7.8 mm doesn't go into a lane 7 mm high, however full it is: 47.784 of 100 mm² is 47.8 %, and 32.2 % with 6.4 mm."""
    subject = replace(trunking(cable(1), area_mm2=100.0), side_mm=7.0)
    verdict, added = told(subject)
    assert (verdict.outcome, verdict.found, added) == (Outcome.FAIL, "a cable thicker than the inside", "")


def by_thickness(subject: LoadedCompartment, limits: Limits) -> Verdict:  # noqa: ARG001 - the contract of a rule
    """What thick cables do to a limit, or to the fill itself, in a rule that somebody may write."""
    (own,) = subject.cables
    size = own.diameter_mm or 0.0
    value = 1.0 / size if own.circuit == "better" else size
    return Verdict(
        Outcome.PASS,
        "",
        value,
        100.0 + (size if own.circuit == "looser" else 0.0),
        measure="term" if size > 8 else "area",
    )


@pytest.mark.parametrize(
    ("mark", "most_mm", "is_ranged"),
    [("plain", 7.9, True), ("better", 7.9, False), ("looser", 7.9, False), ("plain", 8.1, False)],
    ids=["plain", "thicker fills less", "thicker has another limit", "thicker goes by terms"],
)
def test_ends_that_can_not_be_held_against_one_limit_are_no_range(
    mark: str, most_mm: float, *, is_ranged: bool
) -> None:
    rule = replace(RULE, function=by_thickness)
    own = cable(1, 7.8, Tolerance(6.4, most_mm), mark)
    assert fill_range(rule, trunking(own), LIMITS) == ((6.4, most_mm) if is_ranged else None)


def test_what_is_unknown_says_nothing_of_it() -> None:
    subject = trunking(cable(22))
    unknown = replace(judge(RULE, subject, LIMITS), outcome=Outcome.UNKNOWN)
    assert told_within(unknown, subject, (0.307, 0.456)) == unknown


def test_without_a_limit_there_is_a_range_and_nothing_to_say() -> None:
    rule, limits = PLUGINS.rules["fill.area"], AreaLimits()
    subject = trunking(cable(22))
    ends = fill_range(rule, subject, limits)
    assert ends == (pytest.approx(0.307178, abs=5e-6), pytest.approx(0.456268, abs=5e-6))
    assert ends is not None
    verdict = judge(rule, subject, limits)
    assert verdict.outcome is Outcome.UNKNOWN
    assert told_within(verdict, subject, ends) == verdict


def test_all_verdicts_stay_and_the_ranges_come_to_the_table() -> None:
    full, known = trunking(cable(22)), trunking(cable(3, tolerance=None))
    other = replace(known, number=2)
    asked = [
        (full, RULE.id, True),
        (other, RULE.id, True),
        (full, RULE.id, False),
        (full, "fill", True),
    ]
    judged = [
        Judged(rule, subject, judge(RULE, subject, LIMITS), tells_fill=tells_fill)
        for subject, rule, tells_fill in asked
    ]
    after, ranges = with_ranges(judged, PLUGINS.rules, CODE)
    assert list(ranges) == [("K", 1)]
    found = ranges["K", 1]
    assert found == FillRange(pytest.approx(0.307178, abs=5e-6), pytest.approx(0.456268, abs=5e-6))
    # the fill alone says it, once, and where no rule of the code tells of fill there is none to ask
    assert ["tolerance" in item.verdict.reason for item in after] == [True, False, False, False]
    assert [item.verdict.outcome for item in after] == [item.verdict.outcome for item in judged]
    assert after[1:] == judged[1:]

    carrier = replace(full.carrier, section=replace(full.carrier.section, lanes=(Lane(1), Lane(2))))
    lanes = tuple(replace(subject, carrier=carrier) for subject in (full, other))
    loading = Loading(lanes, {("K", 1): Inside(48.0, 48.0), ("K", 2): Inside(48.0, 48.0)}, (), {})
    of_both = after[:2]
    rows = compartment_rows(loading, of_both, [], ranges={("K", 1): replace(found, untoleranced=("D1",))})
    assert [(row.fill_least, row.fill_most, row.untoleranced) for row in rows] == [
        (found.least, found.most, ("D1",)),
        (None, None, ()),
    ]
    assert "within the tolerance" in rows[0].reason
    assert compartment_rows(loading, of_both, [])[0].fill_least is None

"""Three cables that may jam: more or less of either size may be the worse, so the ranges are held against a search through them."""

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import Carrier, CarrierKind, Installation, LoadedCompartment, Place, PlacedCable, Run, Section
from checker.result.tables import FindingRow
from checker.rule import Outcome, Verdict, judge
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from checker.units import circle_area_mm2
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
RULE = PLUGINS.rules["fill.jam"]
LIMITS = PLUGINS.codes["nfpa-70"].limits["fill.jam"]
FROM, TO = 2.8, 3.2


def site(bore_mm: float, number: int = 3) -> Installation:
    """A conduit with so many cables of 10 mm."""
    section = Section(bore_mm=bore_mm, outside_diameter_mm=bore_mm + 4.0, source="test")
    part = carrier("C", (0, 0, 0), (4000, 0, 0), section, CarrierKind.CONDUIT)
    cables = circuit("P1", "DB", "S1", count=number)
    return installation(part, outlet("DB", (0, 0, -300)), outlet("S1", (4000, 0, -300)), cables)


def found(inst: Installation, code: str = "nfpa-70", **own: float) -> list[FindingRow]:
    wanted: dict[str, dict[str, float | str]] = {"fill.jam": {**own, "reason": "as the puller asks"}} if own else {}
    asked = tightened(PLUGINS.codes[code], wanted, "wayroom.toml", PLUGINS.rules)
    return [row for row in check_installation(inst, asked, PLUGINS).findings if row.rule == "fill.jam"]


def test_three_in_the_window_are_a_finding_of_the_codes_note() -> None:
    (row,) = found(site(30.0))
    assert (row.verdict, row.value, row.unit, row.basis) == ("fail", 3.0, "D/d", "note")
    assert (row.carriers, row.circuits) == (("C",), ("P1",))
    assert "informational note" in row.source
    assert row.reason.endswith("in a bore of more than 32.0 mm they don't")  # 3.2 · 10
    (wide,) = found(site(40.0))
    assert (wide.verdict, wide.value) == ("pass", 4.0)


@pytest.mark.parametrize("number", [1, 2, 4, 6])
def test_any_other_number_is_not_asked_about(number: int) -> None:
    assert found(site(30.0, number)) == []


def test_a_code_without_the_note_asks_only_where_the_project_gives_both_figures() -> None:
    assert found(site(30.0), "bs-7671") == []
    assert found(site(30.0), "iec-60364", from_ratio=2.8) == []
    (row,) = found(site(30.0), "bs-7671", from_ratio=2.8, to_ratio=3.2)
    assert (row.verdict, row.basis) == ("fail", "project")
    assert "as the puller asks" in row.source


def test_a_project_may_widen_the_window() -> None:
    (row,) = found(site(27.5), from_ratio=2.7)
    assert row.verdict == "fail"
    (row,) = found(site(32.5), to_ratio=3.3)
    assert row.verdict == "fail"
    assert {row.verdict for bore in (27.5, 32.5) for row in found(site(bore))} == {"pass"}


def cable(least_mm: float, most_mm: float, count: int | None, mark: str = "P1") -> PlacedCable:
    ranged = least_mm != most_mm
    return PlacedCable(
        mark, None, "x", count, circle_area_mm2(most_mm), most_mm,
        area_least_mm2=circle_area_mm2(least_mm) if ranged else None, diameter_least_mm=least_mm if ranged else None,
    )  # fmt: skip


def conduit(
    least_mm: float, most_mm: float, cables: list[PlacedCable], possible: list[PlacedCable] | None = None
) -> LoadedCompartment:
    """A conduit whose bore lies between two figures, as its wall does between 1 mm and more."""
    is_one = least_mm == most_mm
    walls = None if is_one else (1.0, 1.0 + (most_mm - least_mm) / 2.0)
    section = Section(outside_diameter_mm=most_mm + 2.0, wall_range_mm=walls)
    return LoadedCompartment(
        Carrier("C", Place("C", "m"), CarrierKind.CONDUIT, section),
        1,
        circle_area_mm2(most_mm),
        area_least_mm2=None if is_one else circle_area_mm2(least_mm),
        bore_mm=most_mm,
        size_doubt="" if is_one else "the wall is given as a range",
        cables=tuple(cables),
        possible=tuple(possible or ()),
        possible_doubts=("a circuit isn't routed",) if possible else (),
    )


def answer(subject: LoadedCompartment) -> Verdict:
    assert RULE.asks(subject)
    return judge(RULE, subject, LIMITS)


@pytest.mark.parametrize(
    ("thin", "thick", "outcome"),
    [
        (8.0, 9.0, Outcome.PASS),  # 30/9 = 3.33, 30/8 = 3.75
        (11.0, 12.0, Outcome.PASS),  # 2.5 to 2.73
        (9.0, 10.0, Outcome.UNKNOWN),  # 3 to 3.33
        (10.0, 11.0, Outcome.UNKNOWN),  # 2.73 to 3
        (9.0, 11.0, Outcome.UNKNOWN),  # 2.73 to 3.33: beyond the window at both ends, in it between them
    ],
)
def test_a_diameter_that_is_a_range_passes_only_beyond_the_window(thin: float, thick: float, outcome: Outcome) -> None:
    verdict = answer(conduit(30.0, 30.0, [cable(thin, thick, 3)]))
    assert verdict.outcome is outcome
    if outcome is Outcome.UNKNOWN:
        assert verdict.value is None
        assert f"between {thin:g} and {thick:g} mm" in verdict.reason


def test_ranges_of_both_are_thought_together() -> None:
    # the tightest pair gives 26/10 = 2.6, the loosest 29/9.9 = 2.93; each range alone, at the other's end, 2.6 to 2.63 and 2.6 to 2.9
    assert answer(conduit(26.0, 29.0, [cable(9.9, 10.0, 3)])).outcome is Outcome.UNKNOWN
    assert answer(conduit(26.0, 27.0, [cable(9.9, 10.0, 3)])).outcome is Outcome.PASS  # at the most 27/9.9 = 2.73


def test_where_no_wall_is_known_the_bore_may_be_as_wide_as_the_outside() -> None:
    bare = conduit(26.0, 27.9, [cable(10.0, 10.0, 2)], [cable(10.0, 10.0, 1, "P2")])
    outside = replace(bare.carrier, section=Section(outside_diameter_mm=28.5))
    assert answer(bare).outcome is Outcome.PASS  # at the most 27.9/10
    assert answer(replace(bare, carrier=outside)).outcome is Outcome.UNKNOWN  # 28.5/10


@pytest.mark.parametrize(
    "subject",
    [
        conduit(30.0, 30.0, []),
        conduit(30.0, 30.0, [], [cable(10.0, 10.0, 3)]),  # nothing lies there for certain
        conduit(30.0, 30.0, [cable(10.0, 10.0, 2)]),
        conduit(30.0, 30.0, [cable(10.0, 10.0, 4)]),
        conduit(30.0, 30.0, [cable(10.0, 10.0, None)]),
        conduit(30.0, 30.0, [cable(10.0, 10.0, 2), cable(6.0, 6.0, 1)]),  # a thinner one is another size
        replace(conduit(30.0, 30.0, [cable(10.0, 10.0, 3)]), unbounded=True),
        conduit(30.0, 30.0, [cable(10.0, 10.0, 3)], [cable(10.0, 10.0, None)]),
        conduit(30.0, 30.0, [PlacedCable("P1", None, "flat", 3, 60.0, width_mm=10.0, height_mm=6.0)]),
    ],
)
def test_what_the_note_does_not_speak_of_is_not_asked(subject: LoadedCompartment) -> None:
    assert not RULE.asks(subject)


@pytest.mark.parametrize(("bends", "said"), [(0.0, True), (90.0, False), (None, False)])
def test_that_a_run_is_straight_is_said_beside_the_fail(bends: float | None, *, said: bool) -> None:
    subject = replace(conduit(30.0, 30.0, [cable(10.0, 10.0, 3)]), run=Run(1, ("C",), 4.0, bends))
    verdict = answer(subject)
    assert verdict.outcome is Outcome.FAIL
    assert ("no bend" in verdict.reason) is said


def jams(bore: float, diameters: list[float]) -> bool:
    """The note, of what is known to the last figure."""
    if len(diameters) != 3 or max(diameters) > 1.1 * min(diameters) + 1e-12:
        return False
    return FROM - 1e-12 <= 3.0 * bore / sum(diameters) <= TO + 1e-12


def worlds(subject: LoadedCompartment) -> set[bool]:
    """What the note says in each of many worlds that the subject may be."""
    bore = subject.bore_mm or 0.0
    least = bore if subject.area_least_mm2 is None else math.sqrt(4.0 * subject.area_least_mm2 / math.pi)
    said = set()
    rows = [*((row, (True,)) for row in subject.cables), *((row, (True, False)) for row in subject.possible)]
    sizes = [[None if not there else size for there in may for size in _sizes(row)] for row, may in rows]
    for inside, chosen in itertools.product(_steps(least, bore), itertools.product(*map(dict.fromkeys, sizes))):
        there = [size for (row, _), size in zip(rows, chosen, strict=True) if size for _ in range(row.count or 0)]
        said.add(jams(inside, there))
    return said


def _sizes(row: PlacedCable) -> list[float]:
    return _steps(row.diameter_least_mm or row.diameter_mm or 0.0, row.diameter_mm or 0.0)


def _steps(least: float, most: float) -> list[float]:
    return [least + share * (most - least) for share in (0.0, 0.25, 0.5, 0.75, 1.0)] if least < most else [most]


SPANS = st.tuples(st.sampled_from([9.0, 9.5, 10.0, 10.0, 10.5]), st.sampled_from([0.0, 0.0, 0.5, 2.0]))
#: Numbers that three may come of: of the rows that lie there for certain, and of those that may.
NUMBERS = st.sampled_from(
    [
        ((3,), ()),
        ((2, 1), ()),
        ((1, 1, 1), ()),
        ((3, 0), (1,)),
        ((3,), (1, 2)),
        ((2,), (1,)),
        ((1, 1), (1, 1)),
        ((1,), (2, 1)),
        ((1,), (3,)),
    ]
)


@st.composite
def conduits(draw: st.DrawFn) -> LoadedCompartment:
    bore, width = draw(st.floats(24.0, 36.0)), draw(st.sampled_from([0.0, 0.0, 1.0, 6.0]))
    rows = []
    for counts in draw(NUMBERS):
        spans = [draw(SPANS) for _ in counts]
        rows.append([cable(least, least + more, count) for (least, more), count in zip(spans, counts, strict=True)])
    return conduit(bore, bore + width, *rows)


CONDUITS = conduits().filter(RULE.asks)


@settings(max_examples=400)
@given(CONDUITS)
def test_no_world_contradicts_a_verdict(subject: LoadedCompartment) -> None:
    verdict, said = answer(subject), worlds(subject)
    event(f"{verdict.outcome} where {sorted(said)}")
    if verdict.outcome is Outcome.PASS:
        assert said == {False}
    elif verdict.outcome is Outcome.FAIL:
        assert said == {True}
    if subject.is_certain:
        assert verdict.outcome is (Outcome.FAIL if said == {True} else Outcome.PASS)


@given(CONDUITS, st.floats(0.3, 3.0), st.randoms())
def test_neither_scale_nor_order_changes_anything(subject: LoadedCompartment, by: float, dice: object) -> None:
    ratios = [subject.bore_mm / (row.diameter_mm or 1.0) for row in subject.cables if subject.bore_mm]
    if any(math.isclose(ratio, edge, rel_tol=1e-6) for ratio in ratios for edge in (FROM, TO)):
        return
    shuffled = list(subject.cables)
    dice.shuffle(shuffled)  # type: ignore[attr-defined]
    assert answer(replace(subject, cables=tuple(shuffled))).outcome is answer(subject).outcome
    if subject.size_doubt:
        return  # its walls would have to be scaled as well
    sized = [
        cable((row.diameter_least_mm or row.diameter_mm or 0) * by, (row.diameter_mm or 0) * by, row.count)
        for row in subject.cables
    ]
    more = [
        cable((row.diameter_least_mm or row.diameter_mm or 0) * by, (row.diameter_mm or 0) * by, row.count)
        for row in subject.possible
    ]
    bore = (subject.bore_mm or 0.0) * by
    scaled = conduit(bore, bore, sized, more)
    if RULE.asks(scaled):
        assert answer(scaled).outcome is answer(subject).outcome

"""How many conductors of one size go into a conduit, against Chapter 9 done again and against Annex C of NFPA 70.

The counts that are done again show that the rule, the search for the most and the shipped tables of areas do together what Table 1 and
its note 7 say, for every conduit and conductor that we ship. They don't show that the tables are right: both sides read the same areas.
That is what the printed counts of Annex C are for, of which only those of one table stand here, as far as they are remembered for
certain; ``test_figures.py`` has the ones beside the project.
"""

import csv
import math
from fractions import Fraction
from pathlib import Path

import pytest

import rules
from checker.fit import Question, answer
from checker.rule import Outcome, judge
from checker.rule.plugins import load_plugins
from checker.testing import subject_of

PLUGINS = load_plugins()
CODE = PLUGINS.codes["nfpa-70"]
MM2_PER_IN2 = Fraction(64516, 100)
TRADE_SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6")
CONDUITS = ("emt", "imc", "rmc", "pvc40", "pvc80")
TYPES = ("thhn", "xhhw", "tw")
#: NFPA 70 Annex C Table C.1, EMT, THHN: by trade size from 1/2 up.
PRINTED = {
    "14": (12, 22, 35, 61, 84, 138, 241, 364, 476, 608),
    "12": (9, 16, 26, 45, 61, 101, 176, 266, 347),
    "10": (5, 10, 16, 28, 38, 63, 111, 167, 219, 279),
    "8": (3, 6, 9, 16, 22, 36, 64, 96, 126, 161),
    "6": (2, 4, 7, 12, 16, 26, 46, 69, 91, 116),
    "4": (1, 2, 4, 7, 10, 16, 28, 43, 56, 71),
    "3": (1, 1, 3, 6, 8, 13, 24, 36, 47, 60),
    "2": (1, 1, 3, 5, 7, 11, 20, 30, 40, 51),
    "1": (1, 1, 1, 4, 5, 8, 15, 22, 29, 37),
    "1/0": (1, 1, 1, 3, 4, 7, 12, 19, 25, 32),
    "2/0": (0, 1, 1, 2, 3, 6, 10, 16, 20, 26),
    "3/0": (0, 1, 1, 1, 3, 5, 8, 13, 17, 22),
    "4/0": (0, 1, 1, 1, 2, 4, 7, 11, 14, 18),
    "250": (0, 0, 1, 1, 1, 3, 6, 9, 11, 15),
    "300": (0, 0, 1, 1, 1, 3, 5, 7, 10, 13),
    "350": (0, 0, 1, 1, 1, 2, 4, 6, 9, 11),
    "400": (0, 0, 0, 1, 1, 1, 4, 6, 8, 10),
    "500": (0, 0, 0, 1, 1, 1, 3, 5, 6, 8),
}


def table(name: str) -> dict[str, dict[str, str]]:
    path = Path(rules.__file__).parent / "tables" / name
    with path.open(encoding="utf-8", newline="") as stream:
        return {row["key"]: row for row in csv.DictReader(stream)}


def in2(area_mm2: str, digits: int) -> Fraction:
    """An area as the code prints it: that of the table, back in square inches, to the digits that are printed."""
    return round(Fraction(area_mm2) / MM2_PER_IN2, digits)


def by_chapter_9(inside_in2: Fraction, one_in2: Fraction) -> int:
    """The most of one size by Table 1: each number has its share; note 7 rounds what goes in up from 0.8."""
    most = 0
    for tier, share in ((1, 53), (2, 31), (3, 40)):
        goes_in = Fraction(share, 100) * inside_in2 / one_in2
        whole = math.floor(goes_in)
        if goes_in - whole >= Fraction(8, 10):
            whole += 1
        if tier == 3 and whole >= 3:
            most = whole
        elif tier < 3 and whole >= tier:
            most = tier
    return most


def most_by_the_rule(conduit: str, cable: str) -> int:
    found = answer(Question(CODE, carrier=conduit, most=cable, length_m=3.0), PLUGINS).most
    assert found is not None
    return found


def goes_in(conduit: str, cable: str, count: int) -> bool:
    asked = Question(CODE, carrier=conduit, cables=(f"{cable}={count}",), length_m=3.0)
    return answer(asked, PLUGINS).exit_status == 0


CARRIERS, CABLES = table("carriers_nfpa70.csv"), table("cables_nfpa70.csv")


PAIRS = [
    (conduit, cable)
    for conduit, row in CARRIERS.items()
    if row["kind"] == "conduit"
    for cable in CABLES
    if cable.split("-")[0] in TYPES
]
#: So many conductors are counted up to; beyond it the rule is only asked about the expected number and one more, which takes less time.
COUNTED_TO = 60


def expected(conduit: str, cable: str) -> int:
    return by_chapter_9(in2(CARRIERS[conduit]["inside_area_mm2"], 3), in2(CABLES[cable]["area_mm2"], 4))


@pytest.fixture(scope="module")
def counts() -> dict[tuple[str, str], int]:
    """By the rule: conduit and conductor → the most that go in, where those aren't too many to count."""
    return {pair: most_by_the_rule(*pair) for pair in PAIRS if expected(*pair) <= COUNTED_TO}


def test_the_most_of_one_size_is_that_of_chapter_9(counts: dict[tuple[str, str], int]) -> None:
    assert len(counts) > 3000
    for (conduit, cable), most in counts.items():
        assert most == expected(conduit, cable), (conduit, cable)


def test_of_many_just_as_many_go_in_as_chapter_9_says(counts: dict[tuple[str, str], int]) -> None:
    for conduit, cable in PAIRS:
        if (conduit, cable) not in counts:
            most = expected(conduit, cable)
            assert goes_in(conduit, cable, most), (conduit, cable)
            assert not goes_in(conduit, cable, most + 1), (conduit, cable)


def test_a_larger_conduit_holds_no_fewer(counts: dict[tuple[str, str], int]) -> None:
    for family in CONDUITS:
        for cable in CABLES:
            found = [counts.get((f"{family}-{size}", cable)) for size in TRADE_SIZES]
            most = [count for count in found if count is not None]
            assert most == sorted(most), (family, cable)


def test_of_a_larger_conductor_no_more_go_in(counts: dict[tuple[str, str], int]) -> None:
    for conduit in CARRIERS:
        for kind in TYPES:
            cables = [cable for cable in CABLES if cable.startswith(f"{kind}-")]
            areas = [float(CABLES[cable]["area_mm2"]) for cable in cables]
            assert areas == sorted(areas)
            most = [counts[conduit, cable] for cable in cables if (conduit, cable) in counts]
            assert most == sorted(most, reverse=True), (conduit, kind)


def test_the_printed_counts_of_annex_c_come_out() -> None:
    for size, printed in PRINTED.items():
        for trade, count in zip(TRADE_SIZES, printed, strict=False):
            conduit, cable = f"emt-{trade}", f"thhn-{size}"
            assert count == 0 or goes_in(conduit, cable, count), (conduit, cable)
            assert not goes_in(conduit, cable, count + 1), (conduit, cable)


@pytest.mark.parametrize(
    ("cables", "total_in2"),
    [
        # published sums of two mixed examples; test_figures.py has the conduits that they take
        ({"thhn-12": 3, "thhn-10": 4, "thhn-8": 8}, "0.4171"),
        ({"thhn-3/0": 3, "thhn-1": 1, "thhn-6": 1}, "1.0106"),
    ],
)
def test_the_areas_of_mixed_conductors_add_up_to_the_published_sum(cables: dict[str, int], total_in2: str) -> None:
    assert sum(count * in2(CABLES[key]["area_mm2"], 4) for key, count in cables.items()) == Fraction(total_in2)


@pytest.mark.parametrize(("conduit", "outcome"), [("emt-1-1/4", Outcome.FAIL), ("emt-1-1/2", Outcome.PASS)])
def test_four_flat_cables_take_the_published_conduit(conduit: str, outcome: Outcome) -> None:
    # four of 0.48 × 0.20 in count as 0.7238 in² by note 9, which takes 1-1/2; by the true area, 0.075 in² each, 1 in would do
    flat = {"count": 4, "area_mm2": 48.387, "width_mm": 0.48 * 25.4, "cores": 2}
    inside = float(CARRIERS[conduit]["inside_area_mm2"])
    subject = subject_of({"kind": "conduit", "area_mm2": inside, "cables": [flat], "run": {"length_m": 3.0}})
    verdict = judge(PLUGINS.rules["fill.count"], subject, CODE.limits["fill.count"])
    assert verdict.outcome is outcome
    assert verdict.value == pytest.approx(0.7238 * 645.16 / inside, rel=1e-4)

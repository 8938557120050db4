"""How far a waiver reaches: ``up_to``, in the unit of the rule's figure, and what goes further."""

import csv
import io
from dataclasses import replace

import pytest

from checker.manual import manual_page
from checker.model import Installation
from checker.report.csv_files import failing_csv
from checker.report.html import report_html
from checker.result.accounting import count
from checker.result.tables import FindingRow, Result
from checker.rule.waiver import Waiver
from checker.waivers import waive
from tests.installations import circuit
from tests.report.test_terminal import printed
from tests.test_waivers_circuits import OVER, RATED
from tests.test_waivers_circuits import W as OF_CIRCUIT
from tests.test_waivers_circuits import checked as rated
from tests.waived import CODE, NOW, W, about, checked, fill, fills, plain, two

#: 14 cables of 78.54 mm² take 47.7 % of 2304 mm², 16 take 54.5 %; the limit is 45 %.
FAR = replace(W, up_to=0.5)


@pytest.mark.parametrize(("number", "verdict"), [(13, "pass"), (14, "waived"), (16, "fail")])
def test_what_goes_further_than_a_waiver_reaches_fails(number: int, verdict: str) -> None:
    assert fill(checked(plain(number), FAR)).verdict == verdict
    # without up_to it holds however far it goes
    assert fill(checked(plain(number), W)).verdict == ("pass" if number == 13 else "waived")


def test_its_text_says_how_far_it_reaches_or_that_it_holds_whatever_the_figure_is() -> None:
    told = [fill(checked(plain(), waiver)).reason for waiver in (FAR, W)]
    assert told[0].endswith("; waived by R. Okafor until 2027-06-30, up to 50 %: one pull only")
    assert told[1].endswith("; waived by R. Okafor until 2027-06-30, whatever the figure: one pull only")
    assert [one.up_to for one in fill(checked(plain(), FAR)).waived_by] == [0.5]


def test_a_waiver_that_is_exceeded_is_told_as_no_longer_holding_everywhere() -> None:
    result = checked(plain(16), FAR)
    assert about(result) == [("waiver.exceeded", "fail")]
    assert fill(result).reason.endswith("; not waived: the waiver of R. Okafor reaches up to 50 %, and it is 54.5 %")
    (waiver,) = result.waivers
    assert (waiver.state, waiver.findings, waiver.up_to) == ("exceeded", (), 0.5)
    assert waiver.reason.startswith("it reaches up to 50 %, and it is 54.5 %; that fails: have R. Okafor decide anew")
    (row,) = [row for row in result.findings if row.rule == "waiver.exceeded"]
    assert (row.id, row.carriers, row.circuits) == (waiver.finding, ("T1",), ("C1",))
    in_table = [
        one for one in csv.DictReader(io.StringIO(failing_csv(result).decode("utf-8"))) if one["finding"] == row.id
    ]
    assert [(one["segment"], one["found"]) for one in in_table] == [("T1", "doesn't reach so far")]
    assert any("reaches up to 50 %" in line for line in printed(result))
    assert "exceeded" in report_html(result).decode("utf-8")
    assert count(result).findings_waived == 0


def test_of_what_it_names_what_goes_no_further_stays_waived() -> None:
    inst = two()
    more = tuple(
        replace(one, cables=tuple(replace(cable, count=16) for cable in one.cables)) if one.mark == "C2" else one
        for one in inst.circuits
    )
    result = checked(replace(inst, circuits=more), replace(FAR, carriers=("T1", "T2")))
    assert fills(result) == {"T1": "waived", "T2": "fail"}
    assert [(row.state, len(row.findings)) for row in result.waivers] == [("exceeded", 1)]
    # one beside it that reaches further waives that, and none is exceeded by what another waives
    wider = checked(replace(inst, circuits=more), replace(FAR, carriers=("T1", "T2")), replace(W, carriers=("T2",)))
    assert fills(wider) == {"T1": "waived", "T2": "waived"}
    assert about(wider) == []


@pytest.mark.parametrize("numbers", [(18, 16), (16, 18)])
def test_of_several_that_go_further_the_gravest_is_told_with_how_many_more(numbers: tuple[int, int]) -> None:
    """18 · 78.54 / 2304 is 61.4 %."""
    inst = two()
    fuller = tuple(
        replace(one, cables=tuple(replace(cable, count=number) for cable in one.cables))
        for one, number in zip(inst.circuits, numbers, strict=True)
    )
    (waiver,) = checked(replace(inst, circuits=fuller), replace(FAR, carriers=("T1", "T2"))).waivers
    assert "and it is 61.4 %; that fails, and so does 1 more that it names: " in waiver.reason


@pytest.mark.parametrize(
    ("up_to", "verdict"), [(0.477238, "waived"), (0.477237, "fail"), (0.45, "fail"), (0.0, "fail")]
)
def test_a_figure_as_the_table_writes_it_is_within_itself(up_to: float, verdict: str) -> None:
    """14 · 78.5398 / 2304 = 0.4772381…, of which failing.csv writes six digits."""
    assert fill(checked(plain(), replace(W, up_to=up_to))).verdict == verdict


def test_a_number_of_per_cent_where_the_figure_is_a_ratio_waives_nothing() -> None:
    result = checked(plain(), replace(W, up_to=50.0))
    assert fill(result).verdict == "fail"
    assert "gives up_to = 50 where the figure is a ratio: 50 % is 0.5" in result.waivers[0].reason


def ranged() -> Installation:
    """14 cables of between 10 and 11 mm: 47.7 % of 2304 mm² at the least, 14 · 95.03 / 2304 = 57.7 % at the most."""
    inst = plain()
    (one,) = inst.circuits
    cables = tuple(replace(cable, diameter_mm=11.0, diameter_least_mm=10.0) for cable in one.cables)
    return replace(inst, circuits=(replace(one, cables=cables),))


@pytest.mark.parametrize(("up_to", "verdict"), [(0.5, "fail"), (0.6, "waived"), (None, "waived")])
def test_where_sizes_are_ranges_it_must_reach_to_their_upper_ends(up_to: float | None, verdict: str) -> None:
    row = fill(checked(ranged(), replace(W, up_to=up_to)))
    assert row.verdict == verdict
    assert ("reaches up to 50 %, and it may be 57.7 %" in row.reason) == (up_to == 0.5)


def test_what_can_not_be_counted_is_not_known_to_be_within() -> None:
    """C1 fails alone; how many cables C2 has isn't known."""
    uncounted = replace(
        circuit("C2", "DB", "S1"), cables=tuple(replace(c, count=None) for c in circuit("C2", "DB").cables)
    )
    inst = plain()
    inst = replace(inst, circuits=(*inst.circuits, uncounted))
    assert fill(checked(inst)).verdict == "fail"
    far = fill(checked(inst, replace(W, up_to=0.9)))
    assert far.verdict == "fail"
    assert far.reason.endswith("reaches up to 90 %, and how far it goes isn't known")
    assert fill(checked(inst, W)).verdict == "waived"


def _row(**changes: object) -> FindingRow:
    return replace(fill(checked(plain())), **changes)  # type: ignore[arg-type]


def _put(waiver: Waiver, row: FindingRow) -> FindingRow:
    (found,) = waive([waiver], [row], plain(), CODE, NOW).findings
    return found


def test_of_what_is_the_least_wanted_it_reaches_downwards() -> None:
    clear = _row(value=100.0, limit=130.0, unit="mm", measure="", is_floor=True)
    near = _put(replace(W, up_to=90.0), clear)
    assert near.verdict == "waived"
    assert near.reason.endswith("; waived by R. Okafor until 2027-06-30, down to 90 mm: one pull only")
    far = _put(replace(W, up_to=110.0), clear)
    assert far.verdict == "fail"
    assert far.reason.endswith("the waiver of R. Okafor reaches down to 110 mm, and it is 100 mm")


@pytest.mark.parametrize("changes", [{"value": None}, {"found": "a cable of 60 mm"}])
def test_what_is_no_figure_is_not_within_one(changes: dict[str, object]) -> None:
    """A cable that is too thick fails however little it fills."""
    found = _put(FAR, _row(**changes))
    assert found.verdict == "fail"
    assert found.reason.endswith("reaches up to 50 %, and what is found there is no figure")
    # and a waiver without a figure doesn't speak of one
    assert _put(W, _row(**changes)).reason.endswith("waived by R. Okafor until 2027-06-30: one pull only")


def ratings(result: Result) -> list[FindingRow]:
    return [row for row in result.findings if row.rule == RATED]


@pytest.mark.parametrize(("up_to", "verdict"), [(1.05, "waived"), (1.04, "fail"), (25.0, "fail")])
def test_of_a_current_it_is_what_is_needed_over_what_is_carried(up_to: float, verdict: str) -> None:
    """25 A needed of 24 A carried is 1.0417; with more circuits beside it less is carried, and the 25 A stay."""
    (row,) = ratings(rated(OVER, replace(OF_CIRCUIT, up_to=up_to)))
    assert row.verdict == verdict
    halved = replace(row, verdict="fail", limit=12.0)
    assert _put(replace(OF_CIRCUIT, up_to=1.05), halved).verdict == "fail"
    if verdict == "waived":
        assert "until 2027-06-30, up to 105 % of what it carries: load measured" in row.reason


def test_the_manual_explains_up_to() -> None:
    page = " ".join(manual_page("waiver.exceeded", None, 80).split())
    for words in ("waiver.exceeded: Does every waiver", "up_to", "Worked example.", "Clause:", "Not asked here:"):
        assert words in page
    assert "up_to" in manual_page("fill.compartment", None)

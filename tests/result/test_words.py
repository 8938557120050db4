"""What rules say of their figures, in titles, tables and notes; and what of several findings is the gravest."""

from dataclasses import replace
from itertools import permutations

import pytest

from checker.findings import finding_rows
from checker.judging import JudgedSubject
from checker.model import Barrier, Place
from checker.result.facts import run_facts
from checker.result.gravity import gravity
from checker.result.note_state import NO_SEAL, split_text
from checker.result.notes import found_and_wanted, shown, topic_state
from checker.result.tables import FindingRow, Result
from checker.result.topics import group_findings, make_topic
from checker.rule import Outcome, Verdict
from checker.rule.plugins import load_plugins
from checker.testing_circuit_pairs import circuit_pair_of
from tests.installations import carrier, installation
from tests.report.results import small_result


def finding(**changes: object) -> FindingRow:
    return replace(small_result().findings[0], **changes)


def title_of(row: FindingRow) -> str:
    """Of a topic of that finding alone."""
    return topic_text(row)[0]


def topic_text(row: FindingRow) -> tuple[str, str]:
    carriers = {one.key: one for one in small_result().carriers}
    topic = make_topic("0" * 36, [row], carriers, (), "Some rule", ())
    return topic.title, topic.description


def made_of(verdict: Verdict) -> FindingRow:
    """The finding that is made of a verdict about two circuits on one carrier."""
    pair = circuit_pair_of({"circuits": ["A", "B"], "shared": [{"label": "K1", "length_m": 4.0}]})
    installed = installation(carrier("K1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0)))
    code = load_plugins().codes["bs-7671"]
    (row,) = finding_rows(installed, [], [], code, [JudgedSubject("other.rule", pair, verdict)])
    return row


@pytest.mark.parametrize(
    ("verdict", "told"),
    [
        # 12.5 of at most 10 hours: the figure stands where the rule's words want it
        (Verdict(Outcome.FAIL, "r", 12.5, 10.0, "h", found="{} by hand", wanted="{} a week"), ("12.5 h by hand", "10 h a week")),
        # without words for the limit it is told as everywhere
        (Verdict(Outcome.FAIL, "r", 0.533, 0.4, "ratio", found="{} with 5 % spare"), ("53.3 % with 5 % spare", "40 %")),
        (Verdict(Outcome.FAIL, "r", 16.0, 20.0, "mm", is_floor=True, found="{} apart"), ("16 mm apart", "at least 20 mm")),
        # a fail by a hair doesn't read as exactly at the limit, in words too
        (Verdict(Outcome.FAIL, "r", 0.40004, 0.4, "ratio", found="{} so"), ("40.0040 % so", "40.0000 %")),
        # what isn't about the figure has no limit beside it
        (Verdict(Outcome.FAIL, "r", 0.1, 0.45, "ratio", found="a cable too thick"), ("a cable too thick", "")),
        # without a figure the words stand for themselves, or not at all where they want one
        (Verdict(Outcome.FAIL, "r", found="services together", wanted="must be apart"), ("services together", "must be apart")),
        (Verdict(Outcome.FAIL, "r", unit="m", found="{} shared"), ("", "")),
        # an answer that isn't known says nothing of what would be wrong
        (Verdict(Outcome.UNKNOWN, "r", found="services together", wanted="must be apart"), ("", "")),
        (Verdict(Outcome.FAIL, "r", 9.0, 2.0, "tiers"), ("9 tiers", "2 tiers")),
        # braces of a name in the words are no figure
        (Verdict(Outcome.FAIL, "r", 2.0, 1.0, "m", found="{} by {A}"), ("2.00 m by {A}", "1.00 m")),
    ],
)  # fmt: skip
def test_a_rule_s_own_words_stand_where_figures_do(verdict: Verdict, told: tuple[str, str]) -> None:
    assert found_and_wanted(made_of(verdict)) == told


@pytest.mark.parametrize(
    ("changes", "title"),
    [
        ({"value": 0.523, "limit": 0.45}, "52.3 % full, limit 45 %"),
        ({"value": 0.533, "limit": 0.4, "found": "53.3 % with 5 % spare"}, "53.3 % with 5 % spare, limit 40 %"),
        ({"value": 19.0, "limit": 0.0, "unit": "m", "found": "19.00 m shared", "wanted": "none may be"}, "19.00 m shared, none may be"),
        ({"value": 16.0, "limit": 20.0, "unit": "mm", "is_floor": True, "found": "16 mm apart"}, "16 mm apart, at least 20 mm"),
        ({"value": 0.1, "limit": 0.45, "found": "a cable too thick"}, "a cable too thick"),
        ({"value": None, "found": "services together", "wanted": "must be apart"}, "services together, must be apart"),
        ({"value": None, "rule": "segregation.enclosure", "reason": "one lies alone"}, "one lies alone"),
    ],
)  # fmt: skip
def test_a_title_says_what_was_found_and_what_is_wanted(changes: dict[str, object], title: str) -> None:
    assert title_of(finding(**changes)) == f"T-001 (trunking 100 × 50 mm), compartment 1: {title}"


def test_only_what_is_in_ampere_reads_as_a_current() -> None:
    row = finding(is_of_circuit=True, compartment=None, value=20.0, limit=16.0, unit="A", measure="", circuits=("C1",))
    assert title_of(row).endswith(": circuit C1, 20 A needed at worst, 16 A allowed")
    volts = replace(row, value=12.0, limit=9.2, unit="V", found="12 V lost")
    assert title_of(volts).endswith(": circuit C1, 12 V lost, limit 9.2 V")


def test_a_finding_at_something_is_called_by_that_in_notes_and_comments() -> None:
    at = finding(at="T-001 at wall W-1 (EI 60)", reason="62.9 %, over 60 %")
    assert "\n- T-001 at wall W-1 (EI 60) in Plant room: 62.9 %, over 60 %\n" in topic_text(at)[1]
    facts = run_facts(replace(small_result(), findings=(at,)))
    assert facts.findings[at.id].label == "T-001 at wall W-1 (EI 60)"


def test_the_state_of_what_has_no_figure_is_its_verdict() -> None:
    """Words of rules may change from one release to the next, and nothing in the building with them."""
    result = small_result()
    topic = result.topics[0]
    rows = {row.id: replace(row, value=None, found="services together") for row in result.findings}
    state = topic_state(topic, split_text(topic.description), rows, "bs-7671", "depot", "Open", NO_SEAL)
    assert set(state.values.values()) == {"fail"}


def test_requirements_come_before_the_project_s_own_and_the_furthest_beyond_its_limit_first() -> None:
    far = finding(id="a", basis="project", value=0.9, limit=0.45)
    near, farther = (
        finding(id=key, basis="requirement", value=value, limit=0.4) for key, value in (("b", 0.41), ("c", 0.5))
    )
    none = finding(id="d", basis="requirement", value=None)
    thick = finding(id="e", basis="requirement", value=0.1, limit=0.45, found="a cable too thick", rule="z.z")
    rows = [far, near, none, thick, farther]
    assert [row.id for row in sorted(rows, key=gravity)] == ["d", "e", "c", "b", "a"]
    assert {tuple(row.id for row in sorted(turned, key=gravity)) for turned in permutations(rows)} == {tuple("decba")}


def test_issue_notes_are_in_the_same_order() -> None:
    result: Result = small_result()
    carriers = {row.key: row for row in result.carriers}
    rows = [
        finding(id="a", basis="note", rule="x.a"),
        finding(id="b", basis="guidance", rule="x.b"),
        finding(id="c", basis="requirement", rule="x.c", value=None),
    ]
    groups = group_findings(rows, carriers, {})
    assert [group[0].id for group in groups] == ["c", "b", "a"]
    assert shown(groups[0][0]) == ""


def test_a_wall_is_called_by_its_name_before_its_tag() -> None:
    tagged = Place("g", "m.ifc", tag="346660")
    assert Barrier("W", tagged, "wall", "EI 60").label == "wall 346660 (EI 60)"
    assert Barrier("W", replace(tagged, name="Core 2"), "wall", "EI 60").label == "wall Core 2 (EI 60)"
    assert Barrier("W", replace(tagged, name="Basic Wall: core"), "wall", "EI 60").called == "Basic Wall: core"


def test_a_note_says_what_was_tried_in_vain_beside_the_advice_for_others() -> None:
    of = small_result().carriers[0]
    helped = finding(circuits=("UP-05",), is_of_circuit=True, advice="lay 4 mm²")
    rest = replace(
        helped, id="b", circuits=("UP-06",), advice="", tried="nothing helped: 3 thicker cables; no other way"
    )
    lines = make_topic("0" * 36, [helped, rest], {of.key: of}, (), "Some rule", ()).description.split("\n")
    assert [line for line in lines if "dvice" in line] == [
        "Advice: lay 4 mm²",
        "No advice: UP-06: nothing helped: 3 thicker cables; no other way.",
    ]

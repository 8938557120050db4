"""Findings as a person would raise them: one cause, one note; thousands of lengths, tens of notes."""

import random
import time
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise, permutations

from checker.model import Place
from checker.result.gathering import MOST_OF_RULE, gathered
from checker.result.tables import CarrierRow, FindingRow
from checker.result.topics import group_findings, make_topic
from tests.report.results import box_mm, carrier, small_result

FINDING = small_result().findings[0]


def row(number: int, storey: str = "Level 1", size: tuple[float, float] = (100.0, 50.0)) -> CarrierRow:
    made = carrier(number, box_mm((4000.0 * number, 0.0, 2700.0), (3000.0, 0.0, 0.0), *size), size=size)
    return replace(made, place=replace(made.place, storey=storey), type_name=f"Trunking {size[0]:g}")


def fails(of: CarrierRow, rule: str = "fill.tray", **changes: object) -> FindingRow:
    return replace(FINDING, id=f"{rule} {of.place.tag}", rule=rule, carriers=(of.key,), **changes)  # type: ignore[arg-type]


def notes_of(
    findings: list[FindingRow], rows: list[CarrierRow], near: Mapping[str, set[str]] | None = None
) -> list[tuple[str, ...]]:
    """The ids of the findings of each note."""
    carriers = {one.key: one for one in rows}
    return [
        tuple(one.id for one in group) for group in gathered(group_findings(findings, carriers, near or {}), carriers)
    ]


def test_too_little_room_for_later_joins_the_note_of_what_is_too_full_already() -> None:
    first, second = row(1), row(2)
    findings = [fails(first, value=0.5), fails(first, "fill.spare", value=0.9), fails(second, "fill.spare", value=0.48)]
    for turned in permutations(findings):
        # the fill leads, though room for later is farther beyond its limit; the other length has room but for later
        assert sorted(notes_of(list(turned), [first, second])) == [
            ("fill.spare T-002",),
            ("fill.tray T-001", "fill.spare T-001"),
        ]


def test_what_asks_about_fill_again_joins_only_in_the_same_compartment() -> None:
    of = row(1)
    findings = [
        fails(of, compartment=1),
        fails(of, "access.closed", compartment=2),
        fails(of, "fill.seal", compartment=1),
    ]
    assert sorted(notes_of(findings, [of])) == [("access.closed T-001",), ("fill.tray T-001", "fill.seal T-001")]


def test_another_cause_in_the_same_compartment_stays_a_note_of_its_own() -> None:
    of = row(1)
    assert len(notes_of([fails(of), fails(of, "segregation.compartment")], [of])) == 2


def test_the_joined_note_says_both_rules_with_their_limits_and_lists_both() -> None:
    of = row(1)
    group = [
        fails(of, value=0.508, limit=0.4, source="wayroom.toml", basis="project", reason="50.8 %, over 40 %"),
        fails(
            of, "fill.spare", value=0.533, limit=0.4, source="a guide", basis="guidance", reason="53.3 % with 5 % spare"
        ),
    ]
    topic = make_topic("g", group, {of.key: of}, (), "Fill of trays", (), titles={"fill.spare": "Room for later"})
    lines = topic.description.split("\n")
    assert lines[0] == "Fill of trays (fill.tray)."
    assert lines[2] == "Limit: wayroom.toml (project)."
    assert "For that cause also: Room for later (fill.spare)." in lines
    assert "Limit: a guide (guidance)." in lines
    assert lines.index("- T-001 in Plant room, compartment 1: 53.3 % with 5 % spare") > lines.index(
        "For that cause also: Room for later (fill.spare)."
    )
    assert lines[-1] == "wayroom: fill.spare T-001 fill.tray T-001"
    assert topic.members == ("fill.spare T-001", "fill.tray T-001")


def test_as_many_notes_of_a_rule_as_may_be_stay_as_they_are() -> None:
    rows = [row(number) for number in range(MOST_OF_RULE)]  # no two of them meet
    assert len(notes_of([fails(one) for one in rows], rows)) == MOST_OF_RULE


def test_one_more_and_those_of_one_storey_and_type_are_put_together() -> None:
    # 45 on level 1 and 6 on level 2 are 51, of 2 storeys; 1 of the 45 is larger
    rows = [row(number) for number in range(44)] + [row(44, size=(150.0, 75.0))]
    rows += [row(number, "Level 2") for number in range(45, 51)]
    notes = notes_of([fails(one) for one in rows], rows)
    assert sorted(map(len, notes)) == [1, 6, 44]
    assert sum(map(len, notes)) == len({key for note in notes for key in note}) == 51


def test_another_rule_with_few_notes_is_left_as_it_is() -> None:
    rows = [row(number) for number in range(60)]
    notes = notes_of(
        [*(fails(one) for one in rows), *(fails(one, "segregation.compartment") for one in rows[:3])], rows
    )
    assert sorted(map(len, notes)) == [1, 1, 1, 60]


def test_where_all_rules_together_raise_too_many_each_has_its_share() -> None:
    rows = [row(number, f"Level {number % 20}") for number in range(49)]
    rules = ("fill.tray", "segregation.compartment", "support.load")
    two, three = ([fails(one, rule) for rule in rules[:number] for one in rows] for number in (2, 3))
    assert len(notes_of(two, rows)) == 98
    # 147 are more than 99, of which each rule has 33; by their storeys they are 20 each
    assert len(notes_of(three, rows)) == 60
    assert len({key for note in notes_of(three, rows) for key in note}) == 147


def test_three_thousand_lengths_apart_on_sixty_storeys_make_a_few_notes_that_list_them_all() -> None:
    rows = [row(number, f"Level {number % 60}", (50.0 + number % 4, 50.0)) for number in range(3000)]
    carriers = {one.key: one for one in rows}
    groups = gathered(group_findings([fails(one) for one in rows], carriers, {}), carriers)
    # 60 storeys are too many whatever else is told; the 4 sizes are few enough, 750 lengths each
    assert [len(group) for group in groups] == [750] * 4
    topics = [make_topic("g", group, carriers, (), "Fill", ()) for group in groups]
    assert {label for topic in topics for label in _named(topic.description)} == {one.place.tag for one in rows}
    assert {key for topic in topics for key in topic.carriers} == set(carriers)


def test_a_note_that_lists_more_than_a_view_selects_says_so() -> None:
    rows = [row(number) for number in range(1001)]
    carriers = {one.key: one for one in rows}
    texts = [
        make_topic("g", [fails(one) for one in some], carriers, (), "Fill", ()).description
        for some in (rows, rows[:1000])
    ]
    assert "All 1001 lengths are listed here; the view selects the first 1000, the worst first." in texts[0]
    assert "the view selects" not in texts[1]


def test_a_note_with_more_cables_than_a_view_has_room_for_says_how_many_it_selects() -> None:
    rows = [row(number) for number in range(1001)]
    carriers = {one.key: one for one in rows}
    cables = [(fails(rows[0]).circuits, Place("", "m", f"W-{number}")) for number in range(300)]

    def told(number: int) -> str:
        return make_topic("g", [fails(one) for one in rows[:number]], carriers, cables, "Fill", ()).description

    assert "Of the 300 cables the view selects the first 200." in told(800)
    assert "cables the view" not in told(700)
    assert "Of the 300 cables the view selects none." in told(1000)
    assert "Of the 300 cables the view selects none." in told(1001)


def test_the_title_of_lengths_of_several_sizes_says_how_many_and_no_compartment_that_not_all_share() -> None:
    rows = [row(number, size=(50.0 * number, 50.0)) for number in (1, 2, 3)]
    carriers = {one.key: one for one in rows}
    group = [fails(one, compartment=number, value=0.5, limit=0.45) for number, one in enumerate(rows, start=1)]
    topic = make_topic("g", group, carriers, (), "Fill", ())
    assert topic.title == "T-001, T-002, T-003 (trunking; 3 sizes): 50 % full, limit 45 %"


def too_weak(mark: str, of: CarrierRow, *along: CarrierRow) -> FindingRow:
    """A circuit that carries too little, at the worst in one length, and in others."""
    keys = tuple(one.key for one in along)
    return replace(
        fails(of, "grouping.rating", compartment=None, is_of_circuit=True, circuits=(mark,), along=keys), id=mark
    )


def of_circuits(
    findings: list[FindingRow], rows: list[CarrierRow], ways: dict[str, list[CarrierRow]] | None = None
) -> list[list[str]]:
    """The circuits of each note; the carriers meet one after the other."""
    carriers = {one.key: one for one in rows}
    keys = list(carriers)
    near = {key: {*keys[max(0, at - 1) : at], *keys[at + 1 : at + 2]} for at, key in enumerate(keys)}
    passed = {mark: {one.key for one in way} for mark, way in (ways or {}).items()}
    groups = gathered(group_findings(findings, carriers, near, passed), carriers)
    return sorted(sorted(one.id for one in group) for group in groups)


def test_circuits_that_fail_on_a_length_in_common_are_one_note_wherever_each_of_them_is_worst() -> None:
    rows = [row(number) for number in range(6)]
    findings = [
        too_weak("A", rows[0], rows[2]),
        too_weak("B", rows[2], rows[3]),
        too_weak("C", rows[4], rows[3]),
        too_weak("D", rows[5]),
    ]
    for turned in permutations(findings):
        # D fails beside C, but no circuit is known to pass where both fail
        assert of_circuits(list(turned), rows) == [["A", "B", "C"], ["D"]]


def test_circuits_that_fail_on_neighbouring_lengths_of_one_stretch_are_one_note_but_not_those_of_two_branches() -> None:
    rows = [row(number) for number in range(3)]
    findings = [too_weak("A", rows[0]), too_weak("B", rows[1])]
    assert of_circuits(findings, rows, {"A": rows[:1], "B": rows[:2]}) == [
        ["A", "B"]
    ]  # B lies beside A in the first length
    assert of_circuits(findings, rows, {"A": rows[:2], "B": rows[1:]}) == [["A", "B"]]  # and A beside B in the second
    assert of_circuits(findings, rows, {"A": rows[:1], "B": rows[1:]}) == [["A"], ["B"]]
    apart = [too_weak("A", rows[0]), too_weak("B", rows[2])]
    assert of_circuits(apart, rows, {"A": rows, "B": rows}) == [["A"], ["B"]]  # the length between them bears both


def test_thousands_of_circuits_in_one_riser_are_one_note_at_once() -> None:
    rows = [row(number) for number in range(60)]
    findings = [too_weak(f"C{number}", rows[number % 60], *rows) for number in range(3000)]
    begun = time.process_time()
    assert len(of_circuits(findings, rows)) == 1
    assert time.process_time() - begun < 2.0  # pair by pair it takes minutes


def test_a_circuit_that_fails_along_its_way_has_one_note_that_lists_and_selects_all_of_it() -> None:
    rows = [row(1), row(2), row(3, size=(150.0, 75.0))]
    carriers = {one.key: one for one in rows}
    finding = too_weak("A", rows[1], rows[0], rows[2])
    topic = make_topic("g", [finding], carriers, (), "Rating", ())
    assert topic.carriers == (rows[1].key, rows[0].key, rows[2].key)  # where it is worst comes first
    assert topic.title.startswith("T-002 (trunking 100 × 50 mm): circuit A")
    (line,) = (line for line in topic.description.split("\n") if line.startswith("- "))
    assert line.endswith("; too little in T-001, T-003 as well")


def test_two_findings_without_circuits_are_one_cause_and_one_without_is_none_with_another_s() -> None:
    rows = [row(number) for number in range(3)]
    carriers = {one.key: one for one in rows}
    near = {rows[0].key: {rows[1].key}, rows[1].key: {rows[0].key, rows[2].key}, rows[2].key: {rows[1].key}}
    marks: list[tuple[str, ...]] = [(), (), ("C",)]
    for order in permutations(range(3)):  # ids decide with whom a search begins
        findings = [replace(fails(rows[at], circuits=marks[at]), id=f"{order[at]}") for at in range(3)]
        groups = group_findings(findings, carriers, near)
        assert sorted(len(group) for group in groups) == [1, 2]


def test_of_thousands_of_mixed_failures_each_is_in_one_note_and_there_are_tens() -> None:
    """Lengths and circuits of five rules on 12 storeys, in runs of ten that meet; a seed makes them."""
    chance = random.Random(8)  # noqa: S311 - a test's, not a secret
    rows = [row(number, f"Level {number % 12}", (50.0 * (1 + number // 10 % 7), 50.0)) for number in range(800)]
    near: dict[str, set[str]] = defaultdict(set)
    for one, other in pairwise(rows):
        if one.size == other.size:
            near[one.key].add(other.key)
            near[other.key].add(one.key)
    findings = []
    for number, one in enumerate(rows):
        for rule in ("fill.tray", "fill.spare", "access.closed", "segregation.spacing"):
            marks = tuple(f"C{chance.randrange(900)}" for _ in range(chance.randrange(4)))
            made = fails(
                one, rule, circuits=marks, compartment=chance.choice((1, 2, None)), value=chance.uniform(0.3, 0.9)
            )
            findings.append(replace(made, verdict=chance.choice(("fail", "fail", "pass", "unknown", "waived"))))
        findings.append(
            replace(too_weak(f"circuit {number}", one, *rows[number + 1 : number + chance.randrange(1, 4)]))
        )
    failing = {one.id for one in findings if one.verdict == "fail"}
    assert len(failing) > 2000
    noted = notes_of(findings, rows, near)
    assert sorted(key for note in noted for key in note) == sorted(failing)
    assert 10 <= len(noted) < 100
    shuffled = chance.sample(findings, len(findings))
    assert notes_of(shuffled, chance.sample(rows, len(rows)), near) == noted


def _named(description: str) -> list[str]:
    """The lengths that the lines of a description name."""
    lines = [line[2:] for line in description.split("\n") if line.startswith("- ")]
    first = [line.split(" in ", 1)[0] for line in lines if not line.startswith("and ")]
    return first + [label for line in lines if line.startswith("and ") for label in line[4:].split(", ")]

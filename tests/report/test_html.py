import re
from dataclasses import replace

import pytest

from checker.model import Problem, ProblemKind, SourceFile
from checker.report.html import report_html
from checker.result.cautions import CAUTIONS
from checker.result.tables import Result
from tests.report.html_pages import circuit, large_result, page, rows_of, said
from tests.report.opened import with_topic
from tests.report.results import small_result


def finding_like(result: Result, place: int = 0, **changes: object) -> Result:
    findings = list(result.findings)
    findings[place] = replace(findings[place], **changes)
    return replace(result, findings=tuple(findings))


def test_the_head_names_project_code_and_the_time_of_the_model() -> None:
    tree = page(small_result())

    assert said(tree.find(".//title")) == "Plant room, checked against bs-7671"
    assert said(tree.find(".//h1")) == "Plant room"
    assert "checked against bs-7671: Guidance" in said(tree.find(".//header"))
    time = tree.find(".//header//time")
    assert (said(time), time.get("datetime")) == ("01 May 2024, 08:30 UTC", "2024-05-01T08:30:00+00:00")


@pytest.mark.parametrize(("created", "shown"), [("", "not given"), ("last week", "last week")])
def test_a_time_that_is_none_is_shown_as_it_is(created: str, shown: str) -> None:
    assert f"As of the model of {shown}" in said(page(replace(small_result(), created=created)).find(".//header"))


def test_without_a_name_the_project_s_key_stands_in() -> None:
    assert said(page(replace(small_result(), project_name="")).find(".//h1")) == "plant-room"


def test_the_summary_gives_the_accounts() -> None:
    rows = (circuit("C1"), circuit("C2", state="removed", routed_by="", reason="removed", is_loaded=False))

    summary = said(page(replace(small_result(), circuits=rows)).find(".//p[@class='summary']"))

    assert summary == (
        "Something fails. Carriers: 5 read = 5 checked + 0 unknown. Compartments: 6 read, 3 of them failing."
        " Circuits: 2 read = 1 routed + 1 not routed (1 of them removed)."
        " Ratings: 0 known, 1 unknown, 1 without load. Findings: 3 fail, 0 unknown, 0 waived, 3 pass."
        " Things to do: 2. Issue notes: 2. Problems listed: 0."
    )


@pytest.mark.parametrize(
    ("fills", "headline"),
    [
        ((0.1,) * 6, "Everything that was looked at is within the limits that are named, or waived."),
        ((None,) + (0.1,) * 5, "Nothing fails, but not everything is known."),
    ],
)
def test_the_headline_claims_no_more_than_is_known(fills: tuple[float | None, ...], headline: str) -> None:
    assert said(page(small_result(fills)).find(".//p[@class='summary']/strong")) == headline


def test_cautions_stand_in_short_at_the_top_and_whole_at_the_end() -> None:
    tree = page(replace(small_result(), cautions=CAUTIONS))

    assert said(tree.find(".//header/aside")) == f"{CAUTIONS[0]} {CAUTIONS[-1]} All cautions."
    assert [said(line) for line in tree.xpath("//section[@id='cautions']//li")] == [
        " ".join(c.split()) for c in CAUTIONS
    ]
    assert tree.xpath("//section")[-1].get("id") == "cautions"


def test_what_needs_doing_first_lists_the_topics_in_their_order_with_clause_lengths_and_circuits() -> None:
    cards = page(small_result()).xpath("//section[@id='todo']/ol/li")

    assert [said(card.find("h3")) for card in cards] == ["1. T-001: 52.3% full", "2. T-003: 60.0% full"]
    facts = {said(name): said(name.getnext()) for name in cards[0].iter("dt")}
    assert facts["Where"] == "Level 1, Plant room"
    assert facts["Found, at worst"] == "52.3 % of the area, limit 45 %"
    assert facts["Clause"] == "a guide, its appendix on trunking (guidance)"
    assert facts["Lengths (2)"] == "T-001, T-002"
    assert facts["Circuits (2)"] == "C1, C2"


def test_a_topic_s_words_come_without_the_lines_for_machines_and_without_the_cautions_again() -> None:
    result = small_result()
    text = "\n".join(["Too full.", "- T-001: much", "", CAUTIONS[1], "", f"wayroom: {result.topics[0].members[0]}",
                      "wayroom state: fill.compartment | bs-7671 | 52.3 % / 45 % | 000000000000/000000000000"])  # fmt: skip

    card = page(replace(with_topic(result, description=text), cautions=CAUTIONS)).find(".//details")

    assert said(card) == "In the words of the issue noteToo full.T-001: much"


def test_a_failing_length_has_its_arithmetic_limit_basis_source_and_note() -> None:
    rows = rows_of(page(small_result()), "failing")

    assert [row[0].split("Trunking")[0] for row in rows] == ["T-003/2", "T-001/1", "T-002/1"]  # 60 %, 52.3 %, 48.1 %
    assert rows[0][1:] == [
        "60 % of the area, limit 45 %",
        "Σ of the cables' areas over the area inside.",
        "guidance: a guide, its appendix on trunking",
        "Level 1, Plant room",
        "fill.compartment",
        "C1, C2",
        "no. 2",
    ]


def test_a_finding_has_one_row_with_all_lengths_that_it_names_and_the_count_is_of_findings() -> None:
    result = small_result()
    two = page(finding_like(result, carriers=tuple(row.key for row in result.carriers[:2]), compartment=None))
    none = finding_like(result, carriers=(), compartment=None)

    # 60 % of T-003/2 is farther beyond 45 % than 52.3 % of the two, and 48.1 % of T-002/1 is the least
    assert [row[0].split("Trunking")[0] for row in rows_of(two, "failing")] == ["T-003/2", "T-001, T-002", "T-002/1"]
    assert said(two.xpath("//section[@id='failing']//p[@class='count']")[0]) == "3 rows."
    assert rows_of(page(none), "failing")[1][0] == "the installation"


def test_a_finding_at_a_wall_is_called_by_that_and_told_in_the_rule_s_own_words() -> None:
    result = finding_like(small_result(), at="T-001 at wall W-1 (EI 60)", found="52.3 % at wall W-1")
    row = next(row for row in rows_of(page(result), "failing") if "W-1" in row[0])
    assert row[0].startswith("T-001 at wall W-1 (EI 60)Trunking")
    assert row[1] == "52.3 % at wall W-1, limit 45 %"


def test_words_without_a_limit_have_none_beside_them() -> None:
    result = finding_like(small_result(), found="a cable too thick")
    rows = rows_of(page(result), "failing")
    assert rows[0][1] == "a cable too thick"  # and it comes first: no figure says how far it is beyond


def test_what_is_unknown_is_told_with_the_rule_that_asked_for_circuits_too() -> None:
    result = finding_like(
        small_result(),
        verdict="unknown",
        is_of_circuit=True,
        circuits=("C1",),
        rule="grouping.neutral",
        reason="no load",
    )
    assert ["no load", "grouping.neutral", "1", "C1"] in rows_of(page(result), "unknown")


def test_a_fail_by_a_hair_does_not_read_as_exactly_at_the_limit() -> None:
    result = finding_like(small_result(), place=3, value=0.450001)

    assert "45.0001 % of the area, limit 45.0000 %" in {row[1] for row in rows_of(page(result), "failing")}


def test_every_compartment_read_has_a_row() -> None:
    rows = rows_of(page(large_result(450)), "compartments")

    assert sorted(row[0].split("Trunking")[0] for row in rows) == [f"T-{number:03}/1" for number in range(1, 451)]


def test_no_figure_and_no_limit_are_said_and_have_no_bar_or_mark() -> None:
    result = small_result((None, 0.12, 0.1, 0.1, 0.1, 0.1))
    no_limit = replace(result.compartments[1], limit=None)
    tree = page(replace(result, compartments=(result.compartments[0], no_limit)))

    rows = tree.xpath("//table[@id='compartments-table']/tbody/tr")

    assert [said(row[7]) for row in rows] == ["no figure, limit 45 %", "12 % of the area, no limit in the code"]
    assert [len(row[7].xpath(".//svg")) for row in rows] == [0, 1]
    assert rows[1][7].xpath(".//path") == []
    assert [said(row[8]) for row in rows] == ["unknown", "pass"]


@pytest.mark.parametrize(("fill", "width"), [(0.5, "38.4"), (0.0, "0.0"), (1.25, "96.0"), (7.0, "96.0")])
def test_a_bar_of_96_px_stands_for_125_per_cent(fill: float, width: str) -> None:
    # 96 × 0.5 / 1.25 = 38.4; the limit of 45 % is at 96 × 0.45 / 1.25 = 34.56
    tree = page(small_result((fill, 0.1, 0.1, 0.1, 0.1, 0.1)))
    row = next(row for row in tree.xpath("//table[@id='compartments-table']//tr") if "T-001" in said(row))

    used = row.xpath(".//rect")[1]

    assert used.get("width") == width
    assert used.get("class") == ("over" if fill > 0.45 else "used")
    assert row.xpath(".//path")[0].get("d") == "M34.6 0V12"


def test_what_is_unknown_is_grouped_by_reason_with_count_and_lengths() -> None:
    result = small_result((None, None, 0.1, None, 0.1, 0.1))

    assert rows_of(page(result), "unknown") == [
        ["no diameter is known of C2", "fill.compartment", "3", "T-001/1, T-002/1, T-003/2"]
    ]


def test_unknown_compartments_and_carriers_that_no_finding_speaks_of_are_listed_too() -> None:
    result = small_result((None, 0.1, 0.1, 0.1, 0.1, 0.1))
    carriers = (*result.carriers[:4], replace(result.carriers[4], checked=False))

    rows = rows_of(page(replace(result, findings=(), carriers=carriers)), "unknown")

    assert rows == [
        ["no compartment of it was judged", "fill", "1", "T-005"],
        ["no reason is given", "fill", "1", "T-001/1"],
    ]


def test_long_lists_fold_but_are_whole() -> None:
    tree = page(large_result(4500))  # 45 are unknown: 50, 150, 250 …

    cell = tree.xpath("//section[@id='unknown']//tbody/tr/td[3]")[0]

    assert said(cell.find("details/summary")) == "and 5 more"
    assert sorted(re.findall(r"T-(\d+)/1", said(cell)), key=int) == [f"{n:03}" for n in range(50, 4500, 100)]


PROBLEMS = (
    Problem("T-001", "its size is from its name", "so it may be wrong", "give it", ProblemKind.INFERENCE, 30),
    Problem("line 10", "no diameter", "its cable isn't in the table", "give one"),
    Problem("line 2", "no ends", "cells are empty", ""),
    Problem("line 9", "no diameter", "its cable isn't in the table", "give one"),
)


def test_problems_stand_in_groups_the_most_serious_first_with_their_kind_in_words() -> None:
    tree = page(replace(small_result(), problems=PROBLEMS))

    assert rows_of(tree, "problems") == [
        ["1", "gap", "no diameter", "its cable isn't in the table", "give one", "2", "line 9; line 10"],
        ["2", "gap", "no ends", "cells are empty", "", "1", "line 2"],
        ["3", "inference", "its size is from its name", "so it may be wrong", "give it", "30", "T-001"],
    ]


def test_the_head_of_the_problems_counts_each_kind_and_says_what_the_words_mean() -> None:
    tree = page(replace(small_result(), problems=PROBLEMS))
    (section,) = tree.xpath("//section[@id='problems']")

    assert said(section.find("p")).startswith("Problems listed: 4, of which 3 gaps, 1 inference.")
    assert [said(word) for word in section.xpath("./ul/li/strong")] == list(ProblemKind)
    assert said(tree.find(".//p[@class='summary']")).endswith("Problems listed: 4 (3 gaps, 1 inference).")


def test_a_low_confidence_is_said_beside_the_reading_and_others_are_not() -> None:
    result = small_result()
    one, two, *others = result.carriers
    low = replace(
        one, kind_confidence="low", kind_source="a word in its name", dimension_confidence="low", condition="existing"
    )
    medium = replace(two, kind_confidence="medium", dimension_confidence="medium")
    tree = page(replace(result, carriers=(low, medium, *others)))
    rows = tree.xpath("//table[@id='compartments-table']/tbody/tr")

    assert [said(rows[0][column]) for column in (1, 3)] == [
        "trunking kind: low confidence",
        "100 × 50 size: low confidence",
    ]
    assert (rows[0][1].get("data-k"), rows[0][1].get("data-v")) == (
        "trunking",
        "trunking",
    )  # found and sorted as before
    assert rows[0][3].get("data-v") == "100 × 50"
    assert "existing" in said(rows[0][0])
    assert said(rows[0][10]).endswith("Kind: a word in its name")
    assert [said(rows[1][column]) for column in (1, 3)] == ["trunking", "100 × 50"]


def test_what_is_demolished_is_named_and_counted_beside_the_sum() -> None:
    place = small_result().carriers[0].place
    left_out = tuple(replace(place, tag=f"X-{number}") for number in (11, 9))
    tree = page(replace(small_result(), demolished=left_out))

    assert (
        "Carriers: 5 read = 5 checked + 0 unknown; 7 in the models = 5 read + 2 marked as demolished and left out."
        in said(tree.find(".//p[@class='summary']"))
    )
    text = said(tree.xpath("//section[@id='compartments']")[0])
    assert "Marked as demolished, and left out of everything (2): X-9, X-11" in text
    assert "demolished" not in said(page(small_result()))


def test_many_demolished_fold_but_are_whole() -> None:
    place = small_result().carriers[0].place
    left_out = tuple(replace(place, tag=f"X-{number}") for number in range(1, 61))
    tree = page(replace(small_result(), demolished=left_out, carriers=(), compartments=()))
    (section,) = tree.xpath("//section[@id='compartments']")

    assert said(section.find(".//details/summary")) == "and 20 more"  # 60 less the 40 in the open
    assert re.findall(r"X-(\d+)", said(section)) == [str(number) for number in range(1, 61)]


def test_provenance_names_every_file_with_its_digest() -> None:
    table = SourceFile("table", "cables.csv", "a" * 64)
    result = replace(small_result(), files=(*small_result().files, table))

    assert [(row[0], row[1], row[2]) for row in rows_of(page(result), "provenance")] == [
        ("plant room.ifc", "model", "0" * 64),
        ("circuits.csv", "schedule", "1" * 64),
        ("cables.csv", "table", "a" * 64),
    ]
    text = said(page(result).xpath("//section[@id='provenance']")[0])
    assert "bs-7671: Guidance" in text
    assert "Wayroom 0.1.0" in text


def test_the_sample_s_page_has_all_of_the_sample(vet_result: Result) -> None:
    tree = page(vet_result)

    assert len(rows_of(tree, "compartments")) == len(vet_result.compartments)
    assert len(rows_of(tree, "circuits")) == len(vet_result.circuits)
    assert len(rows_of(tree, "failing")) == sum(row.verdict == "fail" for row in vet_result.findings)
    assert len(tree.xpath("//section[@id='todo']/ol/li")) == len(vet_result.topics)


def test_the_same_result_gives_the_same_bytes() -> None:
    assert report_html(small_result()) == report_html(small_result())


def test_a_result_with_nothing_in_it_gives_a_page() -> None:
    empty = replace(
        small_result(), carriers=(), compartments=(), circuits=(), findings=(), topics=(), files=(), project_name=""
    )

    text = said(page(empty).find(".//main"))

    for words in ("No carrier segment was read.", "No circuit was read.", "No length fails.", "Nothing is unknown."):
        assert words in text


def test_a_topic_without_advice_says_what_was_tried_in_vain() -> None:
    result = small_result()
    place = next(k for k, row in enumerate(result.findings) if row.id in result.topics[0].members)
    tried = finding_like(result, place, tried="not tried: too much else fails")
    card = page(tried).xpath("//section[@id='todo']/ol/li")[0]
    facts = {said(name): said(name.getnext()) for name in card.iter("dt")}
    # the topic has two lengths, and of the other one nothing is said
    label = next(one.place.label for one in result.carriers if one.key == result.findings[place].carriers[0])
    assert facts["No advice"] == f"{label}: not tried: too much else fails"
    assert "Advice" not in facts

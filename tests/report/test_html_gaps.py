"""What stands before anything that fails: circuits without a way, and what isn't known. And how long reasons are cut."""

from dataclasses import replace

from checker.model import Problem, ProblemKind
from checker.result.network_tables import HAS_GAP, TakeOffRow
from checker.result.tables import CircuitRow, Result
from tests.report.html_pages import circuit, page, rows_of, said
from tests.report.results import small_result

PASSING = (0.1,) * 6


def without_way(mark: str, reason: str = "nothing leads there", **changes: object) -> CircuitRow:
    return circuit(mark, routed_by="", carriers=(), reason=reason, is_loaded=False, **changes)


def first(result: Result) -> list[str]:
    """The paragraphs and the lines of the section, without its cards."""
    return [said(one) for one in page(result).xpath("//section[@id='todo']/p | //section[@id='todo']/ul/li")]


def test_circuits_without_a_way_come_first_with_their_reasons_where_nothing_fails() -> None:
    rows = (
        without_way("C10"),
        without_way("C9", ""),
        circuit("C1", is_loaded=False),
        without_way("C2", state="removed"),
    )

    told = first(replace(small_result(PASSING), circuits=rows))

    assert told == [
        "2 circuits have no way, so where all their cables lie isn't known:",
        "C9: no reason is given",
        "C10: nothing leads there",
        "2 things aren't known of lengths, circuits and ratings: see Unknown, and why.",
        "Nothing fails, so no issue note is raised.",
    ]


def test_they_come_first_too_where_something_fails() -> None:
    result = replace(small_result(), circuits=(without_way("C1"),))
    section = page(result).xpath("//section[@id='todo']")[0]

    assert first(result)[:2] == ["1 circuit has no way, so where all its cables lie isn't known:",
                                 "C1: nothing leads there"]  # fmt: skip
    assert [one.tag for one in section] == ["h2", "p", "ul", "p", "p", "ol"]


def test_a_way_with_a_gap_is_told_with_what_speaks_of_it_and_no_other_circuit_is() -> None:
    rows = tuple(TakeOffRow(mark, 0, "cat6", "A", "B", 1, None, None, None, (), why, "new")
                 for mark, why in (("C1", HAS_GAP), ("C1", HAS_GAP), ("C2", "how far it drops isn't known"), ("C3", HAS_GAP)))  # fmt: skip
    problems = (
        Problem("circuit C1", "its route doesn't reach 'B'", "so where it ends can't be seen", "name the carriers"),
        Problem("circuit C1", "its route names T-1 twice", "taken so", "mend it", ProblemKind.ASSUMPTION),
        Problem("circuit C2", "its service isn't read", "so it may lie anywhere", "give it"),
    )
    ways = tuple(circuit(mark, is_loaded=False) for mark in ("C1", "C2", "C3"))

    assert first(replace(small_result(PASSING), circuits=ways, take_off=rows, problems=problems)) == [
        "2 circuits have a way with a gap, so where all their cables lie isn't known:",
        "C1: its route doesn't reach 'B' (so where it ends can't be seen)",
        "C3: it doesn't hang together",
        "Nothing fails, so no issue note is raised.",
    ]


def test_the_first_twenty_are_named_and_the_others_counted() -> None:
    told = first(replace(small_result(PASSING), circuits=tuple(without_way(f"C{n}") for n in range(1, 24))))

    assert told[0].startswith("23 circuits have no way")
    assert [line.split(":")[0] for line in told[1:21]] == [f"C{n}" for n in range(1, 21)]
    assert told[21] == "and 3 more: see Circuits."


def test_where_all_is_known_and_nothing_fails_that_is_all_it_says() -> None:
    assert first(small_result(PASSING)) == ["Nothing fails, so nothing is raised."]


def test_the_number_of_unknowns_is_that_of_the_section_it_leads_to() -> None:
    result = replace(small_result((None, None, 0.1, 0.1, 0.1, 0.1)), circuits=(without_way("C1"), circuit("C2")))
    tree = page(result)

    # two compartments, a way, and the rating of C2, which nothing judged
    assert sum(int(row[2]) for row in rows_of(tree, "unknown")) == 4
    link = tree.xpath("//section[@id='todo']/p/a[@href='#unknown']")[0]
    assert said(link.getparent()).startswith("4 things aren't known")


def test_a_long_reason_is_cut_at_a_word_and_the_whole_of_it_folds_away() -> None:
    words = [f"C{n:03}" for n in range(1, 101)]  # 4 letters and a space each: the 60th ends at 299
    result = replace(small_result(PASSING), circuits=(without_way("C1", " ".join(words)), without_way("C2", "x" * 300)))
    cells = {row[0].text_content()[0]: row[0] for row in page(result).xpath("//section[@id='unknown']//tbody/tr")}

    assert cells["C"].text == " ".join(words[:60]) + "…"
    assert said(cells["C"].find("details/summary")) == "All of it"
    assert said(cells["C"].find("details/p")) == " ".join(words)
    assert cells["x"].text == "x" * 300
    assert cells["x"].find("details") is None


def test_a_compartment_in_which_circuits_could_lie_has_no_figure_and_no_bar() -> None:
    result = small_result((0.0, 0.0, 0.1, 0.1, 0.1, 0.1))
    one, two, *others = result.compartments
    could = replace(one, circuits=(), circuits_possible=("C1", "C2"))
    tree = page(replace(result, compartments=(could, replace(two, circuits=()), *others)))
    cells = [row[7] for row in tree.xpath("//table[@id='compartments-table']/tbody/tr")]

    assert [said(cell) for cell in cells[:2]] == ["not known: 2 circuits could lie here", "0 % of the area, limit 45 %"]
    assert [len(cell.xpath(".//svg")) for cell in cells[:2]] == [0, 1]
    assert [cell.get("data-v") for cell in cells[:2]] == [
        "",
        "0.0",
    ]  # what isn't known stands at the end however it is sorted

"""``questions.csv``, the page, ``result.json`` and the summary say what to answer first."""

import csv
import io
import json
from dataclasses import replace

from jsonschema import Draft202012Validator

from checker.report.csv_files import questions_csv
from checker.report.json_file import result_json, result_schema
from checker.result.question_tables import QuestionRow
from checker.result.tables import Result
from tests.report.html_pages import page, rows_of, said
from tests.report.results import small_result
from tests.report.test_terminal import printed

WALL = QuestionRow(
    1, "the wall of type 'T-50'", "wayroom.toml, [[types]]", "give it", 12, 12, 14, ("fill.compartment",), 3, 14, ("T-1/1", "T-2/1")
)  # fmt: skip
WAY = QuestionRow(2, "the way of circuit C9", "", "", 2, 14, 2, ("fill.compartment", "fill.tray"), 1, 2, ("T-1/1",))
REST = QuestionRow(0, "not known what would settle the rest", "", "their reasons say why", 0, 14, 3)


def asking(*rows: QuestionRow) -> Result:
    return replace(small_result(), questions=rows)


def section(result: Result) -> str:
    return said(page(result).xpath("//section[@id='questions']")[0])


def test_the_table_has_a_row_for_each_and_no_rank_for_what_is_not_known() -> None:
    first, second, last = csv.DictReader(io.StringIO(questions_csv(asking(WALL, WAY, REST)).decode()))
    assert (first["rank"], first["question"], first["settles"], first["together"], first["touches"]) == (
        "1", "the wall of type 'T-50'", "12", "12", "14",
    )  # fmt: skip
    assert (first["circuits"], first["carriers"], first["examples"]) == ("3", "14", "T-1/1; T-2/1")
    assert second["rules"] == "fill.compartment; fill.tray"
    assert (last["rank"], last["touches"], last["settles"]) == ("", "3", "0")


def test_the_page_shows_the_first_with_what_is_known_together() -> None:
    result = asking(WALL, WAY, REST)
    shown = rows_of(page(result), "questions")
    assert [row[:2] + row[3:5] for row in shown] == [
        ["1", "the wall of type 'T-50'", "12", "12 of 17"],  # 14 that are settled, and 3 of which it isn't known
        ["2", "the way of circuit C9", "2", "14 of 17"],
    ]
    assert "wayroom.toml, [[types]]: give it" in shown[0][2]
    assert shown[1][2] == "not known"
    assert "The first 2 questions settle 14 of 17 unknown answers." in section(result)
    assert "Of 3 answers it isn't known what would settle them" in section(result)


def test_the_page_shows_ten_and_says_how_many_more_there_are() -> None:
    rows = tuple(replace(WAY, rank=rank, question=f"the way of circuit C{rank}") for rank in range(1, 14))
    result = asking(*rows)
    assert len(rows_of(page(result), "questions")) == 10
    assert "and 3 more questions, in questions.csv" in section(result)


def test_the_page_says_so_where_nothing_is_unknown_or_no_question_is_known() -> None:
    assert "Nothing is unknown." in section(asking())
    assert "Unknown answers: 3." in section(asking(REST))


def test_the_file_has_every_question_and_its_schema_knows_them() -> None:
    document = json.loads(result_json(asking(WALL, REST), 1, {}))
    Draft202012Validator(result_schema()).validate(document)
    assert [row["question"] for row in document["result"]["questions"]] == [WALL.question, REST.question]
    assert document["result"]["questions"][0]["examples"] == ["T-1/1", "T-2/1"]


def test_the_summary_names_the_first_questions_and_what_is_known_then() -> None:
    lines = printed(asking(WALL, WAY, REST))
    told = (
        "Answer first: the wall of type 'T-50'; the way of circuit C9. These 2 answers settle 14 unknown findings. "
        "All questions are in questions.csv."
    )
    assert told in lines
    assert not any("Answer first" in line for line in printed(asking(REST)))
    one = "Answer first: the wall of type 'T-50'. This answer settles 1 unknown finding. All questions are in questions.csv."
    assert one in printed(asking(replace(WALL, together=1)))


def test_the_summary_says_what_more_answers_than_it_names_would_settle() -> None:
    """Of five questions three are named. Four together settle two findings, five settle six."""

    def rows(*together: int) -> list[QuestionRow]:
        return [
            replace(WAY, rank=rank, question=f"Q{rank}", together=one) for rank, one in enumerate(together, start=1)
        ]

    some, none = (printed(asking(*rows(*counts), REST)) for counts in ((0, 0, 1, 2, 6), (0, 0, 0, 2, 6)))

    told = "Answer first: Q1; Q2; Q3. These 3 answers settle"
    assert f"{told} 1 unknown finding; all 5 answers settle 6. All questions are in questions.csv." in some
    assert f"{told} no finding yet; the first 4 answers settle 2. All questions are in questions.csv." in none

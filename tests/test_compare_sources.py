"""Of what both sides are, for whoever keeps or attaches a comparison: in the terminal, the table and the page."""

import csv
import io
from dataclasses import replace

from rich.console import Console

from checker.compare.comparing import compare
from checker.compare.files import as_object, changes_csv
from checker.compare.page import compare_html
from checker.compare.tables import Comparison
from checker.compare.text import print_comparison
from checker.model import SourceFile
from checker.result.tables import Result
from tests.compared import PASSING, judged_by
from tests.report.results import small_result

STEERING = "\x1b]0;owned\x07\x1b[2J\x9b31m\r\u202e"


def issue(result: Result, revision: str, sha: str) -> Result:
    files = (
        SourceFile("model", f"plant {revision}.ifc", sha * 64, "IFC4", f"2026-0{sha}-01T08:00:00"),
        SourceFile("schedule", "circuits.csv", "a" * 64),
        SourceFile("code", "bs-7671.toml", "b" * 64),
    )
    return replace(result, files=files, revision=revision, status="S4", created=f"2026-0{sha}-01T08:00:00Z")


def two() -> Comparison:
    return compare(
        issue(small_result(PASSING), "P02", "1"), issue(small_result((0.5, 0.1, 0.1, None, 0.1, 0.1)), "P03", "2")
    )


def printed(comparison: Comparison, width: int = 200) -> str:
    stream = io.StringIO()
    print_comparison(Console(file=stream, width=width, soft_wrap=True, highlight=False), comparison, ("a", "b"), "")
    return stream.getvalue()


def test_the_table_has_a_column_of_other_figures_only_where_something_is_by_them() -> None:
    def by(limit: float, code: str) -> Result:
        return judged_by(small_result((0.42, *PASSING[1:])), limit, code)

    assert "by other figures alone" not in printed(compare(by(0.45, "a"), by(0.45, "a")))
    table = printed(compare(by(0.45, "a"), by(0.40, "c")))  # 42 % is more than 40 %, the new limit
    assert "by other figures alone" in table
    assert [line.split()[:3] for line in table.splitlines() if line.startswith("new ")] == [["new", "1", "1"]]


def test_the_text_names_the_files_of_both_with_their_sha_256_revision_and_time() -> None:
    text = printed(two())

    before, after = text.split("OLD is of:")[1].split("NEW is of:")
    for side, revision, sha in ((before, "P02", "1"), (after, "P03", "2")):
        assert f"  model plant {revision}.ifc: SHA-256 {sha * 64}, of 2026-0{sha}-01T08:00:00\n" in side
        assert f"  schedule circuits.csv: SHA-256 {'a' * 64}\n" in side
        assert f"  revision: {revision}\n  status: S4\n" in side
        assert "  files of code and tables: 1, together SHA-256 " in side
    assert "\nOLD: a, Plant room, revision P02, status S4, bs-7671, model of " in text


def test_the_table_has_them_too_and_by_what_both_differ_after_all_changes() -> None:
    comparison = compare(
        issue(small_result(PASSING), "P02", "1"), replace(issue(small_result(PASSING), "P03", "2"), version="9.9")
    )

    rows = list(csv.DictReader(io.StringIO(changes_csv(comparison).decode())))

    sources = {row["where"]: (row["old"], row["new"]) for row in rows if row["sort"] == "source"}
    assert sources["revision"] == ("P02", "P03")
    assert sources["schedule circuits.csv"] == (f"SHA-256 {'a' * 64}", f"SHA-256 {'a' * 64}")
    assert sources["model plant P02.ifc"] == (f"SHA-256 {'1' * 64}, of 2026-01-01T08:00:00", "")
    assert sources["model plant P03.ifc"] == ("", f"SHA-256 {'2' * 64}, of 2026-02-01T08:00:00")
    differences = [(row["cause"], row["what"]) for row in rows if row["sort"] == "difference"]
    assert ("other figures", "other version of Wayroom: 0.1.0 → 9.9") in differences
    assert [row["sort"] for row in rows] == ["difference"] * len(differences) + ["source"] * len(sources)


def test_the_page_has_them_side_by_side_and_the_object_every_file() -> None:
    comparison = two()
    page = compare_html(comparison).decode()
    files = {file["name"]: file["sha256"] for file in as_object(comparison, {})["new"]["files"]}

    assert files == {"plant P03.ifc": "2" * 64, "circuits.csv": "a" * 64, "bs-7671.toml": "b" * 64}
    assert all(sha * 64 in page for sha in "12a")
    assert "(revision P02, status S4) to the model of" in page


def test_a_time_that_a_run_was_asked_to_go_by_is_not_called_the_model_s() -> None:
    before, after = issue(small_result(PASSING), "P02", "1"), issue(small_result(PASSING), "P03", "2")
    comparison = compare(before, replace(after, created="2025-12-24T00:00:00Z"))
    text, page = printed(comparison), compare_html(comparison).decode()

    assert "P02, status S4, bs-7671, model of 2026-01-01T08:00:00Z" in text
    assert "P03, status S4, bs-7671, as of 2025-12-24T00:00:00Z" in text
    new = text.split("NEW is of:")[1]
    assert "  time of the newest model: 2026-02-01T08:00:00Z\n" in new
    assert "  time that the run was asked to go by: 2025-12-24T00:00:00Z\n" in new
    assert "asked to go by" not in text.split("NEW is of:")[0]
    assert "the wrong way round" not in text  # the model of NEW is the newer one
    assert page.count("the model of <time") == 1


def test_of_what_is_gone_the_text_lists_what_failed_and_not_what_passed() -> None:
    old = small_result((0.5, 0.1, 0.1, None, 0.1, 0.1))

    text = printed(compare(old, small_result((0.5, 0.1, 0.1, None, 0.1, 0.1), without=(1, 2))))

    (gone,) = [part for part in text.split("\n\n") if part.startswith("Gone, of what failed or was waived:")]
    assert ("T-001" in gone, "T-002" in gone) == (True, False)


def test_nothing_of_the_data_steers_the_terminal() -> None:
    result = small_result((0.5, *PASSING[1:]))
    place = replace(result.carriers[0].place, tag=f"T{STEERING}[red]", storey=STEERING)
    hostile = replace(
        result, carriers=(replace(result.carriers[0], place=place, width_mm=75.0), *result.carriers[1:]),
        project_name=STEERING, revision=STEERING, files=(SourceFile("model", f"{STEERING}.ifc", "1" * 64),),
    )  # fmt: skip

    text = printed(compare(small_result(PASSING), hostile))

    assert not set(STEERING[:1] + "\x07\x9b\r\u202e") & set(text)
    assert "[red]" in text
    assert "1 new" in text

"""Which of several revisions is read. Orders are those of the practice named beside them, not of the program."""

from pathlib import Path

import pytest

from checker import cli
from checker.errors import InputError
from checker.model import ProblemKind
from checker.read.global_ids import global_ids
from checker.read.installation import read_installation
from checker.read.revisions import is_pattern, newest_name, pick, would_match
from checker.read.sources import MODEL_ENDINGS, Sources, find_sources
from tests.small_models import two_trunkings

#: Names from the oldest to the newest, and why.
ORDERS = [
    (["A-P01.ifc", "A-P02.ifc"], "preliminary revisions, by number"),
    (
        ["A-P09.ifc", "A-P10.ifc", "A-C01.ifc", "A-C02.ifc"],
        "contractual after preliminary: UK practice with ISO 19650-2",
    ),
    (["A-P02.1.ifc", "A-P02.2.ifc", "A-P02.10.ifc"], "parts of a revision, by number"),
    (["A-P01.5.ifc", "A-P02.1.ifc"], "the revision before its part"),
    (["A_rev A.ifc", "A_rev B.ifc", "A_rev Z.ifc", "A_rev AA.ifc"], "letters, AA after Z"),
    (["A revA.ifc", "A revB.ifc"], "letters without a blank"),
    (["A (a).ifc", "A (B).ifc"], "letters in any case"),
    (["A.r9.ifc", "A.r10.ifc"], "numbers by value"),
    (["A v1.9.ifc", "A v1.10.ifc", "A v2.ifc"], "numbers with parts"),
    (["A_1.ifc", "A_02.ifc", "A_10.ifc"], "plain numbers"),
    (["A_2025-12-31.ifc", "A_2026-01-31.ifc"], "dates, the year first"),
    (["A_20251231.ifc", "A_20260131.ifc"], "dates without signs"),
    (["A_31-12-2025.ifc", "A_30-01-2026.ifc"], "dates, the day first, where it can't be the month"),
    (["A_02.02.2026.ifc", "A_28.02.2026.ifc"], "the day and the month alike"),
    (["P01/A.ifc", "P02/A.ifc"], "revisions as folders"),
    (["A-P01-S2.ifc", "A-P02-S2.ifc"], "what stands behind is the same"),
    (["1234-56-78-M-P01.ifc", "1234-56-78-M-P02.ifc"], "a project's number isn't a date"),
]
#: Names that tell no order, and why.
UNCLEAR = [
    (["A-P01.ifc", "A_rev B.ifc"], "two schemes"),
    (["A-P01.ifc", "A-2026-01-31.ifc"], "two schemes of one word"),
    (["A-P01-S1.ifc", "A-P02-S3.ifc"], "two words that differ"),
    (["A.ifc", "A-P01.ifc"], "one without a revision may be the first or the last"),
    (["A-old.ifc", "A-new.ifc"], "words"),
    (["A-ME.ifc", "A-EL.ifc"], "two letters that follow no 'rev' may be anything"),
    (["A-P02.ifc", "A-P02.1.ifc"], "some write the part before the whole, some after"),
    (["A-P1.ifc", "A-P01.ifc"], "the same revision twice"),
    (["A_05-06-2026.ifc", "A_07-06-2026.ifc"], "the day or the month first"),
    (["A_310126.ifc", "A_010226.ifc"], "six figures may be a date in any order"),
    (["A_2026-13-31.ifc", "A_2026-01-31.ifc"], "no date"),
    (["A_r1.ifc", "A_v2.ifc"], "numbers after different letters"),
    (["A-P01.ifc", "A-P01.ifczip"], "the same name twice"),
    (["A P01.ifc", "A-P01.ifc"], "the same words twice"),
]


@pytest.mark.parametrize(("names", "why"), ORDERS, ids=[why for _, why in ORDERS])
def test_names_tell_the_newest(names: list[str], why: str) -> None:
    for end in range(2, len(names) + 1):
        assert newest_name(names[:end])[0] == names[end - 1], why
        assert newest_name(names[:end][::-1])[0] == names[end - 1], why


@pytest.mark.parametrize(("names", "why"), UNCLEAR, ids=[why for _, why in UNCLEAR])
def test_names_that_tell_nothing_are_not_guessed_at(names: list[str], why: str) -> None:
    assert newest_name(names)[0] is None, why
    assert newest_name(names[::-1])[0] is None, why


def files(folder: Path, *names: str) -> None:
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(name, encoding="utf-8")


def no_time(_: Path) -> str:
    raise InputError("header", "there is none", "write one")


def test_the_newest_by_name_is_taken_and_the_others_are_listed(tmp_path: Path) -> None:
    files(tmp_path, "CON-P01.ifc", "CON-C01.ifc", "con-p10.IFC", "CON-P02.pdf", ".CON-P99.ifc", "DUCT-P01.ifc")
    picked = pick("CON-*", tmp_path, MODEL_ENDINGS, "wayroom.toml, models", no_time)
    assert picked.path == tmp_path / "CON-C01.ifc"
    (problem,) = picked.problems
    assert problem.kind is ProblemKind.ASSUMPTION
    assert problem.where == "wayroom.toml, models"
    assert problem.what == "'CON-*' stands for CON-C01.ifc, the newest of 3; left out: CON-P01.ifc, con-p10.IFC"
    assert problem.why == "by what differs in their names"


def test_one_match_needs_no_word(tmp_path: Path) -> None:
    files(tmp_path, "CON-P01.ifc")
    picked = pick("CON-P??.ifc", tmp_path, MODEL_ENDINGS, "models", no_time)
    assert (picked.path, picked.problems) == (tmp_path / "CON-P01.ifc", ())


def test_where_names_do_not_tell_the_time_in_the_header_does(tmp_path: Path) -> None:
    """12:00 with two hours' offset is 10:00 UTC, before 11:00 UTC."""
    files(tmp_path, "A.ifc", "A final.ifc", "A-P01.ifc")
    times = {
        "A.ifc": "2026-03-01T12:00:00+02:00",
        "A final.ifc": "2026-03-01T11:00:00Z",
        "A-P01.ifc": "2026-02-28T23:00:00Z",
    }
    picked = pick("A*", tmp_path, MODEL_ENDINGS, "models", lambda path: times[path.name])
    assert picked.path.name == "A final.ifc"
    assert "time stamps in their headers" in picked.problems[0].why


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("2026-03-01T12:00:00", "2026-03-01T12:00:00"),  # the same
        ("2026-03-01T12:00:00", ""),  # one is missing
        ("2026-03-01T12:00:00", "some day"),  # one is none
        ("2026-03-01T12:00:00", "2026-03-01T13:00:00Z"),  # with and without a zone
    ],
)
def test_where_nothing_tells_the_user_is_asked(tmp_path: Path, one: str, other: str) -> None:
    files(tmp_path, "A old.ifc", "A new.ifc")
    times = {"A old.ifc": one, "A new.ifc": other}
    with pytest.raises(InputError, match=r"which of 2 files .* newest: A new.ifc, A old.ifc") as caught:
        pick("A *.ifc", tmp_path, MODEL_ENDINGS, "models", lambda path: times[path.name])
    assert caught.value.hint == "name the one that is meant"


def test_a_time_that_contradicts_the_name_is_told(tmp_path: Path) -> None:
    files(tmp_path, "A-P01.ifc", "A-P02.ifc", "A-P03.ifc")
    times = {"A-P01.ifc": "2026-03-02T12:00:00", "A-P02.ifc": "2026-01-01T12:00:00", "A-P03.ifc": "2026-02-01T12:00:00"}
    picked = pick("A-*.ifc", tmp_path, MODEL_ENDINGS, "models", lambda path: times[path.name])
    assert picked.path.name == "A-P03.ifc"
    assert picked.problems[0].why.endswith("but by the time stamps in the headers later than that: A-P01.ifc")


def test_folders_can_be_patterns_and_lie_beside_the_project(tmp_path: Path) -> None:
    files(tmp_path, "models/P01/A.ifc", "models/P02/A.ifc", "models/P03/B.ifc", "project/wayroom.toml")
    picked = pick("../models/P*/A.ifc", tmp_path / "project", MODEL_ENDINGS, "models", no_time)
    assert picked.path.resolve() == tmp_path / "models" / "P02" / "A.ifc"
    assert "../models/P01/A.ifc" in picked.problems[0].what


@pytest.mark.parametrize(
    ("pattern", "is_looked_at"),
    [
        ("../models/*.ifc", True),  # beside the project
        ("linked/*.ifc", True),  # a link in it that leads there
        ("../*/a.IFC", True),
        ("../models/B*.ifc", False),
        ("../*.ifc", False),
        ("*.ifc", False),
    ],
)
def test_a_file_that_is_to_come_is_looked_at_where_one_that_is_there_would_be(
    tmp_path: Path, pattern: str, *, is_looked_at: bool
) -> None:
    files(tmp_path, "models/A.ifc", "project/wayroom.toml")
    (tmp_path / "project" / "linked").symlink_to(tmp_path / "models")
    folder, path = (tmp_path / "project").resolve(), (tmp_path / "models" / "A.ifc").resolve()
    assert would_match(pattern, folder, path) is is_looked_at


@pytest.mark.parametrize(
    ("pattern", "words"),
    [("B*.ifc", "no file"), ("/*/A.ifc", "absolute path"), ("none/*.ifc", "no file"), ("A.ifc/*", "no file")],
)
def test_a_pattern_that_finds_nothing_is_told(tmp_path: Path, pattern: str, words: str) -> None:
    files(tmp_path, "A.ifc")
    with pytest.raises(InputError, match=words):
        pick(pattern, tmp_path, MODEL_ENDINGS, "models", no_time)


def test_only_star_and_question_mark_make_a_pattern(tmp_path: Path) -> None:
    assert [is_pattern(name) for name in ("A[1].ifc", "A*.ifc", "A?.ifc")] == [False, True, True]
    files(tmp_path, "A[1]-P01.ifc", "A1-P02.ifc")
    assert pick("A[1]-*.ifc", tmp_path, MODEL_ENDINGS, "models", no_time).path.name == "A[1]-P01.ifc"


def project(folder: Path, text: str) -> Sources:
    (folder / "wayroom.toml").write_text(f"[project]\n{text}\n", encoding="utf-8")
    return find_sources([folder], None)


def test_the_project_file_names_models_and_the_schedule_by_patterns(tmp_path: Path) -> None:
    for name in ("CON-P01.ifc", "CON-P02.ifc"):
        two_trunkings(tmp_path / name)
    other = two_trunkings(tmp_path / "BOXES.ifc")
    other.write_text(other.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    for name in ("circuits-revA.csv", "circuits-revB.csv"):
        (tmp_path / name).write_text("circuit,from,to\n", encoding="utf-8")
    sources = project(tmp_path, 'models = ["CON-*.ifc", "BOXES.ifc"]\nschedule = "circuits-*.csv"')
    assert [path.name for path in sources.models] == ["CON-P02.ifc", "BOXES.ifc"]
    assert sources.schedule == tmp_path / "circuits-revB.csv"
    assert [problem.what.split(",")[0] for problem in sources.problems] == [
        "'CON-*.ifc' stands for CON-P02.ifc",
        "'circuits-*.csv' stands for circuits-revB.csv",
    ]
    assert set(sources.problems) <= set(read_installation(sources, {}).problems)


def test_schedules_that_names_do_not_rank_are_not_guessed_at(tmp_path: Path) -> None:
    two_trunkings(tmp_path / "model.ifc")
    for name in ("circuits old.csv", "circuits new.csv"):
        (tmp_path / name).write_text("circuit,from,to\n", encoding="utf-8")
    with pytest.raises(InputError, match="can't be told which of 2"):
        project(tmp_path, 'models = ["model.ifc"]\nschedule = "circuits*.csv"')


def test_the_same_file_under_two_names_is_read_once(tmp_path: Path) -> None:
    for name in ("b.ifc", "a.ifc", "c.ifc"):
        two_trunkings(tmp_path / name)
    changed = tmp_path / "c.ifc"
    changed.write_text(changed.read_text(encoding="utf-8").replace("T1", "T9"), encoding="utf-8")  # as long as before
    sources = find_sources([tmp_path / "b.ifc", tmp_path / "a.ifc", tmp_path / "c.ifc"], None)
    assert [path.name for path in sources.models] == ["a.ifc", "c.ifc"]
    (problem,) = sources.problems
    assert (problem.where, problem.what) == ("b.ifc", "it is the same file as a.ifc, byte for byte")


def test_models_of_one_name_are_told_apart_by_their_folders(tmp_path: Path) -> None:
    for folder in ("north/x", "south/x", "east"):
        (tmp_path / folder).mkdir(parents=True)
        two_trunkings(tmp_path / folder / "model.ifc")
        with (tmp_path / folder / "model.ifc").open("a", encoding="utf-8") as stream:
            stream.write(f"/* {folder} */\n")
    two_trunkings(tmp_path / "other.ifc")
    names = ["north/x/model.ifc", "south/x/model.ifc", "east/model.ifc", "other.ifc"]
    sources = find_sources([tmp_path / name for name in names], None)
    assert [sources.name(path) for path in sources.models] == names
    installation = read_installation(sources, {})
    assert {file.name for file in installation.files} == set(names)
    assert len({port.key for port in installation.ports}) == len(installation.ports) == 8


@pytest.mark.parametrize(
    ("models", "words"), [('"none-*.ifc"', "no file that ends in .ifc"), ('"CON *.ifc"', "name the one that is meant")]
)
def test_the_command_asks_where_a_pattern_can_not_be_resolved(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], models: str, words: str
) -> None:
    files(tmp_path, "CON old.ifc", "CON new.ifc")
    (tmp_path / "wayroom.toml").write_text(f"[project]\nmodels = [{models}]\n", encoding="utf-8")
    with pytest.raises(SystemExit) as ended:
        cli.main(["check", str(tmp_path), "--code", "bs-7671", "--out", str(tmp_path / "out")])
    told = " ".join(capsys.readouterr().err.split())
    assert ended.value.code == 2
    assert words in told


@pytest.mark.parametrize(
    ("names", "is_sure"),
    [
        (["CON-P01.ifc", "CON-P02.ifc"], True),
        (["CON-revA.ifc", "CON-revB.ifc"], True),
        (["CON-rev-3.ifc", "CON-rev-4.ifc"], True),
        (["CON-2026-01-31.ifc", "CON-2026-02-28.ifc"], True),
        (["CON-L1.ifc", "CON-L2.ifc"], False),  # levels, as likely
        (["CON-A.ifc", "CON-B.ifc"], False),  # blocks, as likely
        (["CON-1.ifc", "CON-2.ifc"], False),
    ],
)
def test_a_word_that_may_name_a_part_of_the_building_is_not_sure(names: list[str], is_sure: bool) -> None:  # noqa: FBT001
    assert newest_name(names)[1] is is_sure


def with_elements(folder: Path, name: str, first: int) -> None:
    """A text with twenty elements, whose GlobalIds go on from a number."""
    lines = (f"#{n}=IFCWALL('{first + n:022d}',$,$,$,$,$,$,$);" for n in range(1, 21))
    (folder / name).write_text("\n".join(["ISO-10303-21;", *lines]), encoding="utf-8")


def test_files_with_no_element_in_common_are_no_revisions_unless_their_names_say_so(tmp_path: Path) -> None:
    ifc = frozenset({".ifc"})
    for name, first in (
        ("CON-L1.ifc", 0),
        ("CON-L2.ifc", 1000),
        ("TR-L1.ifc", 0),
        ("TR-L2.ifc", 10),
        ("X-P01.ifc", 0),
        ("X-P02.ifc", 1000),
    ):
        with_elements(tmp_path, name, first)
    with pytest.raises(InputError, match="hardly any element in common"):
        pick("CON-*.ifc", tmp_path, ifc, "models", identities=global_ids)
    assert (
        pick("TR-*.ifc", tmp_path, ifc, "models", identities=global_ids).path.name == "TR-L2.ifc"
    )  # half are the same
    assert pick("X-*.ifc", tmp_path, ifc, "models", identities=global_ids).path.name == "X-P02.ifc"

"""The checker inside a host program: open models in, a result out, and no file touched."""

import csv
import random
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import ifcopenshell
import pytest

import checker
from checker.checking import Request
from checker.checking import check as check_files
from checker.errors import InputError, WayroomError
from checker.model import ProblemKind
from checker.read.sources import find_sources
from checker.result.tables import Result
from tests.small_models import SmallModel, two_trunkings

ROW = {"circuit": "P1", "from": "DB", "to": "S1", "service": "power", "cable": "h07v-u-2.5", "count": "3"}
OPEN = "it is open, and taken for whole"


def opened(folder: Path) -> Any:
    return ifcopenshell.open(two_trunkings(folder / "model.ifc"))


def without_files(result: Result) -> Result:
    """All of a result but hashes and names of files, and what is said of an open model alone."""
    return replace(result, files=(), problems=tuple(item for item in result.problems if item.what != OPEN))


def told(result: Result) -> list[str]:
    return [f"{item.where}: {item.what}" for item in result.problems]


def in_process(code: str, *arguments: object) -> str:
    command = [sys.executable, "-c", code, *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=300)  # noqa: S603
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_an_open_model_gives_what_the_command_gives(vet_practice: Path, vet_result: Result) -> None:
    model = ifcopenshell.open(vet_practice / "model.ifc")
    result = checker.check(model, vet_practice / "circuits.csv", None, project=vet_practice)
    assert result.findings
    assert without_files(result) == without_files(vet_result)
    assert [item.kind for item in result.problems if item.what == OPEN] == [ProblemKind.ASSUMPTION]


@pytest.mark.parametrize(
    ("sample", "model", "schedule"),
    [("workshop", "workshop-P02.ifc", "circuits.xlsx"), ("data_room", "model.ifc", "circuits.csv")],
)
def test_so_does_one_of_another_release(vet_practice: Path, sample: str, model: str, schedule: str) -> None:
    folder = vet_practice.parent / sample
    result = checker.check(
        ifcopenshell.open(folder / model), str(folder / schedule), "", project=folder / "wayroom.toml"
    )
    by_files = check_files(Request(find_sources([folder], None)))
    assert by_files.findings
    assert without_files(result) == without_files(by_files)


def test_rows_give_what_their_file_gives(vet_practice: Path, vet_result: Result) -> None:
    with (vet_practice / "circuits.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    model = ifcopenshell.open(vet_practice / "model.ifc")
    result = checker.check(model, rows, "bs-7671", project=vet_practice)
    assert result.findings == vet_result.findings
    assert result.ratings == vet_result.ratings
    assert result.topics == vet_result.topics


def test_the_hosts_model_is_left_as_it_is(tmp_path: Path) -> None:
    model = opened(tmp_path)
    before = model.to_string()
    checker.check(model, [ROW], "bs-7671")
    assert model.to_string() == before


def test_a_model_that_was_never_in_a_file_can_be_checked() -> None:
    model = SmallModel()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    model.carrier("T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), profile)
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 300.0, 0.0))
    model.element("IfcOutlet", "S1", (4000.0, 200.0, 0.0))
    result = checker.check(model.file, [ROW], "bs-7671")
    (found,) = [item for item in result.findings if item.rule == "fill.compartment"]
    # 3 · π/4 · 3.9² = 35.84 mm² of 48² = 2304 mm²
    assert found.value == pytest.approx(35.84 / 2304, rel=1e-3)
    assert found.verdict == "pass"
    assert [(file.role, file.name, file.sha256) for file in result.files if file.role in {"model", "schedule"}] == [
        ("model", "model", ""),
        ("schedule", "schedule", ""),
    ]


def test_no_file_is_opened_for_rows_and_an_open_model(tmp_path: Path) -> None:
    path = two_trunkings(tmp_path / "model.ifc")
    code = """
import sys, ifcopenshell, checker
model, seen = ifcopenshell.open(sys.argv[1]), []
row = dict(zip(("circuit", "from", "to", "service", "cable", "count"), ("P1", "DB", "S1", "power", "h07v-u-2.5", "3")))
checker.check(model, [row], "bs-7671")  # once before, since modules and tables are loaded then
kinds = ("open", "os.mkdir", "os.rename", "os.remove", "tempfile.mkstemp", "tempfile.mkdtemp", "subprocess.Popen", "socket.connect")
sys.addaudithook(lambda event, details: seen.append((event, details)) if event in kinds else None)
result = checker.check(model, [row], "bs-7671")
print(len(result.carriers), [str(item) for item in seen])
with open(sys.argv[1]): pass
print(len(seen))
"""
    assert in_process(code, path).splitlines() == ["2 []", "1"]  # the last shows that the hook sees what is opened


def test_importing_the_package_stays_cheap() -> None:
    slow = ("ifcopenshell", "numpy", "networkx", "pydantic", "checker.checking", "checker.embedded")
    code = f"import sys, checker; print(checker.check.__name__, [name for name in {slow!r} if name in sys.modules])"
    assert in_process(code) == "check []"


def test_the_function_keeps_its_name_whatever_of_the_package_is_imported() -> None:
    code = (
        "import importlib, pkgutil, checker\n"
        "for info in pkgutil.iter_modules(checker.__path__):\n"
        "    importlib.import_module(f'checker.{info.name}')\n"
        "print(type(checker.check).__name__, type(checker).__name__)"
    )
    assert in_process(code) == "function module"
    assert set(checker.__all__) == {"__version__", "check"}


def two_of_one_name() -> list[Any]:
    """Two models of one building with headers that name no file; their elements have the same GlobalIds."""
    models = []
    for tag, y in (("A1", 0.0), ("B1", 9000.0)):
        model = SmallModel()
        profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
        model.carrier(tag, (0.0, y, 0.0), (4000.0, y, 0.0), profile)
        model.file.header.file_name.time_stamp = "2026-11-02T09:00:00"
        models.append(model.file)
    return models


def test_several_models_are_one_building_in_whatever_order_they_come() -> None:
    one, other = two_of_one_name()
    first, second = checker.check([one, other], [ROW], "bs-7671"), checker.check(iter([other, one]), [ROW], "bs-7671")
    assert first == second
    assert sorted(item.place.tag for item in first.carriers) == ["A1", "B1"]
    assert [file.name for file in first.files if file.role == "model"] == ["model", "model (2)"]


def test_a_model_that_is_given_twice_is_read_once_and_that_is_said() -> None:
    one, _ = two_of_one_name()
    result = checker.check([one, one], [ROW], "bs-7671")
    assert [item.place.tag for item in result.carriers] == ["A1"]
    assert "model: it is given more than once" in told(result)


def test_without_a_schedule_nothing_passes_and_that_is_said(tmp_path: Path) -> None:
    result = checker.check(opened(tmp_path), None, "bs-7671")
    assert "schedule: no circuit schedule was given" in told(result)
    assert {item.verdict for item in result.findings} == {"unknown"}


def test_a_schedule_that_the_project_file_names_and_the_host_does_not_give_is_said(
    vet_practice: Path, tmp_path: Path
) -> None:
    result = checker.check(opened(tmp_path), None, None, project=vet_practice)
    assert "wayroom.toml, [project] schedule: the schedule that it names isn't read" in told(result)


def test_limits_of_the_project_that_its_code_has_no_use_for_are_said(tmp_path: Path) -> None:
    text = '[limits."fill.area"]\nspace_factor = 0.3\nreason = "x"\n'
    (tmp_path / "wayroom.toml").write_text(text, encoding="utf-8")
    model = opened(tmp_path)
    result = checker.check(model, [ROW], "bs-7671", project=tmp_path)
    assert 'wayroom.toml, [limits."fill.area"]: the code bs-7671 doesn\'t run that rule' in told(result)
    by_files = check_files(Request(find_sources([tmp_path / "model.ifc", tmp_path], None), "bs-7671"))
    words = "doesn't run that rule"
    assert [item for item in result.problems if words in item.what] == [
        item for item in by_files.problems if words in item.what
    ]


def test_numbers_count_as_their_texts(tmp_path: Path) -> None:
    model = opened(tmp_path)
    by_text = checker.check(model, [{**ROW, "diameter_mm": "7.1"}], "bs-7671")
    by_number = checker.check(
        model, [{**ROW, "count": 3, "diameter_mm": 7.1, "from": " DB ", "route": None}], "bs-7671"
    )
    assert by_number.findings == by_text.findings
    whole = checker.check(model, [{**ROW, "count": 3.0, "diameter_mm": 7.1}], "bs-7671")
    assert whole.findings == by_text.findings


def test_columns_come_in_any_order_and_may_be_other_ones(tmp_path: Path) -> None:
    model = opened(tmp_path)
    rows = [
        ROW,
        {
            "circuit": "P2",
            "from": "DB",
            "to": "S1",
            "service": "power",
            "diameter_mm": "5",
            "count": "1",
            "colour": "red",
        },
    ]
    shuffled = []
    for row in rows:
        items = list(row.items())
        random.Random(7).shuffle(items)  # noqa: S311
        shuffled.append(dict(items))
    assert checker.check(model, shuffled, "bs-7671") == checker.check(model, rows, "bs-7671")


def test_a_row_that_holds_nothing_is_no_row_and_one_without_a_mark_is_lost(tmp_path: Path) -> None:
    model = opened(tmp_path)
    plain = checker.check(model, [ROW], "bs-7671")
    assert checker.check(model, [ROW, dict.fromkeys(ROW, " ")], "bs-7671") == plain
    lost = checker.check(model, [ROW, {**ROW, "circuit": None}], "bs-7671")
    assert any(item.startswith("schedule, row 2, circuit: ") for item in told(lost))
    assert {item.verdict for item in plain.findings if item.rule == "fill.compartment"} == {"pass"}
    assert {item.verdict for item in lost.findings if item.rule == "fill.compartment"} == {"unknown"}


def test_no_rows_at_all_are_said(tmp_path: Path) -> None:
    assert "schedule: the schedule has no rows" in told(checker.check(opened(tmp_path), [], "bs-7671"))


def test_planning_values_and_signs_that_no_text_has_are_said(tmp_path: Path) -> None:
    row = {**ROW, "cable": "cat6-u-utp", "service": "data", "from": "D\x00B", "note": "\ud800"}
    problems = told(checker.check(opened(tmp_path), [row], "bs-7671"))
    assert "schedule, row 1: the size of cat6-u-utp is a planning value" in problems
    assert "schedule, row 1: it holds control characters, which no text has" in problems


@pytest.mark.parametrize(
    ("rows", "where", "words"),
    [
        (["P1"], "schedule, row 1", "it is a str, and no mapping"),
        ([ROW, {**ROW, "count": True}], "schedule, row 2", "what it has in 'count', 'True', is neither"),
        ([{**ROW, "count": float("nan")}], "schedule, row 1", "is neither a text nor a number"),
        ([{**ROW, "count": 10**400}], "schedule, row 1", "is neither a text nor a number"),
        ([{**ROW, 7: "x"}], "schedule, row 1", "its column 7 is no text"),
        ([{"circuit": "P1", "from": "DB"}], "schedule, row 0", "the column 'to' is missing"),
        ([{**ROW, f"c{number}": "x"} for number in range(1001)], "schedule", "more than 1000 columns"),
        (7, "schedule", "a int is no schedule"),
    ],
)
def test_rows_that_can_not_be_a_schedule_are_refused(
    tmp_path: Path, rows: Iterable[Any], where: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        checker.check(opened(tmp_path), rows, "bs-7671")
    assert caught.value.where == where
    assert words in caught.value.what
    assert caught.value.hint


@pytest.mark.parametrize(
    ("model", "words"),
    [
        ("model.ifc", "a str is no open model"),
        (Path("model.ifc"), "is no open model"),
        (None, "a NoneType is no open model"),
        ([], "no model is given"),
        (["model.ifc"], "one of the models is a str, and not open"),
    ],
)
def test_what_is_no_open_model_is_refused(model: Any, words: str) -> None:
    with pytest.raises(InputError, match=words):
        checker.check(model, [ROW], "bs-7671")


class OfAnotherRelease:
    """What a build of the library that knows more releases would open; the one that is installed may not."""

    schema_identifier = "IFC4X1"
    header = SimpleNamespace(file_name=SimpleNamespace(name="later.ifc"))

    def by_type(self, name: str) -> list[Any]:
        raise AssertionError(name)  # nothing is asked of it


def test_a_release_that_can_not_be_read_as_it_is_open_is_refused() -> None:
    with pytest.raises(InputError, match=r"later\.ifc: it is open as IFC4X1"):
        checker.check(OfAnotherRelease(), [ROW], "bs-7671")


@pytest.mark.parametrize("code", [None, "", "none"])
def test_a_code_is_never_guessed(tmp_path: Path, code: str | None) -> None:
    with pytest.raises(WayroomError, match="code"):
        checker.check(opened(tmp_path), [ROW], code)

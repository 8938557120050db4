"""The recipes of DEVELOPERS.md hold: the rule can be pasted and works, the tables name what there is."""

import importlib
import importlib.util
import re
import shutil
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from checker.manual import SUBJECT_WORDS
from checker.model import Carrier, CarrierKind, LoadedCompartment, Place, PlacedCable, RoutedCircuit, Section, Service
from checker.rule import Basis, Limit, Rule, judge, tighter_is_lower
from checker.rule.catalogue import read_cables, read_carriers
from checker.rule.limits import Limits
from checker.rule.rule import MARK, SUBJECTS, read_rule
from checker.rule.table import Table
from checker.testing import SUBJECTS_OF

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
RECIPE = TEXT[TEXT.index("\n**A rule.**") : TEXT.index("\n**A code.**")]


def block(beginning: str) -> str:
    """The code of the recipe that begins so: up to the next line that isn't indented."""
    found = re.search(rf"^ {{4}}{re.escape(beginning)}.*\n(?:(?: {{4}}.*)?\n)*", RECIPE, re.MULTILINE)
    assert found
    return textwrap.dedent(found[0]).rstrip() + "\n"


CODE = block('"""Do no more')


@pytest.fixture
def crowd(tmp_path: Path) -> Iterator[Rule]:
    """The rule, read from a file as anybody's would be."""
    path = tmp_path / "crowd_of_the_recipe.py"
    path.write_text(CODE, encoding="utf-8")
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module
    spec.loader.exec_module(module)
    (function,) = [item for item in vars(module).values() if hasattr(item, MARK)]
    yield read_rule(function, "the recipe")
    del sys.modules[path.stem]


def answer(crowd: Rule, *counts: int | None, possible: int = 0) -> Any:
    """Of a conduit that holds so many cables of circuits P1, P2, …, six being allowed."""
    six = Limit(value=6, basis=Basis.PROJECT, source="the test", confidence="given")
    cables = [
        PlacedCable(f"P{at}", Service.POWER, "", count, 10.0) for at, count in enumerate((*counts, possible), start=1)
    ]
    conduit = LoadedCompartment(
        Carrier("C-1", Place("C-1", "case"), CarrierKind.CONDUIT, Section()),
        1,
        area_mm2=500.0,
        cables=tuple(cables[:-1]),
        possible=tuple(cables[-1:]) if possible else (),
        possible_doubts=("a circuit isn't routed",) if possible else (),
    )
    return judge(crowd, conduit, crowd.limits(most=six))  # type: ignore[call-arg]


def test_the_rule_of_the_recipe_is_one(crowd: Rule) -> None:
    assert (crowd.id, crowd.kinds, crowd.subject) == ("crowd.conduit", {CarrierKind.CONDUIT}, LoadedCompartment)
    for part in ("?", "Clause:", "Worked example.", "Not asked here:"):
        assert part in crowd.manual


@pytest.mark.parametrize(
    ("counts", "outcome", "value"),
    [((3, 2), "pass", 5.0), ((3, 3), "pass", 6.0), ((3, 4), "fail", 7.0), ((), "pass", 0.0)],
)
def test_it_counts_the_cables(crowd: Rule, counts: tuple[int, ...], outcome: str, value: float) -> None:
    """Six are allowed: 3 + 2 = 5 (the worked example of its page) and 3 + 3 = 6 are no more, 3 + 4 = 7 are."""
    verdict = answer(crowd, *counts)
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.unit) == (outcome, value, 6.0, "cables")


def test_what_is_not_counted_is_unknown_and_says_what_would_settle_it(crowd: Rule) -> None:
    verdict = answer(crowd, 3, None)
    assert (verdict.outcome, verdict.needs) == ("unknown", ("the number of cables of circuit P2",))
    assert "how many cables P2 has isn't known" in verdict.reason
    # seven of P1 are more than six, whatever P2 has
    assert answer(crowd, 7, None).outcome == "fail"


def test_what_may_lie_there_besides_leaves_it_open_only_where_it_matters(crowd: Rule) -> None:
    """4 and perhaps 2 are 6 at the most; 4 and perhaps 3 may be 7."""
    assert answer(crowd, 4, possible=2).outcome == "pass"
    assert answer(crowd, 4, possible=3).outcome == "unknown"


@pytest.mark.parametrize("arguments", [["check"], ["format", "--check"]], ids=" ".join)
def test_it_can_be_pasted_into_the_project_as_it_is(arguments: list[str]) -> None:
    beside = Path(sys.executable).with_name("ruff")
    ruff = str(beside) if beside.is_file() else shutil.which("ruff")
    if ruff is None:
        pytest.skip("ruff isn't installed, so the recipe's style isn't looked at")
    command = [ruff, *arguments, "--no-cache", "--stdin-filename", "rules/crowd/conduit.py", "-"]
    run = subprocess.run(command, cwd=ROOT, input=CODE, capture_output=True, encoding="utf-8", check=False)  # noqa: S603
    assert run.returncode == 0, run.stdout + run.stderr


def test_a_limit_that_is_stricter_upwards_is_written_as_the_recipe_says() -> None:
    lines = block("from pydantic import Field").splitlines()
    space: dict[str, Any] = {"Limit": Limit, "Limits": Limits}
    body = textwrap.indent("\n".join(lines[1:]).strip(), "    ")
    exec(f"{lines[0]}\nclass FloorLimits(Limits):\n    most: Limit\n{body}\n", space)  # noqa: S102 - our own text
    assert tighter_is_lower(space["FloorLimits"], "most")
    assert not tighter_is_lower(space["FloorLimits"], "least")


ROWS = [[cell.strip() for cell in line.strip("|").split("|")] for line in RECIPE.splitlines() if line.startswith("| `")]


def test_the_table_of_subjects_has_all_of_them_and_names_the_files_that_they_stand_in() -> None:
    by_name = {sort.__name__: sort for sort in SUBJECTS}
    assert sorted(row[0].strip("`") for row in ROWS) == sorted(by_name)
    for name, stands_in, _, cases in ROWS:
        sort = by_name[name.strip("`")]
        module, *others = re.findall(r"`([^`]+)`", stands_in)
        assert sort.__module__ == f"checker.model.{module.removesuffix('.py')}"
        for other in others:
            assert getattr(sys.modules[sort.__module__], other).__module__ == sort.__module__
        for file in re.findall(r"`([^`]+)\.py`", cases):
            assert importlib.import_module(f"checker.{file}").__doc__


def test_every_sort_of_subject_is_read_from_cases_and_has_words() -> None:
    assert {LoadedCompartment, RoutedCircuit, *SUBJECTS_OF} == set(SUBJECTS)
    assert set(SUBJECT_WORDS) == set(SUBJECTS)


CELLS = {
    "key": "k", "source": "s", "confidence": "high", "strands": "solid", "planning": "no", "diameter_mm": "10", "kind": "tray",
    "perforated": "yes",
}  # fmt: skip


@pytest.mark.parametrize(("what", "read"), [("cables", read_cables), ("carriers", read_carriers)])
def test_a_catalogue_with_the_columns_that_are_listed_is_read(what: str, read: Any) -> None:
    """Without one that it needs it isn't; those after "where it has them" it can do without."""
    listed = re.search(rf"^- {what}: (.*?)[;.]\n(?=-|\n)", TEXT, re.MULTILINE | re.DOTALL)
    assert listed
    needed, others = (re.findall(r"`(\w+)`", part) for part in listed[1].split("where it"))
    assert len(needed) >= 11
    assert len(others) >= 5
    row = {column: CELLS.get(column, "") for column in needed}
    assert len(list(read(Table("t", (row | {column: CELLS.get(column, "") for column in others},)), "the test"))) == 1
    assert len(list(read(Table("t", (row,)), "the test"))) == 1

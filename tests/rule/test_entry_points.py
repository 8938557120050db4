"""Entry points that lead to nothing, and keys that are found twice: both stop the run and say where."""

import importlib
import importlib.metadata
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from checker.errors import PluginError
from checker.rule import plugins as plugin_module
from checker.rule.plugins import load_plugins


class Point(SimpleNamespace):
    """An entry point of a distribution."""

    name: str
    value: str
    group: str
    dist: Any

    def load(self) -> Any:
        return importlib.import_module(self.value)


def installed(monkeypatch: pytest.MonkeyPatch, folder: Path, *points: tuple[str, str]) -> None:
    """Entry points of the distribution "theirs", group and package, beside ours."""
    real = importlib.metadata.entry_points
    more = [
        Point(name=f"n{number}", value=value, group=group, dist=SimpleNamespace(name="theirs"))
        for number, (group, value) in enumerate(points)
    ]

    def some(*, group: str) -> list[Any]:
        own = [point for point in real(group=group) if point.dist is not None and point.dist.name == "wayroom"]
        return [*own, *(point for point in more if point.group == group)]

    monkeypatch.setattr(plugin_module, "entry_points", some)
    monkeypatch.syspath_prepend(folder)


def package(folder: Path, name: str, **files: str) -> None:
    """A package; of file names the last underscore stands for the dot."""
    (folder / name).mkdir()
    (folder / name / "__init__.py").write_text("", encoding="utf-8")
    for file, text in files.items():
        (folder / name / ".".join(file.rsplit("_", 1))).write_text(text, encoding="utf-8")


@pytest.mark.parametrize(
    ("group", "lacks", "hint"),
    [
        ("wayroom.rules", "there is no rule in it", "put @rule("),
        ("wayroom.codes", "there is no code in it", ".toml"),
        ("wayroom.catalogues", "there is no table in it", ".csv"),
    ],
)
def test_an_entry_point_that_leads_to_nothing_stops_the_run(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, group: str, lacks: str, hint: str
) -> None:
    name = f"nothing_{group.split('.')[1]}"
    package(tmp_path, name, notes_txt="nothing")
    installed(monkeypatch, tmp_path, (group, name))
    with pytest.raises(PluginError) as caught:
        load_plugins.__wrapped__()
    assert caught.value.where == f"{group} entry point 'n0' (from theirs)"
    assert caught.value.what == lacks
    assert hint in caught.value.hint


def test_a_rule_that_is_only_imported_from_elsewhere_counts_as_none(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Else a module that imports one of our rules would have it a second time."""
    (tmp_path / "only_imports.py").write_text("from rules.fill.tray import tray\n", encoding="utf-8")
    installed(monkeypatch, tmp_path, ("wayroom.rules", "only_imports"))
    with pytest.raises(PluginError, match="there is no rule in it") as caught:
        load_plugins.__wrapped__()
    assert "not on one that it imports" in caught.value.hint


HEAD = "key,family,csa_mm2,cores,conductor,strands,diameter_mm,width_mm,height_mm,insulation,rated_voltage_v,planning,source,confidence\n"
ROW = "{key},lead,4,1,copper,stranded,10,,,EPR,750,,house guide (invented),high\n"


@pytest.mark.parametrize(
    ("files", "where", "what"),
    [
        (
            {"cables_odd_csv": HEAD + ROW.format(key="odd-4") * 2},
            "table cables_odd.csv, line 3 (from theirs)",
            "the key odd-4 stands in line 2 already",
        ),
        (
            {"cables_odd_csv": HEAD + ROW.format(key="h07v-u-2.5")},
            "cable h07v-u-2.5 (from theirs)",
            "the distribution wayroom has a cable of the same key",
        ),
        (
            {"cables_a_csv": HEAD + ROW.format(key="odd-4"), "cables_b_csv": HEAD + ROW.format(key="odd-4")},
            "cables_b.csv, line 2 (from theirs)",
            "cables_a.csv of that distribution has a cable of the same key, odd-4",
        ),
    ],
    ids=["one table", "two distributions", "two tables"],
)
def test_a_key_that_is_there_twice_says_where_it_stands_first(
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    request: pytest.FixtureRequest,
    files: dict[str, str],
    where: str,
    what: str,
) -> None:
    name = f"twice_{request.node.callspec.id.replace(' ', '_')}"
    package(tmp_path, name, **files)
    installed(monkeypatch, tmp_path, ("wayroom.catalogues", name))
    with pytest.raises(PluginError) as caught:
        load_plugins.__wrapped__()
    assert (caught.value.where, caught.value.what) == (where, what)


def test_two_entry_points_to_one_package_are_told_as_such(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    package(tmp_path, "led_to_twice", cables_odd_csv=HEAD + ROW.format(key="odd-4"))
    installed(monkeypatch, tmp_path, *[("wayroom.catalogues", "led_to_twice")] * 2)
    with pytest.raises(PluginError, match=r"the table cables_odd\.csv is found in it twice") as caught:
        load_plugins.__wrapped__()
    assert "two of its entry points lead to it" in caught.value.hint


PAGE = '''"""Is it a page?"""
from checker.model import LoadedCompartment
from checker.rule import Limits, Verdict, rule

@rule(id="x.one", title="One")
def {name}(subject: LoadedCompartment, limits: Limits) -> Verdict: ...
'''


def test_a_rule_that_is_there_twice_says_where_it_stands_first(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    one = PAGE.format(name="one")
    package(tmp_path, "same_module", odd_py=one + one.split("\n\n")[1].replace("one(", "other("))
    package(tmp_path, "other_module", first_py=one, second_py=one)
    installed(monkeypatch, tmp_path, ("wayroom.rules", "same_module"))
    with pytest.raises(PluginError, match=r"the rule x\.one is found in it twice") as caught:
        load_plugins.__wrapped__()
    assert caught.value.where == "module same_module.odd (from theirs)"
    installed(monkeypatch, tmp_path, ("wayroom.rules", "other_module"))
    with pytest.raises(
        PluginError, match=r"module other_module\.first of that distribution has a rule of the same key, x\.one"
    ):
        load_plugins.__wrapped__()

"""What is installed loads; what is broken stops the run and names its distribution."""

import importlib.metadata
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

import rules
from checker.errors import PluginError, ProjectFileError
from checker.model import LoadedCompartment
from checker.rule import Basis, Limit, Limits, Table, Verdict, rule
from checker.rule import plugins as plugin_module
from checker.rule.code import read_codes
from checker.rule.code_file import parse_code
from checker.rule.plugins import load_plugins
from checker.rule.rule import read_rule
from checker.rule.tighten import tightened


def test_each_rule_stands_in_the_file_that_its_id_names() -> None:
    home = Path(rules.__file__).parent
    for key, found in load_plugins().rules.items():
        family, name = key.split(".")
        assert (home / family / f"{name}.py").is_file()
        assert found.function.__module__ == f"rules.{family}.{name}"


def test_each_manual_page_asks_cites_and_works_an_example() -> None:
    for key, found in load_plugins().rules.items():
        for words in ("?", "Clause:", "Worked example.", "Not asked here:"):
            assert words in found.manual, (key, words)


def limits_of_all() -> Iterator[tuple[str, Limit]]:
    for code in load_plugins().codes.values():
        for key, limits in code.limits.items():
            for name, value in limits:
                if isinstance(value, Limit):
                    yield f"{code.key} {key} {name}", value


@pytest.mark.parametrize(
    ("name", "limit"), list(limits_of_all()), ids=lambda item: item if isinstance(item, str) else ""
)
def test_every_limit_has_a_source_a_basis_and_is_sure_enough(name: str, limit: Limit) -> None:
    assert len(limit.source) > 10, name
    assert limit.basis in {Basis.REQUIREMENT, Basis.GUIDANCE, Basis.NOTE}
    assert limit.confidence.split()[0].rstrip(":;,") in {"high", "medium", "medium-high"}


@pytest.mark.parametrize("table", list(load_plugins().tables.values()), ids=lambda table: table.name)
def test_every_row_of_every_table_has_source_and_confidence(table: Table) -> None:
    assert table.rows
    for row in table.rows:
        assert len(row["source"]) > 10
        assert row["confidence"]
        # planning values of cables are no code's figures: they ship as what they are, and every use of one is told
        assert not row["confidence"].startswith("low") or row.get("planning") == "yes"


def test_a_row_without_a_source_is_refused() -> None:
    with pytest.raises(PluginError, match="names no source") as caught:
        Table.parse("t.csv", "a,source,confidence\n1,here,high\n2,,high\n", distribution="theirs")
    assert "line 3 (from theirs)" in caught.value.where


def test_a_row_of_another_length_is_refused() -> None:
    with pytest.raises(PluginError, match="another number of cells"):
        Table.parse("t.csv", "a,source,confidence\n1,here\n")


def test_a_figure_of_low_confidence_is_refused() -> None:
    with pytest.raises(ValueError, match="low confidence"):
        Limit(value=1, basis=Basis.GUIDANCE, source="somewhere", confidence="low: from memory")


class SomeLimits(Limits):
    figure: Limit


def test_a_rule_of_another_signature_is_refused_by_name() -> None:
    @rule(id="bad.one", title="Bad")
    def bad(subject: LoadedCompartment) -> Verdict:
        raise NotImplementedError

    with pytest.raises(PluginError, match="signature") as caught:
        read_rule(bad, "theirs")
    assert "bad.one (from theirs)" in caught.value.where


def point(name: str, value: str) -> importlib.metadata.EntryPoint:
    return importlib.metadata.EntryPoint(name, value, "wayroom.rules")


def with_points(monkeypatch: pytest.MonkeyPatch, *more: importlib.metadata.EntryPoint) -> None:
    real = importlib.metadata.entry_points

    def some(*, group: str) -> list[importlib.metadata.EntryPoint]:
        return [*real(group=group), *(more if group == "wayroom.rules" else ())]

    monkeypatch.setattr(plugin_module, "entry_points", some)
    monkeypatch.setattr(plugin_module, "load_plugins", load_plugins.__wrapped__)


def test_a_plug_in_that_does_not_load_stops_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    with_points(monkeypatch, point("theirs", "a_package_that_is_not_there"))
    with pytest.raises(PluginError, match="can't be loaded") as caught:
        plugin_module.load_plugins()
    assert "theirs" in caught.value.where


PAGE = '''"""Is it a page?"""
from checker.model import LoadedCompartment
from checker.rule import Limits, Verdict, rule

@rule(id="x.one", title="One"{more})
def one(subject: {subject}, limits: Limits) -> Verdict: ...
'''


@pytest.mark.parametrize(
    ("name", "more", "subject", "words"),
    [
        ("kinds", ', kinds="conduit"', "LoadedCompartment", "kinds is 'conduit', which is no list"),
        ("member", ", kinds=LoadedCompartment", "LoadedCompartment", "which is no list"),
        ("text", ', kinds=["conduit"]', "LoadedCompartment", "in kinds 'conduit' is text, not a kind of carrier"),
        ("words", ', kinds=["conduits"]', "LoadedCompartment", "'conduits' is no kind of carrier"),
        ("tells", ', tells="fill"', "LoadedCompartment", "tells is 'fill'"),
        ("hints", "", '"Nowhere"', "a rule in it can't be read: name 'Nowhere' is not defined"),
    ],
)
def test_a_rule_that_would_never_be_asked_stops_the_run(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str, more: str, subject: str, words: str
) -> None:
    """``kinds="conduit"`` are the kinds c, o, n …: it would load and never say a word."""
    (tmp_path / f"odd_{name}.py").write_text(PAGE.format(more=more, subject=subject), encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with_points(monkeypatch, point("theirs", f"odd_{name}"))
    with pytest.raises(PluginError) as caught:
        plugin_module.load_plugins()
    assert words in caught.value.what
    assert f"(from odd_{name})" in caught.value.where


def test_a_file_that_is_not_utf_8_is_named_and_a_mark_at_its_head_is_no_matter(tmp_path: Path) -> None:
    (tmp_path / "marked.csv").write_bytes(b"\xef\xbb\xbfsource,confidence,a\nhere,high,1\n")
    assert plugin_module._table(tmp_path / "marked.csv", "theirs").rows == (
        {"source": "here", "confidence": "high", "a": "1"},
    )
    (tmp_path / "latin.csv").write_bytes("a,source\né,here\n".encode("latin-1"))
    with pytest.raises(PluginError, match="isn't UTF-8") as caught:
        plugin_module._table(tmp_path / "latin.csv", "theirs")
    assert caught.value.where == "latin.csv (from theirs)"


def test_a_rule_of_the_same_id_stops_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    with_points(monkeypatch, point("theirs", "rules.fill.compartment"))
    with pytest.raises(PluginError, match="the same key") as caught:
        plugin_module.load_plugins()
    assert "fill.compartment" in caught.value.where


def test_a_package_of_the_same_name_that_is_not_ours_stops_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr(rules, "WAYROOM")
    with pytest.raises(PluginError, match="isn't the one that wayroom ships"):
        load_plugins.__wrapped__()


def test_nothing_installed_at_all_stops_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plugin_module, "entry_points", lambda *, group: [])  # noqa: ARG005
    with pytest.raises(PluginError, match="none is installed"):
        load_plugins.__wrapped__()


def test_a_broken_module_of_a_plug_in_is_named() -> None:
    package = ModuleType("nowhere")
    package.__path__ = [str(Path(__file__).parent / "broken_plugin")]
    with pytest.raises(PluginError, match="can't be loaded") as caught:
        list(plugin_module._modules(package, "theirs"))
    assert "theirs" in caught.value.where


def test_two_fill_rules_for_one_kind_of_carrier_are_refused() -> None:
    plugins = load_plugins()
    codes = Path(rules.__file__).parent / "codes"
    one, other = (
        parse_code((codes / f"{key}.toml").read_text(encoding="utf-8"), where=key, distribution="theirs", sha256="")
        for key in ("bs-7671", "nfpa-70")
    )
    both = {**one.data["rules"], "fill.count": other.data["rules"]["fill.count"]}
    file = replace(one, data={**one.data, "rules": both})
    with pytest.raises(PluginError, match=r"fill\.conduit and fill\.count both speak of conduit"):
        read_codes({file.key: file}, plugins.rules, plugins.tables)


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        ({"fill.none": {"space_factor": 0.4, "reason": "x"}}, "runs no such rule"),
        ({"fill.compartment": {"space_factor": 0.4}}, "gives no reason"),
        ({"fill.compartment": {"space": 0.4, "reason": "x"}}, "no limit space"),
        ({"fill.compartment": {"space_factor": 0.5, "reason": "x"}}, "looser than the code's 0.45"),
        ({"fill.compartment": {"space_factor": -0.5, "reason": "x"}}, "isn't a number above 0"),
        ({"fill.conduit": {"capacities": 0.5, "reason": "x"}}, "no limit capacities"),
    ],
)
def test_a_project_can_only_set_a_stricter_limit_with_a_reason(
    wanted: dict[str, dict[str, float | str]], words: str
) -> None:
    with pytest.raises(ProjectFileError, match=words):
        tightened(load_plugins().codes["bs-7671"], wanted, "wayroom.toml")


def test_a_stricter_limit_keeps_the_codes_in_sight() -> None:
    code = tightened(
        load_plugins().codes["bs-7671"],
        {"fill.compartment": {"space_factor": 0.35, "reason": "room for later"}},
        "wayroom.toml",
    )
    limit = code.limits["fill.compartment"].space_factor  # type: ignore[attr-defined]
    assert (limit.value, limit.code_value, limit.basis) == (0.35, 0.45, Basis.PROJECT)
    assert "room for later" in limit.cited
    assert "the code has 0.45" in limit.cited


def test_limits_are_equal_by_their_figures_and_a_copy_has_a_hash_of_its_own() -> None:
    limits = SomeLimits(figure=Limit(value=1, basis=Basis.NOTE, source="here", confidence="high"))
    same = SomeLimits(figure=Limit(value=1, basis=Basis.NOTE, source="here", confidence="high"))
    before = hash(limits)
    assert limits == same
    assert before == hash(same)
    other = limits.model_copy(update={"figure": limits.figure.model_copy(update={"value": 2.0})})
    assert other != limits
    assert hash(other) == hash(SomeLimits(figure=other.figure))
    assert hash(other) != before

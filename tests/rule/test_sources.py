"""No number ships without where it is from: publication and clause, or that it is practice or our own reading, and then it isn't sure."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import rules
from checker.manual import limits_explained
from checker.rule import Basis, Limit, Table
from checker.rule.code import Code
from checker.rule.limits import figures_of
from checker.rule.plugins import load_plugins

PLUGINS = load_plugins()
#: A standard by its number, or guidance by what it is called.
PUBLICATION = re.compile(
    r"\b(?:BS|IEC|EN|ISO|NFPA|NEMA)(?: EN| VE| BS)? ?\d|NEMA VE|ICEA guidance|UK on-site guidance|Guidance Note \d"
)
#: A clause, table, chapter or the like, or the year of an edition.
CLAUSE = re.compile(
    r"\b\d+\.\d+|\bTables? [\dA-Z]|\b(?:clause|regulation|Chapter|note|Part) \d|\b(?:Annex|Appendix) \w|[:-](?:19|20)\d\d\b"
)
#: What no publication has, and says so.
OWN, PRACTICE = "own reading:", re.compile(r"\bpractice\b.*:")


def limits_of(code: Code) -> Iterator[tuple[str, Limit]]:
    for rule, limits in code.limits.items():
        for name, value in limits:
            if isinstance(value, Limit):
                yield f"{code.key} {rule} {name}", value
    for name, value in code.sizes:
        if isinstance(value, Limit):
            yield f"{code.key} sizes {name}", value


LIMITS = [pair for code in PLUGINS.codes.values() for pair in limits_of(code)]


def fault_of(limit: Limit) -> str:
    """What is wrong with the source of a limit; empty: nothing."""
    if limit.source.startswith(OWN):
        if limit.basis is not Basis.NOTE:
            return f"an own reading is a note, not a {limit.basis}"
        return "" if limit.confidence.startswith("medium") else "an own reading isn't of high confidence"
    if PRACTICE.search(limit.source) and not PUBLICATION.search(limit.source):
        if limit.basis is Basis.REQUIREMENT:
            return "practice is no requirement"
        return "" if limit.confidence.startswith("medium") else "practice isn't of high confidence"
    if not PUBLICATION.search(limit.source):
        return "it names no publication"
    if limit.basis is Basis.REQUIREMENT and not CLAUSE.search(limit.source):
        return "a requirement stands in a clause or table of an edition"
    if not CLAUSE.search(limit.source) and not re.search(r"[:,] \w", limit.source):
        return "it names no place in the publication"
    return ""


@pytest.mark.parametrize(("name", "limit"), LIMITS, ids=[name for name, _ in LIMITS])
def test_a_limit_names_publication_and_clause_or_says_that_there_is_none(name: str, limit: Limit) -> None:
    assert fault_of(limit) == "", f"{name}: {limit.source}"


@pytest.mark.parametrize(
    ("source", "basis", "confidence", "words"),
    [
        ("BS 7671:2018 528.1", Basis.REQUIREMENT, "high", ""),
        ("UK on-site guidance to BS 7671: space factor", Basis.GUIDANCE, "high", ""),
        ("own reading: above usual walls", Basis.NOTE, "medium", ""),
        ("trade practice: a third", Basis.GUIDANCE, "medium", ""),
        ("everybody knows that", Basis.GUIDANCE, "high", "names no publication"),
        ("IEC 60364", Basis.REQUIREMENT, "high", "in a clause or table"),
        ("IEC 60364", Basis.GUIDANCE, "high", "no place in the publication"),
        ("own reading: it seems so", Basis.REQUIREMENT, "medium", "is a note"),
        ("own reading: it seems so", Basis.NOTE, "high", "isn't of high confidence"),
        ("trade practice: a third", Basis.REQUIREMENT, "medium", "is no requirement"),
        ("trade practice: a third", Basis.GUIDANCE, "high", "isn't of high confidence"),
    ],
)
def test_what_is_no_source_is_seen(source: str, basis: Basis, confidence: str, words: str) -> None:
    fault = fault_of(Limit(value=1, basis=basis, source=source, confidence=confidence))
    assert words in fault
    assert bool(words) == bool(fault)


@pytest.mark.parametrize("code", PLUGINS.codes.values(), ids=lambda code: code.key)
def test_a_code_says_of_which_edition_it_is_and_its_file_bears_its_key(code: Code) -> None:
    assert re.search(r"\b(?:19|20)\d\d\b", code.edition)
    assert len(code.note) > 20
    assert (Path(rules.__file__).parent / "codes" / f"{code.key}.toml").is_file()


@pytest.mark.parametrize("table", PLUGINS.tables.values(), ids=lambda table: table.name)
def test_a_row_of_a_table_names_a_publication_or_says_that_it_is_none_s(table: Table) -> None:
    for row in table.rows:
        source, confidence = row["source"], row["confidence"]
        if source.startswith(OWN) or "usual sizes" in source or PRACTICE.search(source):
            assert confidence.startswith("medium"), source
        elif source.startswith("planning value"):
            assert row["planning"] == "yes"
        else:
            assert PUBLICATION.search(source), source


def test_every_table_is_a_codes_or_a_catalogue() -> None:
    named = {
        value.name
        for code in PLUGINS.codes.values()
        for limits in (*code.limits.values(), code.sizes)
        for _, value in limits
        if isinstance(value, Table)
    }
    unused = [name for name in PLUGINS.tables if name not in named and not name.startswith(("cables", "carriers"))]
    assert unused == []


@pytest.mark.parametrize("rule", PLUGINS.rules)
def test_every_rule_has_cases_and_is_asked_by_a_code(rule: str) -> None:
    assert (Path(__file__).parent.parent / "rules" / "cases" / f"{rule}.toml").is_file()
    assert any(rule in code.limits for code in PLUGINS.codes.values())


@pytest.mark.parametrize("rule", PLUGINS.rules.values(), ids=lambda rule: rule.id)
def test_the_figures_of_every_rule_are_explained(rule: object) -> None:
    # LayerLimits speaks of several at once: ``large_…``, ``…_solid``
    limits = rule.limits  # type: ignore[attr-defined]
    said = re.findall(r"``([\w…]+)``", limits_explained(limits))
    patterns = [re.escape(name).replace("…", r"\w+") for name in said]
    missing = [name for name in figures_of(limits) if not any(re.fullmatch(pattern, name) for pattern in patterns)]
    assert missing == []

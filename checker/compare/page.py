"""``compare.html``: one page for people, with the style, the script and the policy of ``report.html``."""

from checker.compare.sources import source_pairs
from checker.compare.tables import (
    CarrierChange,
    CarrierRow,
    CircuitChange,
    CircuitRow,
    Comparison,
    FindingChange,
    FindingRow,
    Side,
)
from checker.compare.words import EXPLAINED, headline, sums
from checker.report.html import page_head
from checker.report.html_markup import Html, dotted, join, name, tag
from checker.report.html_places import NOT_GIVEN, cut, many
from checker.report.html_sections import as_of, contents
from checker.report.html_tables import Cell, Column, live_table, number_cell, plain_table, verdict
from checker.result.cautions import CAUTIONS
from checker.result.provenance import document_words

_UNCHANGED = "nothing changed"


def compare_html(comparison: Comparison) -> bytes:
    """The page of a comparison, in UTF-8. The same two results give the same bytes."""
    sections = (
        ("differences", "Judged by what", _differences(comparison)),
        ("counts", "In numbers", _counts(comparison)),
        ("findings", "Findings", _findings(comparison)),
        ("carriers", "Carriers", _carriers(comparison)),
        ("circuits", "Circuits", _circuits(comparison)),
        ("provenance", "Provenance", _provenance(comparison)),
    )
    title = f"{comparison.new.project_name or comparison.new.project_key}: what changed"
    body = tag(
        "body",
        tag("a", "Skip to the content", href="#main", class_="skip"),
        tag(
            "header",
            tag("h1", name(title)),
            tag("p", "From ", _as_of(comparison.old), " to ", _as_of(comparison.new), class_="muted"),
            tag("p", tag("strong", headline(comparison)), class_="summary"),
            tag("aside", tag("p", CAUTIONS[0], " ", CAUTIONS[-1]), class_="caution", aria_label="Cautions in short"),
        ),
        contents(sections),
        tag("main", *(join([tag("section", tag("h2", head), content, id=key), "\n"]) for key, head, content in sections),
            id="main", tabindex=-1),
        tag("footer", tag("p", f"Made by Wayroom {comparison.new.version}.")),
    )  # fmt: skip
    page = tag("html", page_head(title), "\n", body, lang="en")
    return f"<!DOCTYPE html>\n{page}\n".encode()


def _differences(comparison: Comparison) -> Html:
    if not comparison.differences:
        return tag("p", "By the same code, edition, tables and version, from models that were read alike.")
    figures = [one for one in comparison.differences if one.is_figures]
    others = [one for one in comparison.differences if not one.is_figures]
    told = []
    if figures:
        told += [
            tag("p", tag("strong", "OLD and NEW are judged by other figures."), " What differs by that alone is told apart below."),
            tag("ul", *(tag("li", one.what) for one in figures)),
        ]  # fmt: skip
    if others:
        told += [tag("p", "Besides:" if figures else "What is to be known of both:")]
        told += [tag("ul", *(tag("li", one.what) for one in others))]
    return join(told)


def _counts(comparison: Comparison) -> Html:
    counts = comparison.counts()
    rows = [
        (change.value, str(counts.findings[change]), str(counts.by_other_figures[change]), EXPLAINED[change])
        for change in FindingChange
    ]
    heads = ("What became of them", "Findings", "By other figures alone", "Which are")
    table = plain_table("Findings by what became of them", heads, rows)
    return join([table, *(tag("p", text) for text in sums(comparison))])


def _findings(comparison: Comparison) -> Html:
    changed = [row for row in comparison.findings if row.change is not FindingChange.SAME]
    if not changed:
        return tag("p", f"Of findings {_UNCHANGED}.")
    rows = [row for row in changed if not (row.change is FindingChange.CHANGED and row.verdict_new == "pass")]
    left = len(changed) - len(rows)
    note = (
        tag("p", f"Left out here: {left} that pass as before, with other figures or circuits. changes.csv has them.")
        if left
        else ""
    )
    if not rows:
        return join([note])
    columns = (
        Column("About"), Column("What became of it", "number", choice="Change"), Column("By", choice="By"), Column("Rule", choice="Rule"),
        Column("Before", choice="Before"), Column("Now", choice="Now"), Column("Use before, %", "number"), Column("Use now, %", "number"),
        Column("Storey", choice="Storey"), Column("Circuits", wide=True), Column("Why", wide=True),
    )  # fmt: skip
    caption = "Findings that aren't as they were, those to be looked at first first"
    return join([note, live_table("findings", caption, columns, [_finding(row) for row in rows])])


def _finding(row: FindingRow) -> list[Cell]:
    place = tuple(FindingChange).index(row.change)
    is_grave = row.change in {FindingChange.NEW, FindingChange.WORSE}
    return [
        Cell(tag("b", name(row.where))),
        Cell(tag("strong", row.change.value) if is_grave else row.change.value, str(place), row.change.value),
        Cell(row.cause.value, word=row.cause.value),
        Cell(dotted(row.rule), row.rule, row.rule),
        _side_cell(row.verdict_old, row.old),
        _side_cell(row.verdict_new, row.new),
        _use(row.use_old),
        _use(row.use_new),
        Cell(name(row.storey or NOT_GIVEN), word=row.storey or NOT_GIVEN),
        Cell(many(row.circuits) or "none named"),
        Cell(cut(row.what)),
    ]


def _side_cell(word: str, shown: str) -> Cell:
    if not word:
        return Cell("not judged", word="not judged")
    return Cell(join([verdict(word), " ", name(shown)]), word=word)


def _use(use: float | None) -> Cell:
    if use is None:
        return number_cell(None, "no figure")
    return number_cell(min(100.0 * use, 1e9), "beyond any" if use > 1e6 else f"{100.0 * use:.1f}")


def _carriers(comparison: Comparison) -> Html:
    rows = [row for row in comparison.carriers if row.change is not CarrierChange.SAME]
    if not rows:
        return tag("p", f"Of carriers {_UNCHANGED}.")
    columns = (
        Column("Carrier"), Column("What became of it", "number", choice="Change"), Column("Made anew", choice="Made anew"),
        Column("Kind", choice="Kind"), Column("Storey", choice="Storey"), Column("Size before"), Column("Size now"),
        Column("What changed", wide=True), Column("GlobalId"),
    )  # fmt: skip
    return live_table("carriers", "Carriers that aren't as they were", columns, [_carrier(row) for row in rows])


def _carrier(row: CarrierRow) -> list[Cell]:
    anew = "yes" if row.is_anew else "no"
    kind = row.kind or NOT_GIVEN
    missing_old = "wasn't there" if row.change is CarrierChange.ADDED else "not known"
    missing_new = "isn't there" if row.change is CarrierChange.REMOVED else "not known"
    return [
        Cell(tag("b", name(row.label))),
        Cell(row.change.value, str(tuple(CarrierChange).index(row.change)), row.change.value),
        Cell(anew, word=anew),
        Cell(kind, word=kind),
        Cell(name(row.storey or NOT_GIVEN), word=row.storey or NOT_GIVEN),
        Cell(name(row.size_old or missing_old)),
        Cell(name(row.size_new or missing_new)),
        Cell(cut(row.what)),
        Cell(tag("code", row.global_id_new or row.global_id_old)),
    ]


def _circuits(comparison: Comparison) -> Html:
    rows = [row for row in comparison.circuits if row.change is not CircuitChange.SAME]
    if not rows:
        return tag("p", f"Of circuits {_UNCHANGED}.")
    columns = (
        Column("Circuit"), Column("What became of it", "number", choice="Change"), Column("Length before, m", "number"),
        Column("Length now, m", "number"), Column("What changed", wide=True), Column("Way before", wide=True), Column("Way now", wide=True),
    )  # fmt: skip
    return live_table("circuits", "Circuits that aren't as they were", columns, [_circuit(row) for row in rows])


def _circuit(row: CircuitRow) -> list[Cell]:
    lengths = (row.length_m_old, row.length_m_new)
    return [
        Cell(tag("b", name(row.circuit)), row.circuit),
        Cell(row.change.value, str(tuple(CircuitChange).index(row.change)), row.change.value),
        *(number_cell(length, None if length is None else f"{length:.2f}") for length in lengths),
        Cell(cut(row.what)),
        Cell(many(row.way_old, " → ") or "none"),
        Cell(many(row.way_new, " → ") or "none"),
    ]


def _provenance(comparison: Comparison) -> Html:
    rows = [
        (what, _source(before), _source(now), "yes" if before == now else tag("strong", "no"))
        for what, before, now in source_pairs(comparison)
    ]
    told = "What OLD and NEW are; compare.json has every file of code and tables besides"
    return plain_table(told, ("What", "OLD", "NEW", "The same"), rows)


def _source(text: str) -> Html:
    before, sha, rest = text.partition("SHA-256 ")
    if not sha:
        return name(text or NOT_GIVEN)
    digest, comma, time = rest.partition(", ")
    return join([name(before + sha), tag("code", digest), name(comma + time)])


def _as_of(side: Side) -> Html:
    return as_of(side.created, side.files, document_words(side.revision, side.status))

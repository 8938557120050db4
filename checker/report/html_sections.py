"""The head of the page, what needs doing first, provenance and cautions."""

from collections.abc import Sequence

from checker.model import SourceFile
from checker.report.html_gaps import open_matters
from checker.report.html_markup import Html, drawing, join, name, tag
from checker.report.html_places import NOT_GIVEN, Places, many
from checker.report.html_tables import plain_table, told
from checker.result.accounting import carriers_in_words, count, exit_status, notes_in_words
from checker.result.archive import NO_TIME, utc
from checker.result.note_state import split_text
from checker.result.notes import advices, is_of_figure, vain
from checker.result.problems import kinds_in_words
from checker.result.provenance import is_time_given
from checker.result.tables import FindingRow, Result, SectionRow, Topic
from checker.section.drawing import sketch_of
from checker.section.svg import svg

_HEADLINE = {
    0: "Everything that was looked at is within the limits that are named, or waived.",
    1: "Something fails.",
    3: "Nothing fails, but not everything is known.",
}


def time_of(text: str) -> Html:
    """A time of the data, as people read it."""
    time = utc(text)
    if time == NO_TIME:
        return Html("an unknown time")
    if time is None:
        return name(text or NOT_GIVEN)
    return tag("time", f"{time:%d %B} {time.year}, {time:%H:%M} UTC", datetime=f"{time.isoformat()}")


def _headline(result: Result) -> str:
    """What comes first: that nothing could be judged, if so, before that nothing fails."""
    counts = count(result)
    if not (counts.findings_pass or counts.findings_fail or counts.findings_waived):
        return "Nothing could be judged: see what is unknown, and why."
    return _HEADLINE[exit_status(result)]


def summary(result: Result) -> Html:
    """One paragraph with the accounts."""
    counts = count(result)
    removed = f" ({counts.circuits_removed} of them removed)" if counts.circuits_removed else ""
    return tag(
        "p",
        tag("strong", _headline(result)),
        f" Carriers: {carriers_in_words(counts)}"
        f" Compartments: {counts.compartments_read} read, {counts.compartments_failing} of them failing."
        f" Circuits: {counts.circuits_read} read = {counts.circuits_routed} routed + {counts.circuits_unrouted} not routed"
        f"{removed}. Ratings: {counts.circuits_rated} known, {counts.circuits_rating_unknown} unknown,"
        f" {counts.circuits_without_load} without load."
        f" Findings: {counts.findings_fail} fail, {counts.findings_unknown} unknown, {counts.findings_waived} waived,"
        f" {counts.findings_pass} pass. Things to do: {counts.topics}. Issue notes: {notes_in_words(counts)}."
        f" Problems listed: {counts.problems}"
        f"{f' ({kinds_in_words(result.problems)})' if result.problems else ''}.",
        class_="summary",
    )


def short_cautions(result: Result) -> Html:
    """The first and the last caution, with the way to the others."""
    chosen = list(dict.fromkeys([*result.cautions[:1], *result.cautions[-1:]]))
    link = tag("a", "All cautions", href="#cautions")
    return tag("aside", tag("p", " ".join(chosen), " ", link, "."), class_="caution", aria_label="Cautions in short")


def cautions(result: Result) -> Html:
    """All of them."""
    return tag("ul", *(tag("li", text) for text in result.cautions))


def to_do(result: Result, places: Places) -> Html:
    """What has no way and what isn't known, then the topics in their order."""
    first = list(open_matters(result, places))
    if not result.topics:
        return join(
            [
                *first,
                tag(
                    "p",
                    "Nothing fails, so no issue note is raised." if first else "Nothing fails, so nothing is raised.",
                ),
            ]
        )
    findings = {row.id: row for row in result.findings}
    cards = (_card(index, topic, result, findings, places) for index, topic in enumerate(result.topics, start=1))
    return join([*first, tag("p", "What fails:") if first else "", tag("ol", *cards, class_="cards")])


def _card(index: int, topic: Topic, result: Result, findings: dict[str, FindingRow], places: Places) -> Html:
    members = [findings[member] for member in topic.members if member in findings]
    worst = findings.get(topic.worst) or next(iter(members), None)
    where = dict.fromkeys(places.where(key) for key in topic.carriers)
    facts: list[tuple[str, str]] = [
        ("What", split_text(topic.description).text.split("\n", 1)[0] or topic.rule),
        ("Where", join(where, "; ") or NOT_GIVEN),
    ]
    if worst is not None:
        found = told(worst) if is_of_figure(worst) and not worst.is_current else worst.reason
        facts += [
            ("Found, at worst", found),
            ("Clause", join([worst.source or NOT_GIVEN, f" ({worst.basis})" if worst.basis else ""])),
        ]
        facts += [("Advice", text) for text in advices(members)]
        labels = {key: places.label(key) for row in members for key in row.carriers}
        if tried := vain(members, labels):
            facts.append(("No advice", tried))
    facts += [
        (f"Lengths ({len(topic.carriers)})", many([places.label(key) for key in topic.carriers])),
        (f"Circuits ({len(topic.circuits)})", many(topic.circuits) or "none named"),
    ]
    marks = ", ".join([f"{topic.priority} priority" if topic.priority else "", *topic.labels]).strip(", ")
    listed = [part for label, text in facts for part in (tag("dt", label), tag("dd", text))]
    section = next((row for row in result.sections if worst is not None and row.carrier in worst.carriers[:1]), None)
    note = tag("details", tag("summary", "In the words of the issue note"), *_prose(topic.description, result.cautions))
    return tag(
        "li",
        tag("h3", f"{index}. ", name(topic.title)),
        tag("p", marks, class_="muted"),
        tag("p", "In the earlier issue notes: ", name(topic.earlier_status), ".") if topic.earlier_status else "",
        tag("dl", *listed),
        _section(section) if section is not None else _without(worst, result),
        note,
        id=f"todo-{index}",
    )


def _section(row: SectionRow) -> Html:
    """The drawing of a section, folded away: there may be many."""
    figure = tag("figure", drawing(svg(sketch_of(row.view))))
    return tag("details", tag("summary", row.view.title), figure, class_="section")


def _without(worst: FindingRow | None, result: Result) -> Html | str:
    """That a carrier has no drawing here, since there are too many cables in those that come before; nothing where it can have none."""
    if worst is None or all(row.carrier not in worst.carriers[:1] for row in result.compartments):
        return ""
    return tag("p", "Its section isn't drawn here: wayroom draw draws it.", class_="muted")


def _prose(description: str, cautions: Sequence[str]) -> list[Html]:
    """A description without the lines for machines, and without the cautions, which the page has once."""
    lines = [line for line in split_text(description).text.split("\n") if line not in cautions]
    parts: list[Html] = []
    bullets: list[Html] = []
    for line in [*lines, ""]:
        if line.startswith("- "):
            bullets.append(tag("li", line[2:]))
            continue
        if bullets:
            parts.append(tag("ul", *bullets))
            bullets = []
        if line.strip():
            parts.append(tag("p", line))
    return parts


def as_of(created: str, files: Sequence[SourceFile], document: str) -> Html:
    """Of which model a run is, or of when where another time was asked for; with the documents' revision and status in words."""
    model = "" if is_time_given(created, files) else "the model of "
    return join([model, time_of(created), name(f" ({document})" if document else "")])


def provenance(result: Result) -> Html:
    """What the result was made of."""
    facts = (
        ("Code of practice", join([result.code, ": ", result.code_title])),
        ("Project key", result.project_key),
        *((label, text) for label, text in (("Revision", result.revision), ("Status", result.status)) if text),
        (f"Time of the {'run' if is_time_given(result.created, result.files) else 'model'}", time_of(result.created)),
        ("Made by", f"Wayroom {result.version}"),
    )
    listed = [part for label, text in facts for part in (tag("dt", label), tag("dd", text))]
    rows = [
        (name(file.name), file.role, tag("code", file.sha256), file.schema, file.timestamp, file.ifc_project)
        for file in result.files
    ]
    heads = ("File", "What it is", "SHA-256", "Schema", "Time in it", "IfcProject")
    return join([tag("dl", *listed), plain_table("Files and tables that were read", heads, rows)])


def contents(sections: Sequence[tuple[str, str, str]]) -> Html:
    """Links to the sections."""
    links = (tag("li", tag("a", title, href=f"#{key}")) for key, title, _ in sections)
    return tag("nav", tag("ul", *links), aria_label="Contents")

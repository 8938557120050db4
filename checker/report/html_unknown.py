"""What isn't known and why, what was assumed, and problems: each grouped, with its count and its places."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from checker.model import ProblemKind
from checker.report.html_circuits import NOT_JUDGED
from checker.report.html_markup import Html, join, name, tag
from checker.report.html_places import Places, cut, many
from checker.report.html_tables import plain_table
from checker.result.problems import kinds_in_words, problem_groups
from checker.result.tables import Result


def unknown(result: Result, places: Places) -> Html:
    """What isn't known, by reason: lengths, circuits and ratings; and what ratings assume."""
    groups: dict[tuple[str, str], list[str]] = defaultdict(list)
    for reason, asked, label in _answers(result, places):
        groups[reason or "no reason is given", asked].append(label)
    ordered = sorted(groups.items(), key=lambda item: (-len(item[1]), item[0]))
    rows = [(cut(reason), asked, str(len(labels)), many(_sorted(labels))) for (reason, asked), labels in ordered]
    heads = ("Why", "What was asked", "How many", "Lengths or circuits")
    table = plain_table("What is unknown, by reason", heads, rows) if rows else tag("p", "Nothing is unknown.")
    return join([table, *_assumed(result)])


def how_many(result: Result, places: Places) -> int:
    """How many answers about lengths, circuits and ratings aren't known: what the table of reasons adds up to."""
    return len(_answers(result, places))


def _answers(result: Result, places: Places) -> list[tuple[str, str, str]]:
    return [*_lengths(result, places), *_circuits(result)]


def _lengths(result: Result, places: Places) -> Iterator[tuple[str, str, str]]:
    """Reason, rule and label of each finding that is unknown, and of compartments and carriers that no finding speaks of."""
    told: set[tuple[str, int | None]] = set()
    for row in result.findings:
        if row.verdict == "unknown" and not row.is_of_circuit:
            told.update((key, row.compartment) for key in row.carriers)
            labels = [row.at] if row.at else [places.label(key, row.compartment) for key in row.carriers]
            for label in labels or ["the installation"]:
                yield row.reason, row.rule, label
    for part in result.compartments:
        if part.verdict == "unknown" and (part.carrier, part.number) not in told:
            told.add((part.carrier, part.number))
            yield part.reason, "fill", places.label(part.carrier, part.number)
    spoken_of = {key for key, _ in told}
    for carrier in result.carriers:
        if not carrier.checked and carrier.key not in spoken_of:
            yield "no compartment of it was judged", "fill", carrier.place.label


def _circuits(result: Result) -> Iterator[tuple[str, str, str]]:
    """The same of circuits, without those that are removed. What no rule could be asked is told as what it is about."""
    rated = {rating.circuit for rating in result.ratings}
    for circuit in result.circuits:
        if circuit.state != "removed":
            if not circuit.is_routed:
                yield circuit.reason, "way", circuit.circuit
            if circuit.circuit not in rated and circuit.is_loaded:
                yield NOT_JUDGED, "rating", circuit.circuit
    told: set[tuple[str, str]] = set()
    for row in result.findings:
        if row.verdict == "unknown" and row.is_of_circuit:
            for mark in row.circuits:
                told.add((row.rule, mark))
                yield row.reason, row.rule, mark
    for rating in result.ratings:
        if rating.verdict == "unknown" and (rating.rule, rating.circuit) not in told:
            yield rating.reason, rating.rule, rating.circuit


def _sorted(labels: Sequence[str]) -> list[str]:
    return sorted(dict.fromkeys(labels))


def _assumed(result: Result) -> Iterator[Html]:
    """What ratings take for granted. Other assumptions are among the problems."""
    groups: dict[str, list[str]] = defaultdict(list)
    for rating in result.ratings:
        for text in rating.assumptions:
            groups[text].append(rating.circuit)
    ordered = sorted(groups.items(), key=lambda item: (-len(item[1]), item[0]))
    rows = [(text, str(len(marks)), many(_sorted(marks))) for text, marks in ordered]
    if rows:
        yield plain_table("Assumed for ratings", ("What", "How many", "Circuits"), rows)


#: What the words of a problem's kind mean.
KINDS = (
    (ProblemKind.GAP, "something could not be read or assessed, so what hangs on it isn't known"),
    (ProblemKind.CORRECTION, "a figure in the files can't be, and was replaced or left out"),
    (ProblemKind.ASSUMPTION, "something was taken for granted, or one of two that contradict each other was believed"),
    (ProblemKind.INFERENCE, "something was concluded from weaker evidence than the standard foresees"),
)


def problems(result: Result) -> Html:
    """All of them in their groups, the most serious first, under what the words mean."""
    if not result.problems:
        return tag("p", "No problems are listed: nothing was unreadable, corrected, assumed or inferred.")
    told = f"Problems listed: {len(result.problems)}, of which {kinds_in_words(result.problems)}."
    meant = (join([tag("strong", kind), ": ", meaning, "."]) for kind, meaning in KINDS)
    rows = [
        (
            name(str(group.number)),
            tag("b", name(group.kind)),
            group.what,
            group.why,
            group.hint,
            name(str(group.elements)),
            many(group.places, "; "),
        )
        for group in problem_groups(result.problems)
    ]
    # as names: beside a column of many places, paper would break short words over lines
    heads = [name(head) for head in ("Group", "Kind", "What", "Why", "What to do", "Elements", "Where")]
    return join([
        tag("p", tag("strong", told), " Those that say the same stand together; “elements” are how many carriers, fittings, ports, rows and"
            " the like a group touches."),
        tag("ul", *(tag("li", line) for line in meant)),
        plain_table("Problems, the most serious first", heads, rows),
    ])  # fmt: skip

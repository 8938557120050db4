"""The short summary at the end of a run, which a person can act on."""

from collections import defaultdict
from collections.abc import Sequence

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from checker.model import ProblemKind
from checker.model.texts import listed, natural
from checker.report.csv_files import WRITERS
from checker.report.publish import RESULT
from checker.result.accounting import carriers_in_words, count, notes_in_words
from checker.result.cautions import CAUTIONS
from checker.result.gone_on import GoneOn
from checker.result.gravity import gravity
from checker.result.notes import found_and_wanted
from checker.result.problems import ProblemGroup, kinds_in_words, problem_groups
from checker.result.question_tables import QuestionRow
from checker.result.tables import CarrierRow, FindingRow, Result
from checker.result.waiver_tables import FAMILY

WORST_SHOWN, MOST_SHOWN = 10, 13
REASONS_SHOWN = 6
LENGTHS_SHOWN = 4
QUESTIONS_SHOWN = 3


def print_summary(
    console: Console, result: Result, out: str, earlier_notes: int = 0, gone_on: GoneOn | None = None
) -> None:
    """Prints what was read, what fails, what isn't known and why, under which code, and where the files are.

    Args:
        console: Where to.
        result: What was found.
        out: The folder of the files.
        earlier_notes: How many notes of earlier runs, or of people, are kept beside this run's.
        gone_on: What has become of the earlier notes that the run went on with.
    """
    counts = count(result)
    console.print(
        f"[bold]{escape(result.project_name)}[/], checked against [bold]{escape(result.code)}[/]: {escape(result.code_title)}"
    )
    console.print(
        f"Carriers: {carriers_in_words(counts)}"
        f" Circuits: {counts.circuits_read} read = {counts.circuits_routed} routed + {counts.circuits_unrouted} not routed"
        + (f" ({counts.circuits_removed} of them removed)." if counts.circuits_removed else ".")
    )
    console.print(
        f"Ratings: {counts.circuits_rated} known, {counts.circuits_rating_unknown} unknown, {counts.circuits_without_load} without load."
        f" Findings: {counts.findings_fail} fail, {counts.findings_unknown} unknown,"
        f"{f' {counts.findings_waived} waived,' if counts.findings_waived else ''} {counts.findings_pass} pass."
        f" Issue notes: {notes_in_words(counts)}"
        f"{f', and {earlier_notes} earlier ones kept' if earlier_notes else ''}."
    )
    if gone_on is not None:
        console.print(gone_on.told, markup=False)
    problems = (
        f"{counts.problems} ({kinds_in_words(result.problems)}), the most serious first in problems.csv"
        if counts.problems
        else "0"
    )
    console.print(f"Problems listed: {problems}.")
    carriers = {row.key: row for row in result.carriers}
    failing = sorted(
        (finding for finding in result.findings if finding.verdict == "fail"),
        key=lambda finding: (*gravity(finding)[:3], natural(_subject(finding, carriers)), finding.id),
    )
    if failing:
        console.print()
        console.print(_table(failing, carriers))
        if len(failing) > MOST_SHOWN:
            console.print(f"… and {len(failing) - WORST_SHOWN} more in failing.csv")
    _print_unrouted(console, result)
    _print_reasons(console, result, carriers, "unknown", "Unknown[/], and why")
    _print_questions(console, result)
    _print_gaps(console, result)
    _print_reasons(console, result, carriers, "waived", "Waived[/], and by whom")
    _print_waivers(console, result)
    files = ", ".join(("report.html", "issues.bcf", *WRITERS, RESULT))
    console.print(f"\nResults are in [bold]{escape(out)}[/]: {files}")
    if failing:
        rules = ", ".join(dict.fromkeys(finding.rule for finding in failing))
        console.print("Next: open report.html in a browser, and issues.bcf in the program that holds the model.")
        console.print(f"What a rule asks: wayroom explain RULE ({rules}).")
    for text in result.cautions:
        if text not in CAUTIONS:  # what this run didn't ask
            console.print(escape(text))
    console.print(f"\n[bold]{escape(result.cautions[0])} {escape(result.cautions[-1])}[/]")


def _print_reasons(
    console: Console, result: Result, carriers: dict[str, CarrierRow], verdict: str, heading: str
) -> None:
    """The reasons of findings of one verdict, those of most lengths first."""
    reasons: dict[str, list[str]] = defaultdict(list)
    for finding in result.findings:
        if finding.verdict == verdict and not finding.rule.startswith(f"{FAMILY}."):  # these have a list of their own
            reasons[finding.reason].append(_subject(finding, carriers))
    if not reasons:
        return
    console.print(f"\n[bold]{heading}:")
    most_first = sorted(reasons.items(), key=lambda item: (-len(item[1]), item[0]))
    for reason, lengths in most_first[:REASONS_SHOWN]:
        named = sorted(set(lengths), key=natural)
        console.print(f"  {escape(listed(named, LENGTHS_SHOWN))}: {escape(reason)}")
    if len(most_first) > REASONS_SHOWN:
        console.print(f"  … and {len(most_first) - REASONS_SHOWN} more reasons in segments.csv and routes.csv")


def _print_waivers(console: Console, result: Result) -> None:
    """Waivers that don't do what somebody meant them to do: those first that ran out."""
    left = sorted(
        (row for row in result.waivers if row.reason), key=lambda row: (row.state, natural(row.names), row.who)
    )
    if left:
        console.print("\n[bold]Waivers to see to[/]:")
        for row in left[:REASONS_SHOWN]:
            console.print(f"  {escape(f'{row.names}, by {row.who}: {row.reason}')}")
        if len(left) > REASONS_SHOWN:
            console.print(f"  … and {len(left) - REASONS_SHOWN} more in report.html")


def _print_questions(console: Console, result: Result) -> None:
    """The first questions whose answers make the most of it known."""
    every = [row for row in result.questions if row.rank]
    asked = every[:QUESTIONS_SHOWN]
    if asked:
        told = listed([row.question for row in asked], between="; ")
        console.print(
            f"[bold]Answer first[/]: {escape(told)}. {_known_then(asked, every)}. All questions are in questions.csv."
        )


def _known_then(asked: Sequence[QuestionRow], every: Sequence[QuestionRow]) -> str:
    """How many findings the answers to some questions settle, and to all of them where there are more, or how many it takes for any."""
    number = asked[-1].together
    those = "This answer settles" if len(asked) == 1 else f"These {len(asked)} answers settle"
    if not number:
        first = next((row for row in every if row.together), None)
        more = f"; the first {first.rank} answers settle {first.together}" if first else ""
        return f"{those} no finding yet{more}"
    known = f"{those} {number} unknown finding{'' if number == 1 else 's'}"
    return known if len(asked) == len(every) else f"{known}; all {len(every)} answers settle {every[-1].together}"


def _print_unrouted(console: Console, result: Result) -> None:
    """Circuits without a way, and why."""
    unrouted = [row for row in result.circuits if not row.is_routed and row.state != "removed"]
    if unrouted:
        console.print("\n[bold]Not routed[/]:")
        for row in unrouted[:REASONS_SHOWN]:
            console.print(f"  {escape(row.circuit)}: {escape(row.reason)}")
        if len(unrouted) > REASONS_SHOWN:
            console.print(f"  … and {len(unrouted) - REASONS_SHOWN} more in routes.csv")


def _print_gaps(console: Console, result: Result) -> None:
    """What could not be read or assessed, and which revision of a model was taken; of whole files first."""
    files = {file.name for file in result.files}
    told_above = {f"circuit {row.circuit}" for row in result.circuits if not row.is_routed}

    def is_of_files(group: ProblemGroup) -> bool:
        return any(place in files or place.endswith(", models") for place in group.places)

    groups = [
        group
        for group in problem_groups(result.problems)
        if (group.kind is ProblemKind.GAP and not told_above.issuperset(group.places))
        or (group.kind is ProblemKind.ASSUMPTION and any(place.endswith(", models") for place in group.places))
    ]
    groups.sort(key=lambda group: (not is_of_files(group), group.number))
    if groups:
        console.print("\n[bold]Not read or not assessed[/], and what was taken instead:")
    for group in groups[:REASONS_SHOWN]:
        console.print(f"  {escape(listed(group.places, LENGTHS_SHOWN))}: {escape(group.what)}")
    if len(groups) > REASONS_SHOWN:
        console.print(f"  … and {len(groups) - REASONS_SHOWN} more in problems.csv")


def _subject(finding: FindingRow, carriers: dict[str, CarrierRow]) -> str:
    """What a finding is about: a length with its compartment, or a circuit with the length that governs it."""
    if finding.at or not finding.carriers:
        return finding.at or ", ".join(finding.circuits)
    label = _length(finding, carriers[finding.carriers[0]])
    return f"{', '.join(finding.circuits)} in {label}" if finding.is_of_circuit else label


def _length(finding: FindingRow, row: CarrierRow) -> str:
    return f"{row.place.label}/{finding.compartment}" if finding.compartment is not None else row.place.label


def _found(finding: FindingRow) -> tuple[str, str]:
    found, wanted = found_and_wanted(finding)
    if finding.is_current and found:
        return f"needs {found}", f"allowed {wanted}" if wanted else ""
    return found or "no figure", wanted


def _table(failing: list[FindingRow], carriers: dict[str, CarrierRow]) -> Table:
    table = Table(
        title="Failing, the gravest first (length/compartment, or circuit in the length that governs)",
        title_justify="left",
        box=None,
        pad_edge=False,
    )
    for name in ("length", "storey", "rule", "found", "limit", "basis"):
        table.add_column(name, justify="right" if name in {"found", "limit"} else "left", overflow="fold")
    for finding in failing if len(failing) <= MOST_SHOWN else failing[:WORST_SHOWN]:
        row = carriers[finding.carriers[0]]
        found, limit = _found(finding)
        table.add_row(
            escape(_subject(finding, carriers)), escape(row.place.storey), finding.rule, found, limit, finding.basis
        )
    return table

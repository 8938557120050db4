"""Words that terminal and page of a comparison share."""

from collections.abc import Iterable

from checker.compare.tables import CarrierChange, Cause, CircuitChange, Comparison, FindingChange

#: What a class of findings is, for people.
EXPLAINED = {
    FindingChange.NEW: "fails now, and didn't, was waived or wasn't there",
    FindingChange.WORSE: "fails or is waived still, farther beyond its limit",
    FindingChange.NEWLY_UNKNOWN: "unknown now, and wasn't, or wasn't there",
    FindingChange.NOT_CHECKED: "isn't judged any more, though it is there or may be, which mends nothing",
    FindingChange.CHANGED: "the same verdict, with other figures, circuits or reasons",
    FindingChange.GONE: "what it was about isn't there, or has changed so that there is no such question",
    FindingChange.BETTER: "fails or is waived still, less far beyond its limit",
    FindingChange.FIXED: "passes now, and failed or was waived",
    FindingChange.KNOWN: "passes now, and was unknown",
    FindingChange.WAIVED: "waived now, and wasn't",
    FindingChange.ADDED: "judged for the first time, and passes",
    FindingChange.SAME: "as it was",
}


def headline(comparison: Comparison) -> str:
    """What comes first."""
    numbers = comparison.counts().findings
    told = [
        f"{numbers[change]} {change.value}{_by_figures(comparison, change)}"
        for change in (
            FindingChange.NEW, FindingChange.WORSE, FindingChange.NEWLY_UNKNOWN, FindingChange.NOT_CHECKED, FindingChange.BETTER,
            FindingChange.FIXED, FindingChange.WAIVED, FindingChange.GONE,
        )
        if numbers[change]
    ]  # fmt: skip
    status = comparison.exit_status()
    grave = [row.cause for row in comparison.findings if row.change in {FindingChange.NEW, FindingChange.WORSE}]
    alone = {
        frozenset({Cause.FIGURES}): ", all of it by other figures alone",
        frozenset({Cause.WAIVER}): ", all of it by waivers alone, which hold no more",
    }.get(frozenset(grave), "")
    first = {
        0: "Nothing is worse.",
        1: f"Something is new or worse{alone}.",
        3: "Nothing is worse as far as it is known, and less is known.",
    }[status]
    return " ".join([first, *([f"Findings: {', '.join(told)}."] if told else []), *_less_known(comparison)])


def _less_known(comparison: Comparison) -> Iterable[str]:
    """Sentences on what of the building itself is less known."""
    if lost := sum(row.lost_way for row in comparison.circuits):
        yield f"Of {lost} circuit{'s' if lost > 1 else ''} the way isn't known any more."
    carriers = sum(row.change is CarrierChange.NOT_READ for row in comparison.carriers)
    circuits = sum(row.change is CircuitChange.NOT_READ for row in comparison.circuits)
    numbers = ((carriers, "carrier"), (circuits, "circuit"))
    if unread := [f"{number} {what}{'s' if number > 1 else ''}" for number, what in numbers if number]:
        yield f"Not read: {' and '.join(unread)}."


def _by_figures(comparison: Comparison, change: FindingChange) -> str:
    """Of what reads like a mending, how many are none of the building: judged by other figures alone."""
    causes = [row.cause for row in comparison.findings if row.change is change]
    number = causes.count(Cause.FIGURES)
    if not number or change not in {FindingChange.BETTER, FindingChange.FIXED}:
        return ""
    return f" ({'all' if number == len(causes) else number} by other figures alone)"


def sums(comparison: Comparison) -> tuple[str, ...]:
    """How the classes add up to what each of both has."""
    counts = comparison.counts()
    only_new = sum(not row.id_old for row in comparison.findings)
    only_old = sum(not row.id_new for row in comparison.findings)
    both = len(comparison.findings) - only_new - only_old
    old, new = comparison.old.findings, comparison.new.findings
    carriers, circuits = counts.carriers, counts.circuits
    return (
        f"Findings: {old} in OLD = {both} in both + {only_old} not in NEW; {new} in NEW = {both} in both + {only_new} not in OLD.",
        _sum(
            "Carriers", comparison.old.carriers, comparison.new.carriers, carriers, [one.value for one in CarrierChange]
        ),
        _sum(
            "Circuits", comparison.old.circuits, comparison.new.circuits, circuits, [one.value for one in CircuitChange]
        ),
    )


def _sum(what: str, old: int, new: int, numbers: dict[str, int], classes: list[str]) -> str:
    sides = ((old, "OLD", ("added",)), (new, "NEW", ("removed", "not read")))
    told = []
    for number, side, others in sides:
        parts = " + ".join(f"{numbers[one]} {one}" for one in classes if one not in others and numbers[one])
        told.append(f"{number} in {side}{f' = {parts}' if parts else ''}")
    return f"{what}: {'; '.join(told)}."

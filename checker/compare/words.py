"""Words that terminal and page of a comparison share."""

from checker.compare.tables import CarrierChange, Cause, CircuitChange, Comparison, FindingChange

#: What a class of findings is, for people.
EXPLAINED = {
    FindingChange.NEW: "fails now, and didn't or wasn't there",
    FindingChange.WORSE: "fails still, farther beyond its limit",
    FindingChange.NEWLY_UNKNOWN: "unknown now, and wasn't",
    FindingChange.NOT_CHECKED: "isn't judged any more, which mends nothing",
    FindingChange.CHANGED: "the same verdict, with other figures, circuits or reasons",
    FindingChange.GONE: "what it was about, or the question to it, isn't there any more",
    FindingChange.BETTER: "fails still, less far beyond its limit",
    FindingChange.FIXED: "passes now, and failed or was waived",
    FindingChange.KNOWN: "passes now, and was unknown",
    FindingChange.WAIVED: "waived now, and wasn't",
    FindingChange.ADDED: "judged for the first time, and doesn't fail",
    FindingChange.SAME: "as it was",
}
#: Classes whose findings are only in one of both.
ONLY_OLD = (FindingChange.GONE, FindingChange.NOT_CHECKED)


def headline(comparison: Comparison) -> str:
    """What comes first."""
    numbers = comparison.counts().findings
    told = [
        f"{numbers[change]} {change.value}"
        for change in (
            FindingChange.NEW, FindingChange.WORSE, FindingChange.NEWLY_UNKNOWN, FindingChange.NOT_CHECKED, FindingChange.BETTER,
            FindingChange.FIXED, FindingChange.GONE,
        )
        if numbers[change]
    ]  # fmt: skip
    lost = sum(row.lost_way for row in comparison.circuits)
    told += [f"{lost} circuit{'s' if lost > 1 else ''} without a way now"] if lost else []
    status = comparison.exit_status()
    grave = [row.cause for row in comparison.findings if row.change in {FindingChange.NEW, FindingChange.WORSE}]
    alone = ", all of it by other figures alone" if grave and set(grave) == {Cause.FIGURES} else ""
    first = {
        0: "Nothing is worse.",
        1: f"Something is new or worse{alone}.",
        3: "Nothing is worse as far as it is known, and less is known.",
    }[status]
    return f"{first} Findings: {', '.join(told)}." if told else first


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
    shared = [f"{numbers[one]} {one}" for one in classes if one not in {"added", "removed"} and numbers[one]]
    sides = ((old, "OLD", "removed"), (new, "NEW", "added"))
    told = (
        f"{number} in {side}{f' = {parts}' if (parts := ' + '.join([*_some(numbers, own), *shared])) else ''}"
        for number, side, own in sides
    )
    return f"{what}: {'; '.join(told)}."


def _some(numbers: dict[str, int], name: str) -> list[str]:
    return [f"{numbers[name]} {name}"] if numbers[name] else []

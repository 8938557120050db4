"""What became of findings that only OLD has, and why: gone with what they were about, or not judged again, which mends nothing."""

from collections import defaultdict
from dataclasses import dataclass, field

from checker.compare.causes import Both
from checker.compare.tables import FindingChange
from checker.model.texts import listed, natural
from checker.result.tables import FindingRow as Finding
from checker.result.waiver_tables import FAMILY

GONE, NOT_CHECKED = FindingChange.GONE, FindingChange.NOT_CHECKED


@dataclass(slots=True)
class Vanished:
    """What NEW has, to tell why it doesn't have a finding."""

    both: Both
    rules: frozenset[str] = field(init=False)
    marks: frozenset[str] = field(init=False)
    models: dict[str, str] = field(init=False)
    labels: dict[str, str] = field(init=False)
    numbers: dict[str, set[int]] = field(init=False)

    def __post_init__(self) -> None:
        old, new = self.both.old, self.both.new
        self.rules = frozenset(row.rule for row in new.findings)
        self.marks = frozenset(row.circuit for row in new.circuits)
        self.models = {row.key: row.place.model for row in old.carriers}
        self.labels = {row.key: row.place.label for row in old.carriers}
        self.numbers = defaultdict(set)
        for row in new.compartments:
            self.numbers[row.carrier].add(row.number)

    def told(self, old: Finding, *, touching: bool) -> tuple[FindingChange, str, bool]:
        """Its class; why; and whether what it is about is in NEW all the same, so that other figures may be why.

        Args:
            old: A finding that NEW has none of.
            touching: Whether something changed of what it is about.
        """
        if old.rule.startswith(f"{FAMILY}."):
            return GONE, "no waiver is told of there any more", True
        absent = self._absent(old)
        if absent is not None:
            return *absent, False
        # by the same figures and limits it was asked there too, and has no question any more to what changed
        may_be_unasked = not touching or self.both.other_figures or self.both.other_limits
        if old.rule not in self.rules and may_be_unasked:
            return NOT_CHECKED, f"{old.rule} judged nothing", True
        keys = [self.both.match.new_of[key] for key in old.carriers] if old.compartment is not None else []
        if keys and not any(old.compartment in self.numbers[key] for key in keys):
            return GONE, f"there is no compartment {old.compartment} any more", False
        now = f"{old.rule} has no such question to it now"
        if lost := sorted(self.both.lost.intersection(old.circuits), key=natural):
            return (
                NOT_CHECKED,
                f"{now}, and where {listed(lost)} {'lies' if len(lost) == 1 else 'lie'} isn't known",
                False,
            )
        if self.both.unread:
            return NOT_CHECKED, f"{now}, and not all models were read: {listed(sorted(self.both.unread))}", False
        if not touching:
            return NOT_CHECKED, f"nothing of what it is about is known to have changed, and {now}", True
        return GONE, f"what it is about changed, and {now}", True

    def _absent(self, old: Finding) -> tuple[FindingChange, str] | None:
        """Of what isn't there; None where all of it is."""
        if old.is_of_circuit or not old.carriers:
            away = sorted(set(old.circuits) - self.marks, key=natural)
            if not away:
                return None
            if not self.marks or self.both.lost.intersection(away):
                return NOT_CHECKED, "NEW was checked without a schedule" if self.marks else "no circuits were read"
            return GONE, "no circuit of that mark was read"
        left = [key for key in old.carriers if key not in self.both.match.new_of]
        if unread := sorted({self.models[key] for key in left if self.models.get(key) in self.both.unread}):
            return NOT_CHECKED, f"its model wasn't read: {listed(unread)}"
        if not left:
            return None
        names = sorted((self.labels.get(key, key) for key in left), key=natural)
        whole = len(left) == len(old.carriers)
        return GONE, "no such carrier was read" if whole else f"no such carriers were read: {listed(names)}"

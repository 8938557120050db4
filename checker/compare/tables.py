"""What a comparison of two results says. Every writer of it reads these tables and computes nothing.

Every finding, carrier and circuit of both results is in exactly one row, and every row in exactly one class.
"""

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum

from checker.model import SourceFile


class FindingChange(StrEnum):
    """What became of a finding, what a person would look at first first.

    ``NEW`` fails and didn't before; ``WORSE`` and ``BETTER`` fail still, or are waived still, farther beyond the limit or less far;
    ``NEWLY_UNKNOWN`` is unknown and wasn't; ``NOT_CHECKED`` was judged and isn't any more, though what it is about is there as it was, or
    may be: that is no mending. ``CHANGED`` has the same verdict with other figures, circuits or reasons. ``GONE``: what it was about isn't
    there, or has changed so that there is no such question to it. ``FIXED`` passes after it failed, or was waived; ``KNOWN`` passes after
    it was unknown; ``WAIVED`` is waived and wasn't; ``ADDED`` is judged for the first time, and passes.
    """

    NEW = "new"
    WORSE = "worse"
    NEWLY_UNKNOWN = "newly unknown"
    NOT_CHECKED = "not checked again"
    CHANGED = "changed"
    GONE = "gone"
    BETTER = "better"
    FIXED = "fixed"
    KNOWN = "known now"
    WAIVED = "waived now"
    ADDED = "added"
    SAME = "same"


class CarrierChange(StrEnum):
    """What became of a carrier.

    ``RESIZED``: its width, height, bore, length or compartments are others; ``MOVED``: they aren't, and it lies elsewhere or is turned;
    ``CHANGED``: something else of it is another, or it was made anew. The first that holds is its class; its row tells all of them.
    ``NOT_READ``: NEW was checked without its model, so whether it is there isn't known.
    """

    ADDED = "added"
    REMOVED = "removed"
    NOT_READ = "not read"
    RESIZED = "resized"
    MOVED = "moved"
    CHANGED = "changed"
    SAME = "same"


class CircuitChange(StrEnum):
    """What became of a circuit. ``REROUTED``: its way or its length is another, or it has one now, or none; else as for carriers.

    ``NOT_READ``: NEW was checked without a schedule.
    """

    ADDED = "added"
    REMOVED = "removed"
    NOT_READ = "not read"
    REROUTED = "rerouted"
    RECABLED = "cables changed"
    CHANGED = "changed"
    SAME = "same"


class Cause(StrEnum):
    """Why a finding isn't what it was.

    ``FIGURES``: no change was found of what it is about, and it is judged by other figures (code, edition, limit, tables or version);
    ``WAIVER``: the figures are the same, and it is waived now, or isn't any more; ``BOTH``: there is a change, and other figures too;
    ``CHECKED``: everything else, a change of what was checked.
    """

    CHECKED = "what was checked"
    FIGURES = "other figures"
    WAIVER = "a waiver"
    BOTH = "both"
    NONE = ""


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding of OLD, of NEW, or of both. Ids, verdicts and figures of the side that doesn't have it are empty.

    ``where`` is what it is about. ``old`` and ``new`` are what was found and what is wanted, in words; ``use_old`` and ``use_new`` how
    far that goes towards the limit. ``what`` is why, in words, and whether its carrier was made anew.
    """

    change: FindingChange
    cause: Cause
    rule: str
    where: str
    storey: str
    circuits: tuple[str, ...]
    id_old: str
    id_new: str
    verdict_old: str
    verdict_new: str
    old: str
    new: str
    use_old: float | None
    use_new: float | None
    what: str


@dataclass(frozen=True, slots=True)
class CarrierRow:
    """One carrier of OLD, of NEW, or of both. ``key_old`` and ``key_new`` are empty where it isn't.

    ``is_anew``: another GlobalId, the same tag and place. ``is_material``: the change may bear on a verdict, as a new name doesn't.
    """

    change: CarrierChange
    label: str
    kind: str
    storey: str
    key_old: str
    key_new: str
    global_id_old: str
    global_id_new: str
    size_old: str
    size_new: str
    what: str
    is_anew: bool = False
    is_material: bool = False


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """One circuit of OLD, of NEW, or of both. Ways are names of carriers.

    ``lost_way``: its way was known, and isn't now, or only in part.
    """

    change: CircuitChange
    circuit: str
    length_m_old: float | None
    length_m_new: float | None
    way_old: tuple[str, ...]
    way_new: tuple[str, ...]
    what: str
    lost_way: bool = False
    is_material: bool = False


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two results: of which project, by which code, as of when, and how many of what it has.

    ``revision`` and ``status`` are of the documents, as the project names them; ``created`` is the time of the newest model, or the
    one that the run was asked to go by.
    """

    project_name: str
    project_key: str
    code: str
    code_title: str
    version: str
    created: str
    revision: str
    status: str
    files: tuple[SourceFile, ...]
    findings: int
    carriers: int
    circuits: int


@dataclass(frozen=True, slots=True)
class Difference:
    """Something by which two results differ as a whole. ``is_figures``: verdicts may differ by it though nothing was built otherwise."""

    what: str
    is_figures: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two results compared. Rows are sorted, those to be looked at first first."""

    old: Side
    new: Side
    differences: tuple[Difference, ...]
    findings: tuple[FindingRow, ...]
    carriers: tuple[CarrierRow, ...]
    circuits: tuple[CircuitRow, ...]

    def counts(self) -> "Counts":
        """How many there are of each class, those that have none too; and how many of a class are judged by other figures alone."""
        by_figures = [row.change for row in self.findings if row.cause is Cause.FIGURES]
        return Counts(
            findings=_counted(FindingChange, [row.change for row in self.findings]),
            by_other_figures=_counted(FindingChange, by_figures),
            carriers=_counted(CarrierChange, [row.change for row in self.carriers]),
            carriers_made_anew=sum(row.is_anew for row in self.carriers),
            circuits=_counted(CircuitChange, [row.change for row in self.circuits]),
        )

    def exit_status(self) -> int:
        """1: something is new or worse; 3: nothing is, but less is known; else 0.

        Less is known where something is newly unknown, wasn't read or checked again, or lost its way, or where NEW has no carrier that OLD
        had.
        """
        changes = {row.change for row in self.findings}
        if changes & {FindingChange.NEW, FindingChange.WORSE}:
            return 1
        is_less_known = bool(changes & {FindingChange.NEWLY_UNKNOWN, FindingChange.NOT_CHECKED})
        is_empty = self.old.carriers > 0 and not any(row.key_old and row.key_new for row in self.carriers)
        is_unread = any(row.change is CarrierChange.NOT_READ for row in self.carriers)
        is_lost = any(row.lost_way or row.change is CircuitChange.NOT_READ for row in self.circuits)
        return 3 if is_less_known or is_empty or is_unread or is_lost else 0


@dataclass(frozen=True, slots=True)
class Counts:
    """Numbers by class. ``by_other_figures`` are among ``findings``, ``carriers_made_anew`` among ``carriers``."""

    findings: dict[str, int]
    by_other_figures: dict[str, int]
    carriers: dict[str, int]
    carriers_made_anew: int
    circuits: dict[str, int]


def _counted(
    classes: type[StrEnum], changes: list[FindingChange] | list[CarrierChange] | list[CircuitChange]
) -> dict[str, int]:
    numbers = Counter(str(change) for change in changes)
    return {one.value: numbers[one.value] for one in classes}

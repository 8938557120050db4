"""Where what is known comes from: files, how sure a reading is, and what had to be said about it."""

from dataclasses import dataclass
from enum import StrEnum


class ProblemKind(StrEnum):
    """What sort of problem, the most serious first.

    ``GAP``: something could not be read or assessed. ``CORRECTION``: a figure in the files can't be, and was replaced or left out.
    ``ASSUMPTION``: something was taken for granted, or one of two that contradict each other was believed. ``INFERENCE``: something was
    concluded from weaker evidence than the standard foresees.
    """

    GAP = "gap"
    CORRECTION = "correction"
    ASSUMPTION = "assumption"
    INFERENCE = "inference"


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read or assessed, or was corrected, assumed or inferred; ``elements``: how many it touches."""

    where: str
    what: str
    why: str
    hint: str
    kind: ProblemKind = ProblemKind.GAP
    elements: int = 1


class Confidence(StrEnum):
    """How sure something is that was read: as the standard foresees, by a sound reading of something else, or a guess that may be wrong."""

    HIGH = "high"
    MEDIUM = "medium"
    LOW = "low"


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file that was read. ``timestamp`` is the one of an IFC header, as written there."""

    role: str
    name: str
    sha256: str
    schema: str = ""
    timestamp: str = ""
    ifc_project: str = ""

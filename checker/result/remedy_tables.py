"""What would help where something fails, as it was tried."""

from dataclasses import dataclass
from enum import StrEnum


class RemedyKind(StrEnum):
    """What is changed; in this order they cost the least first."""

    COMPARTMENT = "other compartment"
    WAY = "other way"
    BOX = "box"
    DIVIDER = "divider"
    CABLE = "other cable"
    CARRIER = "larger carrier"


@dataclass(frozen=True, slots=True)
class LaneRow:
    """A compartment as it is to be. ``width_mm`` is inside; None: an equal share. ``services``: empty: any."""

    width_mm: float | None = None
    services: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RemedyRow:
    """One change that was tried, and after which findings that failed pass, or have nothing left to ask.

    ``findings``: their ids; nothing else that was judged with them is worse. ``rejudged``: how many findings were judged anew, and of
    which ``rules``. Each is tried alone: of two together nothing is said.

    ``carriers`` are keys of those that change, or that circuits enter anew; ``lengths`` how many they are and ``length_m`` how long
    together; of another cable the circuit's way. ``before`` and ``after``: the size, the key of the cable or the way; ``after`` of a
    carrier is its key in the catalogue. ``longer_m``: how much more way its cables take. ``routes``: what the schedule says as
    ``route`` then, by circuit. ``lanes``: the compartments that the carriers have then, where they change. ``fittings``: keys of
    those that become boxes, or that a divider is carried through.
    """

    kind: RemedyKind
    findings: tuple[str, ...]
    text: str
    carriers: tuple[str, ...] = ()
    circuits: tuple[str, ...] = ()
    before: str = ""
    after: str = ""
    lengths: int = 0
    length_m: float | None = None
    longer_m: float | None = None
    routes: tuple[tuple[str, str], ...] = ()
    lanes: tuple[LaneRow, ...] = ()
    fittings: tuple[str, ...] = ()
    rejudged: int = 0
    rules: tuple[str, ...] = ()

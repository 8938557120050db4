"""Tables of the network: what is joined, what is open, where it breaks, which ways are near, and what cable is needed."""

from dataclasses import dataclass

from checker.model import Vec

#: Why cables of a circuit have no length whose way, as it is given or drawn, doesn't hang together.
HAS_GAP = "its route has a gap"


@dataclass(frozen=True, slots=True)
class JoinRow:
    """Two elements that belong together: ``one`` and ``other`` are keys of carriers, fittings or equipment.

    ``found_by`` is how that was found. ``gap_mm``: how far what meets there lies apart; None: not known. ``point_mm`` is where, if that is
    known.
    """

    one: str
    other: str
    found_by: str
    gap_mm: float | None
    point_mm: Vec | None = None


@dataclass(frozen=True, slots=True)
class OpenEndRow:
    """An end of a carrier that nothing is joined to. ``end`` is ``start`` or ``end`` of its axis.

    ``comes_in`` is how many legs of circuits come in there, from equipment: then it is open on purpose.
    """

    carrier: str
    end: str
    point_mm: Vec
    comes_in: int = 0


@dataclass(frozen=True, slots=True)
class BreakRow:
    """Two parts of the network that circuits need joined and that don't meet, and where they come nearest.

    ``one`` and ``other`` are keys of the carriers that are nearest to each other; ``gap_mm`` is from axis to axis, between the two points.
    ``carriers_one`` and ``carriers_other`` are how many carriers each part has.
    """

    one: str
    other: str
    gap_mm: float
    point_one_mm: Vec
    point_other_mm: Vec
    carriers_one: int
    carriers_other: int
    circuits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NearMissRow:
    """An open end of a carrier that has something near which it isn't joined to, though no circuit need pass there.

    ``one`` is the carrier's key, ``other`` of the carrier or fitting near it. ``names`` is what people call both, in the order in which
    ``said`` tells of them. ``is_used``: circuits come in at the end, or at both ends where two miss each other: then it is open on purpose.
    """

    one: str
    other: str
    names: tuple[str, str]
    said: str
    gap_mm: float
    point_mm: Vec
    is_used: bool = False


@dataclass(frozen=True, slots=True)
class ComingIn:
    """Where a circuit that begins or ends at equipment comes in on a carrier: the carrier's key, and the place on its axis."""

    circuit: str
    carrier: str
    point_mm: Vec


@dataclass(frozen=True, slots=True)
class EquipmentRow:
    """Equipment that circuits begin or end at, under the names that the schedule has for it.

    ``label`` is what a person would call it, ``storey`` is empty where none is known, ``point_mm`` None where its place isn't.
    ``circuits`` are the marks of those that name it, in natural order, ``comes_in`` where they come in from it, as far as their ways were
    measured from end to end.
    """

    key: str
    label: str
    storey: str
    point_mm: Vec | None
    circuits: tuple[str, ...]
    comes_in: tuple[ComingIn, ...] = ()


@dataclass(frozen=True, slots=True)
class NearWayRow:
    """A way that one leg of a circuit could as well take, longer than the shortest by ``longer_m``.

    ``by`` is the key of a carrier that tells it apart; ``carriers`` are all keys, in order.
    """

    circuit: str
    leg: int
    longer_m: float
    by: str
    carriers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TakeOffRow:
    """The cables of one kind on one leg of one circuit. Lengths are of one cable; None: not known, and ``reason`` says why.

    ``way_m`` is through carriers, ``drops_m`` at both ends together, ``length_m`` both with the project's allowance. ``carriers`` are keys,
    in order.
    """

    circuit: str
    leg: int
    cable: str
    origin: str
    call: str
    count: int | None
    way_m: float | None
    drops_m: float | None
    length_m: float | None
    carriers: tuple[str, ...]
    reason: str = ""
    state: str = ""

    @property
    def total_m(self) -> float | None:
        """Of all its cables together."""
        return None if self.length_m is None or self.count is None else self.length_m * self.count

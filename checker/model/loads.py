"""What rules about currents are asked: a circuit with its loads, and the enclosures that it passes with all that lies in them."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.circuits import Service, State
from checker.model.installation import Carrier
from checker.model.subjects import PlacedCable, Run


@dataclass(frozen=True, slots=True)
class Neutral:
    """The neutral of a circuit of three phases, as far as its rows tell it. None, or an empty word: not known.

    Attributes:
        line_mm2: Cross-section of each line conductor.
        most_mm2: The largest that the neutral can be.
        least_mm2: The smallest that it can be; None: it may not be among its conductors at all.
        is_single_core, conductor, insulation: Of the conductors that it can be, and of the lines.
        doubt: Why the above isn't known, or which of its conductors is the neutral.
    """

    line_mm2: float | None = None
    most_mm2: float | None = None
    least_mm2: float | None = None
    is_single_core: bool | None = None
    conductor: str = ""
    insulation: str = ""
    doubt: str = ""

    @property
    def is_as_lines(self) -> bool:
        """Whether it is as large as the lines for certain."""
        return self.line_mm2 is not None and self.line_mm2 == self.least_mm2 == self.most_mm2


@dataclass(frozen=True, slots=True, eq=False)
class CircuitLoad:
    """The electrical side of a circuit. None, or an empty word: not given. There is one for each circuit, told apart by identity.

    Attributes:
        mark: The circuit.
        service, state: As in the schedule.
        is_loaded: Whether it carries a load that heats: not a spare or removed one, nor data of which no load is given.
        is_ring: Whether its way comes back to its origin.
        is_single_core: Whether its live conductors are single-core cables.
        csa_mm2, awg_kcmil, conductor, insulation: Of its live conductors.
        loaded_conductors: 2 or 3 as a rule, of the circuit as a whole.
        conductors: All conductors of one set, protective ones too.
        sets: Parallel sets.
        circuits, circuits_least: How many circuits it counts for in a group, for one pass along a carrier: at most, and at least.
        design_current_a, device_rating_a: Ib and In.
        ambient_c: Of the air round it.
        third_harmonic: Third harmonic over fundamental, as a ratio.
        method: Reference method as the schedule writes it.
        device: As the schedule writes it.
        terminations_c: What the terminals of all its ends are declared for.
        undeclared: The first of its ends whose terminals aren't declared.
        unread: Columns that are given but can't be read: what they say is no assumption's.
        doubt: Why its live conductors aren't known; empty where they are.
        neutral: What is known of its neutral, where it has three phases by its loaded conductors.
        has_single_cores: Whether some of its cables are single-core for certain.
    """

    mark: str
    service: Service | None
    state: State
    is_loaded: bool
    is_ring: bool = False
    is_single_core: bool | None = None
    csa_mm2: float | None = None
    awg_kcmil: str = ""
    conductor: str = ""
    insulation: str = ""
    loaded_conductors: int | None = None
    conductors: int | None = None
    sets: int | None = 1
    circuits: int | None = None
    circuits_least: int | None = None
    design_current_a: float | None = None
    device_rating_a: float | None = None
    ambient_c: float | None = None
    third_harmonic: float | None = None
    method: str = ""
    device: str = ""
    terminations_c: float | None = None
    undeclared: str = ""
    unread: tuple[str, ...] = ()
    doubt: str = ""
    neutral: Neutral | None = None
    has_single_cores: bool = False


@dataclass(frozen=True, slots=True)
class Member:
    """A circuit in an enclosure, and how many times its cables pass along it.

    ``lines``: of a circuit whose cables the model leads different ways, how many lines pass there, of how many in which all are drawn.
    """

    load: CircuitLoad
    passes: int = 1
    lines: tuple[int, int] | None = None


#: Trays above each other are looked for so far up and down, from floor to floor.
STACK_MM = 1500.0


@dataclass(frozen=True, slots=True)
class Stacked:
    """Another tray or ladder that runs level above or below one, on a stretch of it.

    ``up_mm`` is how much higher its floor lies (less than 0: lower), ``from_mm`` and ``to_mm`` are along the one's axis. ``is_certain``:
    it is a tray or ladder, loaded circuits lie in it, and it is above or below, all for certain.
    """

    carrier: Carrier
    up_mm: float
    from_mm: float
    to_mm: float
    is_certain: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class Enclosure:
    """A segment with all its compartments: what heats each other in it.

    Attributes:
        carrier: The segment.
        members: The circuits that lie in it for certain, in any of its compartments.
        possible: Those that may lie in it besides.
        doubts: Why those aren't certain, or why something that can't be counted may lie in it too.
        unbounded: Whether there may be something that can't be counted.
        fits_one_layer: Whether all its cables side by side are no wider than each of its compartments; None: a size isn't known.
        may_fit_one_layer: The same in its favour: of the cables that are there for certain, those of unknown size taken for nothing.
        run: The run that a conduit is part of.
        cables: All cables that lie in any of its compartments for certain.
        possible_cables: Those that may besides.
        is_strict: Whether this is the reading against it.
        is_level: Of a tray or ladder with loaded circuits, if the project declares how cables lie on it: whether a part of it runs level;
            None: where it runs isn't known.
        stacked: What else of trays and ladders with loaded circuits runs above or below it then.
        stack_doubt: Why more may run there; empty where that is known.
    """

    carrier: Carrier
    members: tuple[Member, ...] = ()
    possible: tuple[Member, ...] = ()
    doubts: tuple[str, ...] = ()
    unbounded: bool = False
    fits_one_layer: bool | None = None
    may_fit_one_layer: bool = True
    run: Run | None = None
    cables: tuple[PlacedCable, ...] = ()
    possible_cables: tuple[PlacedCable, ...] = ()
    is_strict: bool = False
    is_level: bool | None = None
    stacked: tuple[Stacked, ...] = ()
    stack_doubt: str = ""

    @property
    def about(self) -> About:
        """The segment."""
        marks = tuple(sorted({cable.circuit for cable in self.cables}))
        return About((self.carrier.key,), circuits=marks, guess=guess_of([self.carrier]))

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in it."""
        return self.unbounded

    def least_loaded(self) -> "Enclosure":
        """The reading in its favour: only what certainly lies in it."""
        thin = tuple(cable.at_least() for cable in self.cables)
        return replace(self, possible=(), possible_cables=(), cables=thin)

    def most_loaded(self) -> "Enclosure":
        """The reading against it: all that could lie in it."""
        return replace(
            self,
            members=self.members + self.possible,
            possible=(),
            cables=self.cables + self.possible_cables,
            possible_cables=(),
            is_strict=True,
        )

    def group(self, *, is_strict: bool) -> tuple[Member, ...]:
        """What is in it in the reading in its favour, or against it."""
        return (*self.members, *self.possible) if is_strict else self.members


@dataclass(frozen=True, slots=True)
class RoutedCircuit:
    """One circuit and every enclosure on its way, in order.

    Attributes:
        load: The circuit.
        enclosures: What it passes, each once.
        open_doubts: Why more may bear on it than is seen here: it isn't routed, its route has a gap, something uncounted lies with it.
        not_overloaded_together: Why the designer declares that circuits aren't overloaded at the same time; empty: not declared.
        is_strict: Whether this is the reading against it, of the two that ``judge`` asks about.
    """

    load: CircuitLoad
    enclosures: tuple[Enclosure, ...] = ()
    open_doubts: tuple[str, ...] = ()
    not_overloaded_together: str = ""
    is_strict: bool = False

    def most_loaded(self) -> "RoutedCircuit":
        """The reading against it: with all that may lie beside it."""
        return replace(self, is_strict=True)

"""The one in-memory result: a few tables. Every writer reads this and nothing else, and computes nothing."""

from dataclasses import dataclass, field

from checker.model import Place, Problem, SourceFile, Vec
from checker.model.setting import Grid
from checker.result.network_tables import (
    BreakRow,
    EquipmentRow,
    JoinRow,
    NearMissRow,
    NearWayRow,
    OpenEndRow,
    TakeOffRow,
)
from checker.result.question_tables import QuestionRow
from checker.result.remedy_tables import RemedyRow
from checker.result.waiver_tables import WaivedBy, WaiverRow
from checker.rule.rating import Factor
from checker.rule.verdict import use_of
from checker.section.parts import SectionView


@dataclass(frozen=True, slots=True)
class Box:
    """The body of an element as an oriented box: what pictures draw and cameras are fitted to.

    ``corner_mm`` is one corner; the three edges run from it.
    """

    corner_mm: Vec
    edges_mm: tuple[Vec, Vec, Vec]


def _to_tenths(size_mm: float) -> str:
    return f"{round(size_mm, 1):g}"


@dataclass(frozen=True, slots=True)
class CarrierRow:
    """One carrier segment read. ``checked``: it has a fill verdict other than unknown in every compartment.

    ``boxes`` are its body, one a straight piece; none where it isn't known where it is. ``kind_source`` says how its kind was told;
    ``kind_confidence`` and ``dimension_confidence`` are a ``Confidence``, empty where no kind or no size is known; ``condition`` is a
    ``Condition``. ``width_mm`` and ``height_mm`` are outside; ``bore_mm`` is inside, of round ones that were given so.
    """

    key: str
    place: Place
    kind: str
    type_name: str
    width_mm: float | None
    height_mm: float | None
    length_m: float | None
    dimension_source: str
    checked: bool
    worst_verdict: str
    boxes: tuple[Box, ...] = ()
    kind_source: str = ""
    kind_confidence: str = ""
    dimension_confidence: str = ""
    condition: str = ""
    bore_mm: float | None = None

    @property
    def size(self) -> str:
        """Its size in mm as people say it, outside: ``225 × 50``, ``20`` for a conduit, ``bore 15.8`` where only that is known."""
        if self.width_mm is None:
            return "" if self.bore_mm is None else f"bore {_to_tenths(self.bore_mm)}"
        if self.height_mm is None or (self.kind == "conduit" and self.width_mm == self.height_mm):
            return _to_tenths(self.width_mm)
        return f"{_to_tenths(self.width_mm)} × {_to_tenths(self.height_mm)}"


@dataclass(frozen=True, slots=True)
class CompartmentRow:
    """One compartment of one carrier segment. ``fill`` and ``limit`` are ratios; ``verdict`` is of fill.

    ``at_least``: the fill is only the least that it can be. ``other_ways`` is of the fill verdict's finding.

    ``fill_least`` and ``fill_most``: the fill with all sizes as their standards let them be, one way and the other; None where no such
    tolerance is known, or the fill isn't one figure. ``untoleranced``: the circuits with cables of which none is known; these count there
    at their one size.
    """

    carrier: str
    number: int
    inside_width_mm: float | None
    inside_height_mm: float | None
    internal_area_mm2: float | None
    services: tuple[str, ...]
    cables: int | None
    occupied_mm2: float | None
    fill: float | None
    measure: str
    limit: float | None
    verdict: str
    worst_verdict: str
    reason: str
    circuits: tuple[str, ...] = ()
    circuits_possible: tuple[str, ...] = ()
    at_least: bool = False
    other_ways: str = ""
    fill_least: float | None = None
    fill_most: float | None = None
    untoleranced: tuple[str, ...] = ()

    @property
    def utilisation(self) -> float | None:
        """Fill over limit."""
        return self.fill / self.limit if self.fill is not None and self.limit else None


@dataclass(frozen=True, slots=True)
class CableRow:
    """Cables of one circuit in one compartment. ``certain`` False: they may lie here; ``lane_by`` is how the compartment was told."""

    carrier: str
    number: int
    circuit: str
    cable: str
    count: int | None
    diameter_mm: float | None
    area_mm2: float | None
    service: str
    certain: bool
    lane_by: str = ""


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """One circuit of the schedule, routed or with the reason why not. ``is_loaded`` False: no load heats it, so it has no rating.

    ``length_m`` is its way through carriers; ``cable_m`` what is cut of one of its cables: all legs with their drops and the project's
    allowance.
    """

    circuit: str
    origin: str
    calls: tuple[str, ...]
    service: str
    state: str
    routed_by: str
    carriers: tuple[str, ...]
    length_m: float | None
    drops_m: tuple[float | None, ...]
    reason: str
    other: dict[str, str] = field(default_factory=dict)
    is_loaded: bool = True
    cable_m: float | None = None

    @property
    def is_routed(self) -> bool:
        """Whether all of its way is known."""
        return bool(self.routed_by)


@dataclass(frozen=True, slots=True)
class RatingRow:
    """What one rule says of one circuit's current-carrying capacity, at the segment that governs. Currents are in A.

    ``carrier`` is a key; empty where none is known to govern. None: not known, or not one figure. ``base_a`` is of one set; the product
    of it and ``factors`` is ``capacity_a``. ``assumptions`` are the inputs that weren't given, with what was taken.
    """

    circuit: str
    rule: str
    carrier: str
    cable: str
    csa_mm2: float | None
    base_a: float | None
    base_source: str
    factors: tuple[Factor, ...]
    capacity_a: float | None
    required_a: float | None
    required_why: str
    verdict: str
    reason: str
    assumptions: tuple[str, ...] = ()
    grouping_factor: float | None = None


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One verdict of one rule on one subject.

    ``at_least``: the value is only the least that it can be. ``is_floor``: the limit is the least that is wanted, not the most that is
    allowed.

    ``at``: what it is about where that isn't its carriers alone, as people call it: a fitting, a carrier at a wall.

    ``is_of_circuit``: it is about a circuit; its carrier, if there is one, is the segment that governs it. ``along``: of one that fails,
    the other carriers on its way where it carries too little. ``other_ways``: whether it
    would be the same if circuits took ways that are a little longer, or on whose way it hangs; empty where that wasn't asked.

    ``found`` and ``wanted``: what was found and what is wanted in a few words, figures and units in them; empty where value and limit
    alone say it. Where only ``found`` is given and it isn't about the figure, ``limit`` says nothing of it.

    ``advice``: what would help, each thing of it tried (``Result.remedies``); ``tried``: what didn't where nothing did, or that nothing was
    tried. ``waived_by``: of a waived one, who waives it or the limits that it fails, what counts longest first.
    """

    id: str
    rule: str
    code: str
    carriers: tuple[str, ...]
    compartment: int | None
    verdict: str
    value: float | None
    limit: float | None
    unit: str
    measure: str
    basis: str
    source: str
    reason: str
    circuits: tuple[str, ...] = ()
    advice: str = ""
    topic: str = ""
    at_least: bool = False
    is_of_circuit: bool = False
    other_ways: str = ""
    at: str = ""
    is_floor: bool = False
    found: str = ""
    wanted: str = ""
    tried: str = ""
    along: tuple[str, ...] = ()
    waived_by: tuple[WaivedBy, ...] = ()

    @property
    def use(self) -> float | None:
        """How far the value goes towards the limit: more than 1 is beyond it; None where one of them is missing."""
        return use_of(self.value, self.limit, is_floor=self.is_floor)

    @property
    def is_current(self) -> bool:
        """Whether it says what current a circuit needs and what it may carry."""
        return self.is_of_circuit and self.unit == "A" and not self.is_floor and not self.found


@dataclass(frozen=True, slots=True)
class Camera:
    """A perspective camera in metres, Z up. ``fov_deg`` is horizontal."""

    point_m: Vec
    direction: Vec
    up: Vec
    fov_deg: float


@dataclass(frozen=True, slots=True)
class Topic:
    """What a person would raise as one issue: failing findings of one cause.

    ``members`` are finding ids; ``carriers`` keys of carriers, the worst first; ``cables`` GlobalIds of cables in the model that the
    circuits concerned own, and of a question equipment that circuits begin or end at; ``worst`` the finding id that the snapshot's section
    shows.
    ``clip_m``: what is higher than this hides them: the floor that they lie in, or one above them; None: nothing does.
    ``earlier_status``: its status in the notes that the run went on with, where that isn't what a new one has; else empty.
    """

    guid: str
    title: str
    description: str
    rule: str
    priority: str
    labels: tuple[str, ...]
    members: tuple[str, ...]
    carriers: tuple[str, ...]
    cables: tuple[Place, ...]
    circuits: tuple[str, ...]
    worst: str
    camera: Camera | None
    clip_m: float | None = None
    earlier_status: str = ""


@dataclass(frozen=True, slots=True)
class SectionRow:
    """The section of a carrier that a topic is about, with its cables in their places."""

    carrier: str
    view: SectionView


@dataclass(frozen=True, slots=True)
class Result:
    """Everything found in one run. ``created`` is the model's own time (ISO 8601, UTC), never the wall clock.

    ``demolished`` are carrier segments that the models mark as demolished; they are in no other table. ``near_ways`` are ways no more than
    ``near_m`` longer than those that were found; None: the project asks for none. ``equipment`` is only what circuits begin or end at.
    ``revision`` and ``status`` are of the documents, as the project names them. ``requests`` are topics too: questions to the design team,
    whose members are ids of questions; no finding is among them. ``grids`` are the building's, by which places are told.
    """

    version: str
    project_key: str
    project_name: str
    code: str
    code_title: str
    created: str
    files: tuple[SourceFile, ...]
    carriers: tuple[CarrierRow, ...]
    compartments: tuple[CompartmentRow, ...]
    circuits: tuple[CircuitRow, ...]
    cables: tuple[CableRow, ...]
    findings: tuple[FindingRow, ...]
    problems: tuple[Problem, ...]
    topics: tuple[Topic, ...]
    ratings: tuple[RatingRow, ...] = ()
    surroundings: tuple[Box, ...] = ()
    cautions: tuple[str, ...] = ()
    demolished: tuple[Place, ...] = ()
    joins: tuple[JoinRow, ...] = ()
    open_ends: tuple[OpenEndRow, ...] = ()
    breaks: tuple[BreakRow, ...] = ()
    take_off: tuple[TakeOffRow, ...] = ()
    near_ways: tuple[NearWayRow, ...] = ()
    near_m: float | None = None
    equipment: tuple[EquipmentRow, ...] = ()
    questions: tuple[QuestionRow, ...] = ()
    remedies: tuple[RemedyRow, ...] = ()
    sections: tuple[SectionRow, ...] = ()
    revision: str = ""
    status: str = ""
    requests: tuple[Topic, ...] = ()
    waivers: tuple[WaiverRow, ...] = ()
    near_misses: tuple[NearMissRow, ...] = ()
    grids: tuple[Grid, ...] = ()

    def carrier(self, key: str) -> CarrierRow:
        """The row of a carrier by its key."""
        return next(row for row in self.carriers if row.key == key)

"""What is installed: carriers, fittings, equipment, circuits and their cables, as they were read. No files, graphs or rules.

Unknown is ``None``, never 0. Lengths are millimetres in the coordinates of the model, after the whole placement chain.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from checker.model.circuits import Circuit, Service
from checker.model.geometry import Body, Vec
from checker.model.provenance import Confidence, Problem, SourceFile
from checker.model.setting import Setting

if TYPE_CHECKING:
    from checker.model.barriers import Barrier  # which has places of this module


class CarrierKind(StrEnum):
    """What sort of carrier a segment is; IFC has a predefined type for each."""

    TRUNKING = "trunking"
    CONDUIT = "conduit"
    TRAY = "tray"
    LADDER = "ladder"
    UNKNOWN = "unknown"


class FittingKind(StrEnum):
    """What sort of fitting joins segments. A box is where cables can be drawn in."""

    BEND = "bend"
    TEE = "tee"
    CROSS = "cross"
    REDUCER = "reducer"
    CONNECTOR = "connector"
    BOX = "box"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Lane:
    """One compartment of a section. ``services`` None: any may lie in it. ``width_mm`` is inside; None: an equal share."""

    number: int
    width_mm: float | None = None
    services: frozenset[Service] | None = None

    def takes(self, service: Service | None) -> bool:
        """Whether a service may lie here; a service that isn't known may."""
        return self.services is None or service is None or service in self.services


@dataclass(frozen=True, slots=True)
class Section:
    """The cross-section of a segment: outside (nominal) sizes, wall and lanes.

    ``bore_mm`` is the inside diameter of a round one where it was given as such, ``inside_area_mm2`` the area that goes with it where a
    code prints one. ``usable_depth_mm`` is for trays and ladders. ``wall_range_mm``: between what the wall lies, where no ``wall_mm`` is
    known but that.
    ``source`` says where each figure came from, ``confidence`` how sure the least sure of them is.
    """

    width_mm: float | None = None
    height_mm: float | None = None
    outside_diameter_mm: float | None = None
    bore_mm: float | None = None
    inside_area_mm2: float | None = None
    wall_mm: float | None = None
    divider_mm: float | None = None
    usable_depth_mm: float | None = None
    lanes: tuple[Lane, ...] = (Lane(1),)
    source: str = ""
    confidence: Confidence = Confidence.HIGH
    wall_range_mm: tuple[float, float] | None = None

    @property
    def is_round(self) -> bool:
        """Whether the section is a circle."""
        return self.outside_diameter_mm is not None or self.bore_mm is not None


@dataclass(frozen=True, slots=True)
class Place:
    """Where an element is: its GlobalId and how people find it. ``mark`` is what the project maps as its tag, where it has another one."""

    global_id: str
    model: str
    tag: str = ""
    name: str = ""
    storey: str = ""
    space: str = ""
    zone: str = ""
    mark: str = ""

    @property
    def label(self) -> str:
        """What a person would call it."""
        return self.mark or self.tag or self.name or self.global_id

    @property
    def names(self) -> frozenset[str]:
        """All that it goes by, its GlobalId among them, without blanks around."""
        return frozenset(text.strip() for text in (self.mark, self.tag, self.name, self.global_id)) - {""}


class Condition(StrEnum):
    """Whether an element is there already, by the ``Status`` of the common property sets. Demolished ones are left out of everything."""

    NEW = "new"
    EXISTING = "existing"
    DEMOLISHED = "demolished"
    TEMPORARY = "temporary"
    NOT_SAID = ""


class Surroundings(StrEnum):
    """What a carrier lies in; ratings go by it."""

    AIR = "air"
    CAST_IN = "cast-in"
    GROUND = "ground"


@dataclass(frozen=True, slots=True)
class Laying:
    """What the project declares of a carrier that no model says: how cables lose their heat in it, and what it bears. None: not declared.

    ``single_layer``: cables lie side by side, never on each other; ``tiers``: how many such trays lie above each other.
    ``safe_load_kg_per_m``: what it may bear, evenly spread, where its supports are ``span_m`` apart; ``mass_kg_per_m``: what it weighs
    itself, with its lid. ``can_be_reopened``: whether cables can be got at later, or it is buried, cast in or built over.
    """

    installed: Surroundings | None = None
    perforated: bool | None = None
    single_layer: bool | None = None
    tiers: int | None = None
    span_m: float | None = None
    safe_load_kg_per_m: float | None = None
    mass_kg_per_m: float | None = None
    can_be_reopened: bool | None = None


@dataclass(frozen=True, slots=True)
class Carrier:
    """One carrier segment. ``key`` is its GlobalId, unless two files use the same one.

    ``start_mm`` and ``end_mm`` are the ends of its axis, ``corners_mm`` what lies between them where it isn't straight; ``across`` is the
    direction of the section's width. ``is_across_known``: a drawn section says towards which side that goes; where it is a convention,
    nothing says on which side the first compartment lies. ``length_mm`` is along the axis; ``turn_deg`` is by how much it turns on its
    own way, 0 where it is straight, None where that isn't known. ``laying`` is what the project declares of how cables lie in it.
    ``kind_source`` says how its kind was told, ``kind_confidence`` how sure that is.
    """

    key: str
    place: Place
    kind: CarrierKind
    section: Section
    type_name: str = ""
    material: str = ""
    start_mm: Vec | None = None
    end_mm: Vec | None = None
    across: Vec | None = None
    length_mm: float | None = None
    turn_deg: float | None = None
    laying: Laying = Laying()
    corners_mm: tuple[Vec, ...] = ()
    condition: Condition = Condition.NOT_SAID
    kind_source: str = ""
    kind_confidence: Confidence = Confidence.HIGH
    is_across_known: bool = True

    @property
    def axis_mm(self) -> tuple[Vec, ...]:
        """The points of its axis from start to end; none where that isn't known."""
        if self.start_mm is None or self.end_mm is None:
            return ()
        return (self.start_mm, *self.corners_mm, self.end_mm)

    def takes(self, service: Service | None) -> bool:
        """Whether any of its lanes takes a service."""
        return any(lane.takes(service) for lane in self.section.lanes)


class Partition(StrEnum):
    """Whether a fitting keeps the compartments that meet in it apart, as the project declares it."""

    KEPT = "kept"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Fitting:
    """A bend, tee, cross, reducer, connector or box. ``centre_mm`` is where its branches meet; ``body`` is the box around it.

    ``partition`` is as the project declares it, with ``partition_why``; None: it doesn't. ``radius_mm`` is of a bend's centre line, the
    tightest; None: it is neither drawn nor declared.
    """

    key: str
    place: Place
    kind: FittingKind
    centre_mm: Vec | None = None
    body: Body | None = None
    partition: Partition | None = None
    partition_why: str = ""
    radius_mm: float | None = None
    type_name: str = ""


@dataclass(frozen=True, slots=True)
class Equipment:
    """What a circuit can start or end at: a board, outlet, luminaire, device."""

    key: str
    place: Place
    ifc_class: str
    point_mm: Vec | None = None


@dataclass(frozen=True, slots=True)
class Port:
    """A port of an element. ``linked`` are the keys of ports that the file says it is connected to."""

    key: str
    element: str
    point_mm: Vec | None
    linked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ModelCable:
    """A cable that the model itself draws. ``marks`` are the names by which a circuit may own it. Sizes are of one cable, outside.

    ``path_mm`` are the points of its axis; none where the model doesn't draw it, or draws it in ``pieces_mm``, in no order.
    """

    place: Place
    marks: tuple[str, ...] = ()
    diameter_mm: float | None = None
    csa_mm2: float | None = None
    cores: int | None = None
    condition: Condition = Condition.NOT_SAID
    path_mm: tuple[Vec, ...] = ()
    pieces_mm: tuple[tuple[Vec, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class ModelCircuit:
    """A circuit as a model has it. ``marks`` are the ways in which a schedule may write it; ``members`` keys of what it feeds.

    ``source`` says what it was read from: a class of the standard, or text properties. ``panel`` is what feeds it, as the model writes it,
    and ``board`` its key where the model knows the element.
    """

    mark: str
    model: str
    source: str
    marks: tuple[str, ...] = ()
    panel: str = ""
    members: tuple[str, ...] = ()
    cables: tuple[ModelCable, ...] = ()
    board: str = ""


@dataclass(frozen=True, slots=True)
class Installation:
    """Everything that was read, and what could not be.

    ``lost_rows`` are schedule rows of which the circuit, or the columns, couldn't be read: what they hold could lie anywhere.
    ``terminations_c`` is what the project declares terminals to be made for, in °C, by a pattern of the names of equipment, the first that
    matches; ``not_overloaded_together`` why its circuits aren't overloaded at the same time, empty where it doesn't declare that.
    ``left_out`` is what isn't read, and why: a schedule may name it all the same. ``is_scheduled`` False: no schedule was given, and the
    circuits are those that the models have. ``near_mm``: ways are looked at as well that are longer than the shortest by no more; None:
    the project doesn't ask for it. ``allowance_share`` and ``end_allowance_mm`` are what is cut beyond a way and its drops: a share of
    them, and a length at each end. ``barriers`` are the walls, slabs and the like that models rate for fire.
    ``revision`` and ``status`` are of the documents, as the project names them; empty where it doesn't.
    ``most_requests``: so many issue notes with questions are raised at the most.
    """

    project_key: str
    name: str
    files: tuple[SourceFile, ...] = ()
    carriers: tuple[Carrier, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    ports: tuple[Port, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    model_cables: tuple[ModelCable, ...] = ()
    model_circuits: tuple[ModelCircuit, ...] = ()
    demolished: tuple[Place, ...] = ()
    left_out: tuple[tuple[Place, str], ...] = ()
    is_scheduled: bool = True
    lost_rows: tuple[int, ...] = ()
    reach_mm: float = 3000.0
    near_mm: float | None = None
    allowance_share: float = 0.0
    end_allowance_mm: float = 0.0
    terminations_c: tuple[tuple[str, float], ...] = ()
    not_overloaded_together: str = ""
    problems: tuple[Problem, ...] = ()
    barriers: "tuple[Barrier, ...]" = ()
    setting: Setting = field(default_factory=Setting)
    most_requests: int = 10
    revision: str = ""
    status: str = ""

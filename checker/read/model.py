"""Reads one opened IFC model: carriers, fittings, equipment, ports, cables, circuits."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from checker.model import (
    Barrier,
    Body,
    Carrier,
    Condition,
    Equipment,
    Fitting,
    FittingKind,
    ModelCable,
    ModelCircuit,
    Place,
    Port,
    Problem,
    ProblemKind,
    Vec,
)
from checker.model.geometry import dot, midpoint, sub
from checker.model.setting import Setting
from checker.model.texts import quoted
from checker.read.barriers import read_barriers
from checker.read.bend_radii import bend_radius_mm
from checker.read.carriers import CarrierReader
from checker.read.classify import Classified, Classifier, equipment_in
from checker.read.context import Context, Notes, asked_for, tell_kind
from checker.read.figures_of_types import DIFFER
from checker.read.ifc_file import OpenModel
from checker.read.layers import Layers
from checker.read.length_units import angle_unit_rad, length_unit_mm
from checker.read.model_cables import read_cables
from checker.read.model_circuits import read_circuits
from checker.read.project import Project
from checker.read.project_fittings import CONTRADICTED, declared_of
from checker.read.properties import Properties
from checker.read.relations import all_of, parts_of_wholes, place_names, read_relations, wholes_of
from checker.read.setting import read_setting
from checker.read.shapes import Shapes
from checker.read.site import SiteFacts, site_facts
from checker.read.spaces import Room, Rooms
from checker.rule.catalogue import CarrierType
from checker.units import metres

Entity = Any
#: Where a fitting's origin lies outside its body by more than this, its branches meet in the middle of the body.
OUTSIDE_MM = 50.0
#: An origin this near to a corner of the body, as a share of half its size, is where it was drawn from.
AT_CORNER = 0.98


@dataclass(slots=True)
class ModelContents:
    """What one model holds, keyed by GlobalId. ``demolished``: carriers that will be gone.

    ``left_out``: what people may name and isn't read, and why. ``used``: entries of the project file, by table and number, that fit.
    ``far_mm``: ends of carriers that are too long to be believed.
    """

    name: str
    ifc_project: str = ""
    project_name: str = ""
    carriers: list[Carrier] = field(default_factory=list)
    fittings: list[Fitting] = field(default_factory=list)
    equipment: list[Equipment] = field(default_factory=list)
    ports: list[Port] = field(default_factory=list)
    cables: list[ModelCable] = field(default_factory=list)
    circuits: list[ModelCircuit] = field(default_factory=list)
    demolished: list[Place] = field(default_factory=list)
    left_out: list[tuple[Place, str]] = field(default_factory=list)
    far_mm: list[Vec] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    site: SiteFacts | None = None
    used: set[tuple[str, int]] = field(default_factory=set)
    barriers: list[Barrier] = field(default_factory=list)
    setting: Setting | None = None


class ModelReader:
    """Reads one model. Defects end in problems, never in exceptions.

    Args:
        opened: The file.
        project: The project file.
        catalogue: Carriers whose inside goes by a family and a trade size.
    """

    def __init__(self, opened: OpenModel, project: Project, catalogue: Sequence[CarrierType] = ()) -> None:
        self.file = opened.file
        self.contents = ModelContents(opened.name)
        notes = Notes(opened.name)
        mm = length_unit_mm(opened.file, notes.tell)
        found = read_relations(opened.file)
        self.it = Context(
            name=opened.name,
            file=opened.file,
            project=project,
            found=found,
            mm=mm,
            shapes=Shapes(angle_unit_rad(opened.file, notes.tell)),
            properties=Properties(found, metres(mm), asked_for(project, self.contents.used)),
            notes=notes,
        )
        self._opened = opened
        self._carriers = CarrierReader(self.it, catalogue)

    def read(self) -> ModelContents:
        """Reads everything."""
        contents, it = self.contents, self.it
        projects = list(all_of(self.file, "IfcProject"))
        if projects:
            contents.ifc_project = str(projects[0].GlobalId or "")
            contents.project_name = str(projects[0].LongName or projects[0].Name or "")
        self._read_ports()
        classifier = Classifier(self.file, it.found, it.project, Layers(self.file).of)
        elements = classifier.sort()
        contents.used |= elements.used
        within = parts_of_wholes([item.element for item in elements.carriers], it.found)
        for item in elements.carriers:
            if item.element.id() in within:
                self._tell_part(item.element, within[item.element.id()])
            elif not self._stays(item.element):
                contents.demolished.append(it.place(item.element))
                contents.left_out.append((it.place(item.element), "it is marked as demolished"))
            else:
                contents.carriers.append(self._carriers.read(item, classifier.type_name(item.element)))
        for item in elements.fittings:
            if self._stays(item.element):
                contents.fittings.append(self._fitting(item, classifier.type_name(item.element)))
        for element in equipment_in(self.file, elements.taken):
            if self._stays(element):
                contents.equipment.append(
                    Equipment(it.key(element), it.place(element), element.is_a(), self._middle(element))
                )
        self._tell_left_out(elements.ignored, elements.lookalikes)
        self._tell_wrong_unit()
        contents.cables = read_cables(it, set(elements.ignored))
        contents.circuits = read_circuits(it, {item.key for item in contents.equipment}, set(elements.ignored))
        contents.barriers = read_barriers(it, elements.taken | elements.ignored.keys(), contents.used)
        self._find_rooms()
        contents.setting = read_setting(it)
        contents.site = site_facts(self.file, it.mm, it.placements, contents.name)
        contents.problems = [*self._opened.problems, *it.notes.problems()]
        return contents

    def _find_rooms(self) -> None:
        """Where the file names no space for an element, the one that its middle lies in."""
        rooms = Rooms(self.it)
        if rooms.is_empty:
            return
        carriers, equipment = self.contents.carriers, self.contents.equipment
        for number, carrier in enumerate(carriers):
            ends = carrier.axis_mm
            middle = midpoint(ends[0], ends[-1]) if ends else None
            carriers[number] = replace(carrier, place=self._roomed(carrier.place, rooms.at(middle)))
        for number, item in enumerate(equipment):
            equipment[number] = replace(item, place=self._roomed(item.place, rooms.at(item.point_mm)))

    def _roomed(self, place: Place, room: Room | None) -> Place:
        if place.space or room is None:
            return place
        storey, _, zone = place_names(room.element, self.it.found)
        if place.storey and storey and storey != place.storey:
            return place  # it is in another storey by what the file says
        where = f"{self.it.name}, {place.label}"
        self.it.notes.fold(ProblemKind.INFERENCE, "its space is the one that its middle lies in", "the file doesn't say its space",
                           "look at the column space where it matters", where)  # fmt: skip
        return replace(place, space=room.name, storey=place.storey or storey, zone=place.zone or zone)

    def _stays(self, element: Entity) -> bool:
        """Whether an element will be there; a demolished one is left out, and that is said."""
        if self.it.condition(element) is not Condition.DEMOLISHED:
            unread = self.it.unread_condition(element)
            if unread:
                self.it.notes.tell(ProblemKind.ASSUMPTION, f"its status {quoted(unread)} isn't understood; it is read as one that stays",
                                   "so if it is to go, it is counted nevertheless", "write DEMOLISH, EXISTING, NEW or TEMPORARY",
                                   self.it.label(element))  # fmt: skip
            return True
        self.it.notes.tell(ProblemKind.INFERENCE, "it is marked as demolished and left out", "what is taken down holds no cables",
                           "mend its status if it stays", self.it.label(element))  # fmt: skip
        return False

    def _tell_wrong_unit(self) -> None:
        """One word for a file in which many carriers are too long: then it isn't they that are wrong."""
        self.contents.far_mm = self._carriers.far_mm
        too_long, others = len(self._carriers.far_mm) // 2, len(self.contents.carriers)
        if too_long > 1 and 2 * too_long > others:
            what = (
                f"{too_long} of its {others} carriers would be longer than a kilometre: its length unit is declared as "
                f"{metres(self.it.mm):g} m, and another is meant"
            )
            self.it.notes.tell(ProblemKind.GAP, what, "so where its elements are, how long and how large isn't known",
                               "export it with the right unit")  # fmt: skip

    def _tell_part(self, element: Entity, other: Entity) -> None:
        name, wholes = other.Name or other.GlobalId, wholes_of(element, self.it.found)
        is_part = any(whole.id() == other.id() for whole in wholes)
        what = (
            f"it is a part of {name} and isn't" if is_part else f"it has no shape but parts, such as {name}, and isn't"
        )
        self.it.notes.tell(ProblemKind.ASSUMPTION, f"{what} counted beside {'it' if is_part else 'them'}", "both are carrier segments",
                           "model one of them", self.it.label(element))  # fmt: skip

    def _tell_left_out(self, ignored: dict[int, tuple[Entity, str]], lookalikes: Sequence[tuple[Entity, str]]) -> None:
        tell = self.it.notes.tell
        for element, reason in ignored.values():
            self.contents.left_out.append((self.it.place(element), f"wayroom.toml leaves it out: {reason}"))
            tell(ProblemKind.ASSUMPTION, f"it isn't read, as wayroom.toml says: {reason}", "so it is in no count",
                 "see [[ignore]] in wayroom.toml", self.it.label(element))  # fmt: skip
        for element, why in lookalikes:
            tell(ProblemKind.GAP, f"it may be a cable carrier, but isn't read: {why}", "a name alone isn't believed against that",
                 "give it a cable carrier class, or map it: [[classes]] in wayroom.toml", self.it.label(element))  # fmt: skip

    def _fitting(self, item: Classified, type_name: str) -> Fitting:
        it, element = self.it, item.element
        body, origin = it.body(element), it.origin(element)
        kind = item.kind if isinstance(item.kind, FittingKind) else FittingKind.UNKNOWN
        centre = origin if body is None or _meets_at(kind, body, origin) else body.centre_mm
        tell_kind(
            it, item, "which kind of fitting it is isn't said", "so whether cables can be drawn in there isn't known"
        )
        place = it.place(element)
        said = declared_of(it.project.fittings, (place.mark, place.name, place.tag, type_name))
        self.contents.used |= {("fittings", number) for number in said.entries}
        if said.is_contradicted:
            it.notes.tell(ProblemKind.GAP, CONTRADICTED, "so neither its partition nor its radius is declared",
                          "narrow their names in wayroom.toml", it.label(element))  # fmt: skip
        frame, radius = it.frame(element), None
        if kind is FittingKind.BEND and body is not None and frame is not None:
            radius = it.safely(element, lambda: bend_radius_mm(it.shapes, element, frame, it.mm), None)
        overruled = said.overruled_by(radius)
        if overruled:
            it.notes.fold(ProblemKind.ASSUMPTION, overruled, DIFFER,
                          "mend whichever of the two is wrong", it.label(element))  # fmt: skip
        radius = said.radius_mm if radius is None else radius
        return Fitting(it.key(element), place, kind, centre, body, said.partition, said.why, radius, type_name)

    def _middle(self, element: Entity) -> Vec | None:
        """The centre of the body's box; the placement's origin where the body isn't understood."""
        body: Body | None = self.it.body(element)
        return body.centre_mm if body is not None else self.it.origin(element)

    def _read_ports(self) -> None:
        it = self.it
        links: dict[int, list[str]] = {}
        for one, other in it.found.port_links:
            links.setdefault(one.id(), []).append(it.key(other))
            links.setdefault(other.id(), []).append(it.key(one))
        for port in all_of(self.file, "IfcDistributionPort"):
            owner = it.found.port_owner.get(port.id())
            if owner is None:
                continue
            point = it.origin(port)
            if point is not None:
                it.port_points.setdefault(owner.id(), []).append(point)
            key, linked = f"{it.name}|{it.key(port)}", links.get(port.id(), [])
            linked_keys = tuple(f"{it.name}|{other}" for other in sorted(linked))
            self.contents.ports.append(Port(key, it.key(owner), point, linked_keys))


def _meets_at(kind: FittingKind, body: Body, origin: Vec | None) -> bool:
    """Whether a fitting's branches meet at its origin, as those of a bend do; a box's meet in its middle, wherever its origin is."""
    if origin is None or kind is FittingKind.BOX or body.off_mm(origin) > OUTSIDE_MM:
        return False
    away = sub(origin, body.centre_mm)
    at_corner = all(
        abs(dot(away, axis)) >= AT_CORNER * half for axis, half in zip(body.axes, body.half_mm, strict=True)
    )
    return not at_corner

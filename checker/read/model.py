"""Reads one opened IFC model: carriers, fittings, equipment, ports."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from checker.model import (
    Carrier,
    CarrierKind,
    Equipment,
    Fitting,
    Laying,
    ModelCable,
    Place,
    Port,
    Problem,
    Vec,
)
from checker.model.geometry import Body, box_around, scale
from checker.read import names
from checker.read.axes import Axis, carrier_axis
from checker.read.classify import carriers_in, equipment_in, fittings_in
from checker.read.ifc_file import OpenModel
from checker.read.placements import Frame, Placements
from checker.read.project import Project
from checker.read.relations import Relations, all_of, material_name, property_values, read_relations, storey_and_space
from checker.read.sections import resolve_section
from checker.read.shapes import body_items, corner_points
from checker.units import MM_PER_M, metres

Entity = Any
T = TypeVar("T")
#: What reading a malformed shape ends in; anything else is a defect of ours.
MALFORMED = (TypeError, ValueError, AttributeError, RuntimeError, ArithmeticError, IndexError)
#: No carrier segment is longer than this.
LONGEST_MM = 1_000_000.0


@dataclass(slots=True)
class ModelContents:
    """What one model holds, keyed by GlobalId."""

    name: str
    ifc_project: str = ""
    project_name: str = ""
    carriers: list[Carrier] = field(default_factory=list)
    fittings: list[Fitting] = field(default_factory=list)
    equipment: list[Equipment] = field(default_factory=list)
    ports: list[Port] = field(default_factory=list)
    cables: list[ModelCable] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


class ModelReader:
    """Reads one model. Defects end in problems, never in exceptions."""

    def __init__(self, opened: OpenModel, project: Project) -> None:
        self.file = opened.file
        self.project = project
        self.found: Relations = read_relations(opened.file)
        self.placements = Placements()
        self.contents = ModelContents(opened.path.name, problems=list(opened.problems))
        self.mm = self._unit()
        self.port_points: dict[int, list[Vec]] = {}

    def read(self) -> ModelContents:
        """Reads everything."""
        projects = list(all_of(self.file, "IfcProject"))
        if projects:
            self.contents.ifc_project = str(projects[0].GlobalId or "")
            self.contents.project_name = str(projects[0].LongName or projects[0].Name or "")
        self._read_ports()
        carriers, fittings = carriers_in(self.file, self.found), fittings_in(self.file, self.found)
        for element, kind in carriers:
            self._read_carrier(element, kind)
        for element, fitting_kind in fittings:
            place = self._place(element)
            body = self._body_box(element)
            self.contents.fittings.append(Fitting(self._key(element), place, fitting_kind, self._origin(element), body))
        taken = {element.id() for element, _ in (*carriers, *fittings)}
        for element in equipment_in(self.file, taken):
            middle = self._middle(element)
            self.contents.equipment.append(Equipment(self._key(element), self._place(element), element.is_a(), middle))
        self._read_cables()
        self._tell_of_lookalikes(taken)
        return self.contents

    def _tell_of_lookalikes(self, taken: set[int]) -> None:
        """Flow segments that are no carriers by class or type, but by name. They aren't read, and that is said."""
        for element in all_of(self.file, "IfcFlowSegment"):
            words = f"{element.Name or ''} {getattr(element, 'ObjectType', None) or ''}".lower()
            if (
                element.id() in taken
                or element.is_a("IfcCableSegment")
                or not any(word in words for word in names.CARRIER_WORDS)
            ):
                continue
            if self.found.types.get(element.id()) is None and element.is_a() == "IfcFlowSegment":
                self._problem(
                    "by its name it is a cable carrier, but neither its class nor a type says so; it isn't read",
                    "a name alone isn't believed",
                    "give it a cable carrier segment type",
                    self._label(element),
                )

    def _safely(self, element: Entity, read: Callable[[], T], otherwise: T) -> T:
        """What a reader makes of an element's shape; where a malformed one defeats it, that is said and the element stays."""
        try:
            return read()
        except MALFORMED as error:
            self._problem(
                "its shape or placement can't be understood",
                f"{type(error).__name__}: {error}",
                "export the model again",
                self._label(element),
            )
            return otherwise

    def _problem(self, what: str, why: str, hint: str, where: str = "") -> None:
        self.contents.problems.append(Problem(where or self.contents.name, what, why, hint))

    def _unit(self) -> float:
        """Millimetres in one length unit of the file."""
        from ifcopenshell.util.unit import calculate_unit_scale

        try:
            scale_to_m = float(calculate_unit_scale(self.file))
        except Exception:  # noqa: BLE001 - a malformed unit assignment fails in many ways; all mean the same
            scale_to_m = 0.0
        if scale_to_m <= 0.0 or not list(all_of(self.file, "IfcUnitAssignment")):
            self._problem(
                "the length unit isn't declared; metres are assumed",
                "the model has no usable unit assignment",
                "declare the unit",
            )
            return MM_PER_M
        return scale_to_m * MM_PER_M

    @staticmethod
    def _key(element: Entity) -> str:
        return str(element.GlobalId or f"#{element.id()}")

    def _place(self, element: Entity) -> Place:
        storey, space = storey_and_space(element, self.found)
        return Place(
            global_id=str(element.GlobalId or ""),
            model=self.contents.name,
            tag=str(getattr(element, "Tag", None) or ""),
            name=str(element.Name or ""),
            storey=storey,
            space=space,
        )

    def _origin(self, element: Entity) -> Vec | None:
        frame = self._frame(element)
        return None if frame is None else scale(frame.origin, self.mm)

    def _frame(self, element: Entity) -> Frame | None:
        return self._safely(element, lambda: self.placements.world(element.ObjectPlacement), None)

    def _body_points(self, element: Entity) -> list[Vec]:
        frame = self._frame(element)
        if frame is None:
            return []

        def read() -> list[Vec]:
            points = [point for item, inner in body_items(element) for point in corner_points(item, inner)]
            return [scale(frame.place(point), self.mm) for point in points]

        return self._safely(element, read, [])

    def _body_box(self, element: Entity) -> Body | None:
        """The box around an element's body along its own axes."""
        points, frame = self._body_points(element), self._frame(element)
        return box_around(points, (frame.x, frame.y, frame.z)) if points and frame is not None else None

    def _middle(self, element: Entity) -> Vec | None:
        """The centre of the body's box; the placement's origin where the body isn't understood."""
        points = self._body_points(element)
        if not points:
            return self._origin(element)
        low = [min(point[i] for point in points) for i in range(3)]
        high = [max(point[i] for point in points) for i in range(3)]
        return ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0, (low[2] + high[2]) / 2.0)

    def _read_ports(self) -> None:
        links: dict[int, list[str]] = {}
        for one, other in self.found.port_links:
            links.setdefault(one.id(), []).append(self._key(other))
            links.setdefault(other.id(), []).append(self._key(one))
        for port in all_of(self.file, "IfcDistributionPort"):
            owner = self.found.port_owner.get(port.id())
            if owner is None:
                continue
            point = self._origin(port)
            if point is not None:
                self.port_points.setdefault(owner.id(), []).append(point)
            key, linked = f"{self.contents.name}|{self._key(port)}", links.get(port.id(), [])
            linked_keys = tuple(f"{self.contents.name}|{other}" for other in sorted(linked))
            self.contents.ports.append(Port(key, self._key(owner), point, linked_keys))

    def _read_carrier(self, element: Entity, kind: CarrierKind) -> None:
        frame = self._frame(element)
        axis = Axis()
        label = self._label(element)
        if frame is None:
            why = "it has none, or its chain has a loop or a kind that isn't known"
            self._problem("where it is isn't known: no usable placement", why, "export the model again", label)
        else:
            ports = self.port_points.get(element.id(), [])
            axis = self._safely(element, lambda: carrier_axis(body_items(element), frame, ports, self.mm), Axis())
        if axis.length_mm is not None and not axis.length_mm <= LONGEST_MM:
            what = f"it is {metres(axis.length_mm):g} m long, which no carrier is; where it runs is left out"
            self._problem(what, "its unit or placement is wrong", "mend the model", label)
            axis = Axis(sweep=axis.sweep)
        type_entity = self.found.types.get(element.id())
        type_name = str(getattr(type_entity, "Name", None) or getattr(element, "ObjectType", None) or "")
        nothing: dict[str, dict[str, Any]] = {}
        sets = self._safely(
            element, lambda: property_values(element, self.found, metres(self.mm), names.SIZE_SETS), nothing
        )
        spec = self.project.type_spec(type_name)
        sized = resolve_section(kind, sets, axis.sweep, spec, self.mm)
        for text in sized.disagreements:
            self._problem(text, "the model contradicts itself, or is wrong", "mend the model", label)
        self.contents.carriers.append(
            Carrier(
                key=self._key(element),
                place=self._place(element),
                kind=kind,
                section=sized.section,
                type_name=type_name,
                material=material_name(element, self.found),
                start_mm=axis.start_mm,
                end_mm=axis.end_mm,
                across=axis.across,
                length_mm=axis.length_mm,
                turn_deg=axis.turn_deg,
                laying=spec.laying if spec is not None else Laying(),
            )
        )

    def _read_cables(self) -> None:
        for element in all_of(self.file, "IfcCableSegment"):
            groups = self.found.groups.get(element.id(), [])
            marks = {str(group.Name) for group in groups if group.Name} | {
                str(text) for text in (element.Name, element.Tag) if text
            }
            self.contents.cables.append(ModelCable(self._place(element), tuple(sorted(marks))))

    def _label(self, element: Entity) -> str:
        return f"{self.contents.name}, {getattr(element, 'Tag', None) or element.Name or element.GlobalId}"

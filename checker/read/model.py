"""Reads one opened IFC model: carriers, fittings, equipment, ports."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from checker.model import (
    Carrier,
    CarrierKind,
    Equipment,
    Fitting,
    ModelCable,
    Place,
    Port,
    Problem,
    Vec,
)
from checker.model.geometry import distance, scale
from checker.read.axes import Axis, carrier_axis
from checker.read.classify import carriers_in, equipment_in, fittings_in
from checker.read.ifc_file import OpenModel
from checker.read.placements import Placements
from checker.read.project import Project
from checker.read.relations import Relations, all_of, material_name, property_values, read_relations, storey_and_space
from checker.read.sections import resolve_section
from checker.read.shapes import body_items, corner_points
from checker.units import MM_PER_M

Entity = Any


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
            points = self._body_points(element)
            size = max((distance(points[0], point) for point in points), default=None) if points else None
            self.contents.fittings.append(
                Fitting(self._key(element), self._place(element), fitting_kind, self._origin(element), size)
            )
        taken = {element.id() for element, _ in (*carriers, *fittings)}
        for element in equipment_in(self.file, taken):
            self.contents.equipment.append(
                Equipment(self._key(element), self._place(element), element.is_a(), self._middle(element))
            )
        self._read_cables()
        if self.placements.cyclic:
            self._problem(
                f"{len(self.placements.cyclic)} placements refer to themselves",
                "their chain has a loop",
                "export the model again",
            )
        return self.contents

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
        frame = self.placements.world(element.ObjectPlacement)
        return None if frame is None else scale(frame.origin, self.mm)

    def _body_points(self, element: Entity) -> list[Vec]:
        frame = self.placements.world(element.ObjectPlacement)
        if frame is None:
            return []
        points = [point for item, inner in body_items(element) for point in corner_points(item, inner)]
        return [scale(frame.place(point), self.mm) for point in points]

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
            self.contents.ports.append(Port(self._key(port), self._key(owner), point, tuple(links.get(port.id(), ()))))

    def _read_carrier(self, element: Entity, kind: CarrierKind) -> None:
        frame = self.placements.world(element.ObjectPlacement)
        axis = Axis()
        if frame is None:
            self._problem(
                "it has no placement that can be understood",
                "so it can't be located",
                "export the model again",
                self._label(element),
            )
        else:
            axis = carrier_axis(body_items(element), frame, self.port_points.get(element.id(), []), self.mm)
        type_entity = self.found.types.get(element.id())
        type_name = str(getattr(type_entity, "Name", None) or getattr(element, "ObjectType", None) or "")
        sets = property_values(element, self.found)
        sized = resolve_section(kind, sets, axis.sweep, self.project.type_spec(type_name), self.mm)
        for text in sized.disagreements:
            self._problem(text, "two places of the model say different things", "mend the model", self._label(element))
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
                length_mm=distance(axis.start_mm, axis.end_mm) if axis.start_mm and axis.end_mm else None,
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


def read_models(opened: Iterable[OpenModel], project: Project) -> list[ModelContents]:
    """Reads several models, each by itself."""
    return [ModelReader(model, project).read() for model in opened]

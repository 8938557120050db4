"""Cables that a model draws, each counted once: conductors that a cable nests or is made of are that cable."""

import math
from dataclasses import replace
from typing import Any

from checker.model import Condition, ModelCable, ProblemKind
from checker.read import names
from checker.read.cable_paths import cable_paths
from checker.read.context import Context
from checker.read.figures import other_units
from checker.read.length_units import PREFIXES
from checker.read.relations import all_of, many

Entity = Any
#: Outside diameters and conductor areas that a cable may have; what is beyond is in another unit, or a mistake.
DIAMETERS_MM, AREAS_MM2 = (1.0, 200.0), (0.05, 2500.0)
MOST_CORES = 500


def read_cables(it: Context, ignored: set[int]) -> list[ModelCable]:
    """The cables that the model draws; not the conductors in them, and none that will be gone or that the project doesn't read.

    Args:
        it: The model.
        ignored: Step ids of elements that aren't read.
    """
    cables = []
    for element in all_of(it.file, "IfcFlowSegment"):
        if (
            not is_cable(it, element)
            or whole_cable(it, element).id() != element.id()
            or not stays(it, element, ignored)
        ):
            continue
        parts = _parts(it, element)
        groups = [group for part in (element, *parts) for group in it.found.groups.get(part.id(), ())]
        marks = {str(group.Name) for group in groups if group.Name}
        marks |= {str(text) for text in (element.Name, element.Tag) if text}
        path, pieces = cable_paths(it, element, parts)
        cables.append(replace(sized_cable(it, element, tuple(sorted(marks))), path_mm=path, pieces_mm=pieces))
    return cables


def _parts(it: Context, element: Entity) -> list[Entity]:
    """What a cable is made of, and what that is made of: conductors, pieces. Each element is a part of one cable."""
    parts: list[Entity] = []
    left, seen = [element], {element.id()}
    while left:
        whole = left.pop()
        for part in it.found.children.get(whole.id(), ()):
            if part.id() not in seen and it.found.parents[part.id()].id() == whole.id() and is_cable(it, part):
                seen.add(part.id())
                parts.append(part)
                left.append(part)
    return parts


def is_cable(it: Context, element: Entity) -> bool:
    """Whether an element is a cable or a conductor; IFC2X3 has no class for them, but a type. Busbars are none."""
    kind = it.found.types.get(element.id())
    is_one = element.is_a("IfcCableSegment") or (kind is not None and kind.is_a("IfcCableSegmentType"))
    words = [getattr(entity, "PredefinedType", None) for entity in (element, kind) if entity is not None]
    return is_one and element.is_a("IfcFlowSegment") and "BUSBARSEGMENT" not in words


def stays(it: Context, element: Entity, ignored: set[int]) -> bool:
    """Whether a cable is to be read."""
    return element.id() not in ignored and it.condition(element) is not Condition.DEMOLISHED


def whole_cable(it: Context, element: Entity) -> Entity:
    """The cable that a conductor belongs to; a cable itself."""
    seen: set[int] = set()
    while (whole := it.found.parents.get(element.id())) is not None and is_cable(it, whole) and whole.id() not in seen:
        seen.add(element.id())
        element = whole
    return element


def sized_cable(it: Context, element: Entity, marks: tuple[str, ...]) -> ModelCable:
    """A cable with the sizes that its properties give, if a cable can have them; without its path."""
    area, cores = _number(it, element, names.CABLE_AREAS), _number(it, element, names.CABLE_CORES)
    area_mm2 = None if area is None else area * area_unit_mm2(it)
    return ModelCable(
        place=it.place(element),
        marks=marks,
        diameter_mm=_diameter_mm(it, element),
        csa_mm2=area_mm2 if area_mm2 is not None and AREAS_MM2[0] <= area_mm2 <= AREAS_MM2[1] else None,
        cores=int(cores) if cores is not None and cores == int(cores) and cores <= MOST_CORES else None,
        condition=it.condition(element),
    )


def _diameter_mm(it: Context, element: Entity) -> float | None:
    """Its outside diameter; one that no cable has is put right where exactly one other unit makes it one, and that is said."""
    value = _number(it, element, names.CABLE_DIAMETERS)
    if value is None or _fits(value * it.mm):
        return None if value is None else value * it.mm
    others = [value * unit for unit in other_units(it.mm) if _fits(value * unit)]
    told = f"read as {others[0]:g} mm" if len(others) == 1 else "left out"
    it.notes.tell(ProblemKind.CORRECTION, f"a cable {value * it.mm:g} mm thick can't be; its diameter is {told}",
                  "it is written in another unit, or a mistake", "mend the model", it.label(element))  # fmt: skip
    return others[0] if len(others) == 1 else None


def _fits(size_mm: float) -> bool:
    return DIAMETERS_MM[0] <= size_mm <= DIAMETERS_MM[1]


def area_unit_mm2(it: Context) -> float:
    """Square millimetres in the file's area unit, which may be another than its length unit squared; that one where none is declared."""
    assignments = [getattr(project, "UnitsInContext", None) for project in all_of(it.file, "IfcProject")]
    units = [unit for assignment in assignments if assignment is not None for unit in many(assignment.Units)]
    for unit in units:
        if getattr(unit, "UnitType", None) == "AREAUNIT" and unit.is_a("IfcSIUnit") and unit.Prefix in PREFIXES:
            return (
                1000.0 * PREFIXES[unit.Prefix]
            ) ** 2  # the prefix is of the metre, and squared with it (ISO 10303-41)
    return it.mm * it.mm


def _number(it: Context, element: Entity, known: tuple[str, ...]) -> float | None:
    values = (item.value for name in known for item in it.held(element) if item.name == name)
    return next((value for value in values if isinstance(value, float) and 0.0 < value < math.inf), None)

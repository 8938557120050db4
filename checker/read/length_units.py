"""Units of a file: millimetres in its length unit, radians in its angle unit. What isn't declared, or can't be, is said."""

import math
from collections.abc import Callable
from typing import Any

from checker.model import ProblemKind
from checker.read.relations import all_of, many
from checker.units import MM_PER_M

Entity = Any
Tell = Callable[[ProblemKind, str, str, str], None]
PREFIXES = {
    None: 1.0, "EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 1e2, "DECA": 1e1, "DECI": 1e-1,
    "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9,
}  # fmt: skip
#: Conversion-based units may stand on others; none needs more steps than this, and one that stands on itself would need many.
MOST_STEPS = 8
#: No length unit that anybody builds in is smaller or larger than this, in metres; what is would overflow in the arithmetic to come.
LEAST_M, MOST_M = 1e-12, 1e9
#: A degree in radians, and what an inverted factor would be.
DEGREE_RAD = math.pi / 180.0
NEAR = 1e-3
#: Metres in length units that are known by name, for files whose factor is missing.
NAMED_M = {"INCH": 0.0254, "FOOT": 0.3048, "YARD": 0.9144, "MILE": 1609.344}


def metres_in(unit: Entity) -> float | None:
    """Metres in a length unit; None where it is no length unit, or not one that is understood."""
    metres = _in_base(unit, "LENGTHUNIT")
    return metres if metres is not None and LEAST_M <= metres <= MOST_M else None


def _in_base(unit: Entity, kind: str) -> float | None:
    """How many of the SI's unit one of this kind is. A unit that stands on itself is not understood."""
    factor = 1.0
    for _ in range(MOST_STEPS):
        if getattr(unit, "UnitType", None) != kind:
            return None
        if unit.is_a("IfcSIUnit"):
            prefix = PREFIXES.get(unit.Prefix)
            return None if prefix is None else factor * prefix
        if not unit.is_a("IfcConversionBasedUnit"):
            return None
        conversion = unit.ConversionFactor
        value = getattr(getattr(conversion, "ValueComponent", None), "wrappedValue", None)
        if not isinstance(value, (int, float)) or not 0.0 < value < math.inf:
            named = NAMED_M.get(str(unit.Name or "").strip().upper())
            return named * factor if named is not None and kind == "LENGTHUNIT" else None
        factor *= float(value)
        unit = conversion.UnitComponent
    return None


def length_unit_mm(model: Entity, tell: Tell) -> float:
    """Millimetres in one length unit of the file; where it declares none, metres are assumed, and that is said."""
    scale = next((found for unit in _declared(model) if (found := metres_in(unit)) is not None), None)
    if scale is None:
        tell(
            ProblemKind.ASSUMPTION, "the length unit isn't declared; metres are assumed",
            "the model has no usable unit assignment", "declare the unit",
        )  # fmt: skip
        return MM_PER_M
    return scale * MM_PER_M


def angle_unit_rad(model: Entity, tell: Tell) -> float:
    """Radians in one angle unit of the file; an inverted factor is put right, and that is said."""
    units = [unit for unit in _declared(model) if getattr(unit, "UnitType", None) == "PLANEANGLEUNIT"]
    if not units:
        return 1.0
    factor = _in_base(units[0], "PLANEANGLEUNIT")
    if factor is not None and abs(factor * DEGREE_RAD - 1.0) < NEAR:
        tell(
            ProblemKind.CORRECTION, f"the file says that a degree is {factor:.4f} radians; it is taken for {DEGREE_RAD:.6f}",
            "the factor is the wrong way round", "mend the exporter's units",
        )  # fmt: skip
        return DEGREE_RAD
    if factor is None:
        tell(
            ProblemKind.ASSUMPTION,
            "the angle unit can't be read; radians are assumed",
            "its definition is broken",
            "mend the unit",
        )
        return 1.0
    return factor


def _declared(model: Entity) -> list[Entity]:
    """Units of the project; those of any assignment where no project names one."""
    assignments = [
        project.UnitsInContext for project in all_of(model, "IfcProject") if getattr(project, "UnitsInContext", None)
    ]
    return [unit for found in assignments or all_of(model, "IfcUnitAssignment") for unit in many(found.Units)]

"""What property sets and element quantities hold: values of types first, then of occurrences, which hold against them.

Sets are decoded once: types share theirs among thousands. Nested ones are followed so far and no further, so that none can go round.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from checker.read.length_units import metres_in
from checker.read.relations import Relations, many

Entity = Any
Value = float | str | bool
#: Complex properties and quantities are followed so deep.
DEEPEST = 4
#: More properties than this in one set are a mistake or worse; the others are left out.
MOST_PROPERTIES = 5000
#: What ``--annotate`` writes on carriers. It is what was found, and nothing that a model says: it is never read.
OURS = "Wayroom_Check"
#: What holds others, and where.
NESTED = {"IfcComplexProperty": "HasProperties", "IfcPhysicalComplexQuantity": "HasQuantities"}
HOLDING = ("IfcQuantity", "IfcProperty")


@dataclass(frozen=True, slots=True)
class Held:
    """A value that a set holds. Lengths are in the file's unit, those with a unit of their own too.

    ``is_quantity``: it stands in an element quantity. ``is_length``: the file says that it is a length, so that its unit is the file's.
    ``of_type``: it is the type's, so that one of the element's own is no contradiction.
    """

    set_name: str
    name: str
    value: Value
    is_quantity: bool = False
    is_length: bool = False
    of_type: bool = False


class Properties:
    """Values of elements.

    Args:
        found: The model's relationships.
        metres: In one length unit of the file.
        wanted: Whether a property of a set, by both names, will be asked for; others aren't kept.
    """

    def __init__(self, found: Relations, metres: float, wanted: Callable[[str, str], bool] = lambda *_: True) -> None:
        self._found = found
        self._metres = metres
        self._wanted = wanted
        self._decoded: dict[tuple[int, bool], tuple[Held, ...]] = {}

    def of(self, element: Entity) -> tuple[Held, ...]:
        """All values of an element, those that hold first: its own in the reverse order of the file, then its type's."""
        kind = self._found.types.get(element.id())
        own = [self._set(definition, of_type=False) for definition in self._found.property_sets.get(element.id(), ())]
        shared = [self._set(definition, of_type=True) for definition in many(getattr(kind, "HasPropertySets", None))]
        return tuple(held for values in (*reversed(own), *reversed(shared)) for held in values)

    def _set(self, definition: Entity, *, of_type: bool) -> tuple[Held, ...]:
        key = (definition.id(), of_type)
        if key not in self._decoded:
            values = self._decode(definition)
            self._decoded[key] = tuple(replace(held, of_type=True) for held in values) if of_type else tuple(values)
        return self._decoded[key]

    def _decode(self, definition: Entity) -> Iterator[Held]:
        what = definition.is_a()
        if what not in {"IfcPropertySet", "IfcElementQuantity"}:
            return
        name = str(definition.Name or "")
        if name == OURS:
            return
        inside = definition.HasProperties if what == "IfcPropertySet" else definition.Quantities
        items = [(item, "", 0) for item in reversed(list(many(inside))[:MOST_PROPERTIES])]
        left = MOST_PROPERTIES
        while items and left:
            left -= 1
            item, before, depth = items.pop()
            what = item.is_a() if hasattr(item, "is_a") else ""
            if what in NESTED:
                parts = list(many(getattr(item, NESTED[what])))[:left] if depth < DEEPEST else []
                items.extend((part, f"{before}{item[0] or ''}.", depth + 1) for part in reversed(parts))
                continue
            label = f"{before}{item[0] or ''}" if what.startswith(HOLDING) else ""
            held = self._held(item, what, name, label) if label and self._wanted(name, label) else None
            if held is not None:
                yield held

    def _held(self, item: Entity, what: str, set_name: str, name: str) -> Held | None:
        if what.startswith("IfcQuantity"):
            value = item[3]
            if not isinstance(value, (int, float)):
                return None
            is_length = what == "IfcQuantityLength"
            return Held(set_name, name, self._scaled(item[2], float(value)), is_quantity=True, is_length=is_length)
        wrapped, unit = _wrapped(item, what)
        if wrapped is None:
            return None
        value = getattr(wrapped, "wrappedValue", None) if hasattr(wrapped, "is_a") else wrapped
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            is_length = hasattr(wrapped, "is_a") and "LengthMeasure" in wrapped.is_a()
            has_unit = unit is not None and metres_in(unit) is not None
            return Held(set_name, name, self._scaled(unit, float(value)), is_length=is_length or has_unit)
        if isinstance(value, bool):
            return Held(set_name, name, value)
        text = str(value).strip()
        return Held(set_name, name, text) if text else None

    def _scaled(self, unit: Entity, value: float) -> float:
        """A length with a unit of its own, in the file's."""
        own = metres_in(unit) if unit is not None else None
        return value if own is None else value * own / self._metres


def _wrapped(item: Entity, what: str) -> tuple[Any, Entity]:
    """The value of a property and its unit: one, several of an enumeration or a list joined, a bound where both bounds are alike."""
    if what == "IfcPropertySingleValue":
        return item[2], item[3]
    if what in {"IfcPropertyEnumeratedValue", "IfcPropertyListValue"}:
        values = list(many(item[2]))
        unit = item[3] if what == "IfcPropertyListValue" else getattr(item[3], "Unit", None)
        if len(values) == 1:
            return values[0], unit
        return (", ".join(str(getattr(value, "wrappedValue", value)) for value in values) or None), None
    if what == "IfcPropertyBoundedValue":
        upper, lower, point = item.UpperBoundValue, item.LowerBoundValue, getattr(item, "SetPointValue", None)
        if point is not None:
            return point, item.Unit
        ends = {getattr(bound, "wrappedValue", None) for bound in (upper, lower)}
        return (upper if len(ends) == 1 else None), item.Unit
    return None, None

"""What property sets and element quantities hold: values of types first, then of occurrences, which hold against them.

Sets are decoded once: types share theirs among thousands. Nested ones are followed so far and no further, so that none can go round.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from checker.read.length_units import metres_in
from checker.read.relations import Relations, many

Entity = Any
Value = float | str | bool
#: Complex properties and quantities are followed so deep.
DEEPEST = 4
#: More properties than this in one set are a mistake or worse; the others are left out.
MOST_PROPERTIES = 5000


@dataclass(frozen=True, slots=True)
class Held:
    """A value that a set holds. Lengths are in the file's unit, those with a unit of their own too.

    ``is_quantity``: it stands in an element quantity. ``is_length``: the file says that it is a length, so that its unit is the file's.
    """

    set_name: str
    name: str
    value: Value
    is_quantity: bool = False
    is_length: bool = False


class Properties:
    """Values of elements.

    Args:
        found: The model's relationships.
        metres: In one length unit of the file.
    """

    def __init__(self, found: Relations, metres: float) -> None:
        self._found = found
        self._metres = metres
        self._decoded: dict[int, tuple[Held, ...]] = {}

    def of(self, element: Entity) -> tuple[Held, ...]:
        """All values of an element, those that hold first: its own in the reverse order of the file, then its type's."""
        kind = self._found.types.get(element.id())
        own = [self._set(definition) for definition in self._found.property_sets.get(element.id(), ())]
        shared = [self._set(definition) for definition in many(getattr(kind, "HasPropertySets", None))]
        return tuple(held for values in (*reversed(own), *reversed(shared)) for held in values)

    def _set(self, definition: Entity) -> tuple[Held, ...]:
        key = definition.id()
        if key not in self._decoded:
            self._decoded[key] = tuple(self._decode(definition))
        return self._decoded[key]

    def _decode(self, definition: Entity) -> Iterator[Held]:
        name = str(getattr(definition, "Name", None) or "")
        if definition.is_a("IfcPropertySet"):
            items = [(item, "", 0) for item in many(definition.HasProperties)]
        elif definition.is_a("IfcElementQuantity"):
            items = [(item, "", 0) for item in many(definition.Quantities)]
        else:
            return
        left = MOST_PROPERTIES
        while items and left:
            left -= 1
            item, before, depth = items.pop(0)
            label = f"{before}{getattr(item, 'Name', None) or ''}"
            inner = getattr(item, "HasProperties", None) or getattr(item, "HasQuantities", None)
            if inner and depth < DEEPEST:
                items[:0] = [(part, f"{label}.", depth + 1) for part in many(inner)]
                continue
            held = self._held(item, name, label)
            if held is not None:
                yield held

    def _held(self, item: Entity, set_name: str, name: str) -> Held | None:
        if item.is_a("IfcPhysicalSimpleQuantity"):
            value, is_length = item[3], item.is_a("IfcQuantityLength")
            if value is None:
                return None
            return Held(set_name, name, self._scaled(item, float(value)), is_quantity=True, is_length=is_length)
        wrapped = _wrapped(item)
        if wrapped is None:
            return None
        value = wrapped.wrappedValue if hasattr(wrapped, "wrappedValue") else wrapped
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            is_length = hasattr(wrapped, "is_a") and "LengthMeasure" in wrapped.is_a()
            return Held(set_name, name, self._scaled(item, float(value)), is_length=is_length or _has_length_unit(item))
        if isinstance(value, bool):
            return Held(set_name, name, value)
        text = str(value).strip()
        return Held(set_name, name, text) if text else None

    def _scaled(self, item: Entity, value: float) -> float:
        """A length with a unit of its own, in the file's."""
        own = metres_in(item.Unit) if getattr(item, "Unit", None) is not None else None
        return value if own is None else value * own / self._metres


def _has_length_unit(item: Entity) -> bool:
    return getattr(item, "Unit", None) is not None and metres_in(item.Unit) is not None


def _wrapped(item: Entity) -> Any:
    """The value of a property: the one, the first of an enumeration, several of a list joined, a bound where both bounds are the same."""
    if item.is_a("IfcPropertySingleValue"):
        return item.NominalValue
    if item.is_a("IfcPropertyEnumeratedValue"):
        return next(many(item.EnumerationValues), None)
    if item.is_a("IfcPropertyListValue"):
        values = [str(value.wrappedValue) for value in many(item.ListValues)]
        return ", ".join(values) if values else None
    if item.is_a("IfcPropertyBoundedValue"):
        upper, lower = item.UpperBoundValue, item.LowerBoundValue
        point = getattr(item, "SetPointValue", None)
        if point is not None:
            return point
        return upper if upper is not None and lower is not None and upper.wrappedValue == lower.wrappedValue else None
    return None

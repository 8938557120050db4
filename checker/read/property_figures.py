"""Figures that property sets and element quantities give: standard ones, and those that the project maps."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from checker.model import ProblemKind
from checker.model.texts import quoted
from checker.read import names
from checker.read.figures import Figures, Said, usual
from checker.read.mapping import UNITS_MM, PropertySpec, Quantity
from checker.read.properties import Held
from checker.read.size_words import Measure, measure_of, pair_of, round_of

Q = Quantity
MOST_TOLD = 4


def from_properties(figures: Figures, held: Sequence[Held], mapped: Mapping[Quantity, Sequence[PropertySpec]]) -> None:
    """Standard properties, then those that the project maps, then element quantities."""
    sized = [item for item in held if item.set_name in names.SIZE_SETS and not item.is_quantity]
    for quantity, name in names.SIZE_PROPERTIES.items():
        items = [item for item in sized if item.name == name] if quantity is not Q.COMPARTMENTS else []
        if items:
            _take_value(figures, quantity, items[0], f"property {name}", None)
            _tell_twice(figures, name, items)
    figures.stage += 1
    for quantity, specs in mapped.items():
        found = list(matching(held, specs)) if quantity in names.POSSIBLE_MM else []
        if found:
            spec, item = found[0]
            _take_value(figures, quantity, item, f"property {item.name}, by wayroom.toml", spec.unit)
            _tell_several(figures, quantity, [item for _, item in found])
    figures.stage += 1
    for quantity, known in names.SIZE_QUANTITIES.items():
        measured = [item for item in held if item.is_quantity and item.is_length and item.name in known]
        if measured:
            _take_value(figures, quantity, measured[0], f"quantity {measured[0].name}", None)


def _tell_twice(figures: Figures, name: str, items: Sequence[Held]) -> None:
    """Says where an element has a property twice with two values, or its type has. One of its own over its type's is no contradiction."""
    values = {item.value for item in items if item.of_type == items[0].of_type}
    if len(values) > 1:
        told = " and ".join(sorted(f"{value:g}" if isinstance(value, float) else str(value)[:40] for value in values))
        figures.said.append(Said(ProblemKind.ASSUMPTION, f"it has property {name} several times, with {told}; the one that is last in the "
                                 "file is used", "its property sets contradict each other", "leave one of them"))  # fmt: skip


def _tell_several(figures: Figures, quantity: Quantity, items: Sequence[Held]) -> None:
    """Says where the project's patterns fit several properties with different values. Its own over its type's is no contradiction."""
    alike = [item for item in items if item.of_type == items[0].of_type]
    if len({item.value for item in alike}) > 1:
        told = " and ".join(dict.fromkeys(f"{item.set_name}.{item.name} = {item.value}" for item in alike[:MOST_TOLD]))
        what = f"several properties fit the {quantity.value} in wayroom.toml: {told}; the first is used"
        figures.said.append(
            Said(ProblemKind.ASSUMPTION, what, "they contradict each other", "name the set or property more closely")
        )


def matching(held: Sequence[Held], specs: Iterable[PropertySpec]) -> Iterator[tuple[PropertySpec, Held]]:
    """Values that entries of the project file speak of, in the order of the file."""
    for spec in specs:
        for item in held:
            if spec.matches(item.set_name, item.name):
                yield spec, item


def _take_value(figures: Figures, quantity: Quantity, item: Held, source: str, unit: str | None) -> None:
    """A property's number, or the number in its text: "300 mm", or the width or height in "300 x 100"."""
    unit_mm = None if unit is None else UNITS_MM[unit]
    if isinstance(item.value, bool):
        return
    if isinstance(item.value, float):
        figures.take(quantity, item.value, source, unit_mm=_unit_mm(figures, quantity, item, source, unit_mm))
        return
    measure = _measure_in(str(item.value), quantity, is_broad=figures.is_broad)
    if measure is None:
        figures.said.append(Said(ProblemKind.GAP, f"{source}: {quoted(str(item.value))} isn't a size", "so it isn't used",
                                 "write a number, or a number with its unit"))  # fmt: skip
        return
    written_mm = UNITS_MM["in"] if measure.is_fraction else unit_mm  # a fraction is of an inch, as trade sizes are
    figures.take(
        quantity, measure.value, source, unit_mm=measure.unit_mm if measure.unit_mm is not None else written_mm
    )


def _unit_mm(figures: Figures, quantity: Quantity, item: Held, source: str, mapped_mm: float | None) -> float | None:
    """The unit of a number: the mapped one, unless the file says that it is a length, which is in the file's; None: the file's."""
    if mapped_mm is None or not item.is_length or not isinstance(item.value, float):
        return mapped_mm
    in_file, in_mapped = item.value * figures.file_mm, item.value * mapped_mm
    if abs(in_file - in_mapped) > 1e-3 * in_file and usual(figures.kind, quantity, in_mapped):
        if not usual(figures.kind, quantity, in_file):
            return mapped_mm
        figures.said.append(Said(ProblemKind.ASSUMPTION, f"{source}: it is {in_file:g} mm in the file's unit, which is used; "
                                 f"{in_mapped:g} mm in the one of wayroom.toml", "the file says that it is a length in its own unit",
                                 "leave the unit out of wayroom.toml, or mend the model"))  # fmt: skip
    return None


def _measure_in(text: str, quantity: Quantity, *, is_broad: bool) -> Measure | None:
    alone = measure_of(text)
    if alone is not None:
        return alone
    pair = pair_of(text, is_broad=is_broad)
    if pair is not None and quantity in {Q.WIDTH, Q.HEIGHT}:
        return pair[0] if quantity is Q.WIDTH else pair[1]
    return round_of(text) if quantity in {Q.DIAMETER, Q.BORE} else None

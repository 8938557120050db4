"""How a carrier is divided: by the project file or a property; else as its body shows, or as its name says."""

import math
import re
from collections.abc import Sequence

from checker.model import Confidence, Lane, ProblemKind
from checker.model.texts import quoted
from checker.read import names
from checker.read.figures import Figures, Said
from checker.read.mapping import PropertySpec, Quantity
from checker.read.project import MOST_COMPARTMENTS, TypeSpec
from checker.read.properties import Held, Value
from checker.read.property_figures import matching
from checker.read.shapes import Sweep
from checker.read.size_words import MOST_LETTERS

#: "3 compartment", "2-compartment"; "3-zügig".
NAMED = re.compile(r"(?<![\d.,x×/])(?P<count>[2-9])[ -]?(?:compartments?\b|comp\b|zügig|fächer\b)", re.IGNORECASE)


def lanes_of(
    spec: TypeSpec | None,
    held: Sequence[Held],
    mapped: Sequence[PropertySpec],
    sweep: Sweep | None,
    texts: Sequence[str],
    figures: Figures,
) -> tuple[tuple[Lane, ...], str, Confidence]:
    """The lanes, where they are from, and how sure they are; no lanes where how it is divided can't be read.

    Args:
        spec: What the project file says of its type.
        held: Its property values, those that hold first.
        mapped: The project's entries for a number of compartments.
        sweep: Its body's sweep.
        texts: Its names.
        figures: Of the carrier; what is to be said is added.
    """
    if spec is not None and spec.compartments:
        lanes = (
            Lane(number, lane.width_mm, None if lane.services is None else frozenset(lane.services))
            for number, lane in enumerate(spec.compartments, start=1)
        )
        return tuple(lanes), "compartments: project file", Confidence.HIGH
    if spec is not None and spec.count is not None:
        return _equal(spec.count), "compartments: project file", Confidence.HIGH
    name = names.SIZE_PROPERTIES[Quantity.COMPARTMENTS]
    given = [
        (item.value, f"property {name}") for item in held if item.name == name and item.set_name in names.SIZE_SETS
    ]
    given += [(item.value, f"property {item.name}, by wayroom.toml") for _, item in matching(held, mapped)]
    if given:
        value, source = given[0]
        lanes_read = _lanes_of(value)
        if not lanes_read:
            figures.said.append(Said(ProblemKind.GAP, f"the number of compartments is {value!r}, which can't be; its inside isn't known",
                                     "it is out of range, or no number", "mend the model"))  # fmt: skip
        return lanes_read, f"compartments: {source}", Confidence.HIGH
    if sweep is not None and sweep.lanes > 1:
        if sweep.is_even:
            return _equal(sweep.lanes), "compartments: as its body shows", Confidence.MEDIUM
        what = f"its body shows {sweep.lanes} compartments of different widths, and nothing numbers them; its inside isn't known"
        figures.said.append(Said(ProblemKind.GAP, what, "a body doesn't say which of them is the first",
                                 "give their widths as compartments of its type in wayroom.toml"))  # fmt: skip
        return (), "", Confidence.HIGH
    for text in texts:
        found = NAMED.search(text[:MOST_LETTERS])
        if found is not None:
            return _equal(int(found["count"])), f"compartments: name {quoted(text)}", Confidence.LOW
    return (Lane(1),), "", Confidence.HIGH


def _equal(count: int) -> tuple[Lane, ...]:
    return tuple(Lane(number) for number in range(1, count + 1))


def _lanes_of(value: Value) -> tuple[Lane, ...]:
    """Lanes of a count, or of a list of widths in mm ("92/46/80.6")."""
    if isinstance(value, str):
        numbers = re.split(r"\s*[/;+|]\s*", value.strip())
        if not all(re.fullmatch(r"\d{1,4}([.,]\d{1,3})?", text) for text in numbers):
            return ()
        widths = [float(text.replace(",", ".")) for text in numbers]
        if len(widths) > 1:
            return (
                tuple(Lane(n, width) for n, width in enumerate(widths, start=1)) if all(w > 0 for w in widths) else ()
            )
        value = widths[0]
    if (
        isinstance(value, bool)
        or not math.isfinite(value)
        or value != int(value)
        or not 1 <= value <= MOST_COMPARTMENTS
    ):
        return ()
    return _equal(int(value))

"""Figures for a section from all that may tell one, each with its source, in the order in which they are believed.

A figure that can't be in its declared unit is put right where exactly one other unit makes it one that carriers have; else it is left out.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from checker.model import CarrierKind, Confidence, ProblemKind
from checker.model.texts import quoted
from checker.read import names
from checker.read.mapping import UNITS_MM, Quantity
from checker.read.project import TypeSpec
from checker.read.shapes import Sweep
from checker.read.size_words import Measure, pair_of, round_of, standing_alone
from checker.read.words import is_word
from checker.units import MM_PER_M

Q = Quantity
#: Decimals of a millimetre that are kept.
PLACES = 6
#: The source of a usable depth that is drawn.
DRAWN_DEPTH = "side height less base, profile"
SECTION = (Q.WIDTH, Q.HEIGHT, Q.DIAMETER, Q.BORE)


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure in mm, where it comes from, and how sure it is. Those of an earlier ``stage`` are believed first."""

    value_mm: float
    source: str
    confidence: Confidence = Confidence.HIGH
    stage: int = 0


@dataclass(frozen=True, slots=True)
class Said:
    """Something to be said about an element's figures; ``of_type``: once for all of whom the same is to be said."""

    kind: ProblemKind
    what: str
    why: str
    hint: str
    of_type: bool = False


@dataclass(slots=True)
class Figures:
    """Collects figures of one carrier.

    Args:
        kind: What sort of carrier it is.
        file_mm: Millimetres in one unit of the file.
    """

    kind: CarrierKind
    file_mm: float
    by: dict[Quantity, list[Figure]] = field(default_factory=dict)
    said: list[Said] = field(default_factory=list)
    stage: int = 0

    @property
    def is_broad(self) -> bool:
        """Whether it is broader than high, as trays and ladders are."""
        return self.kind in {CarrierKind.TRAY, CarrierKind.LADDER}

    def first(self, quantity: Quantity) -> Figure | None:
        """The figure that is believed."""
        return next(iter(self.by.get(quantity, ())), None)

    def add(self, quantity: Quantity, figure: Figure) -> None:
        """Adds one that is less believed than those before it."""
        # a millionth of a millimetre is the arithmetic's, and would keep a size from being found in a table
        figure = replace(figure, value_mm=round(figure.value_mm, PLACES), stage=self.stage)
        self.by.setdefault(quantity, []).append(figure)

    def take(
        self,
        quantity: Quantity,
        value: float,
        source: str,
        confidence: Confidence = Confidence.HIGH,
        unit_mm: float | None = None,
    ) -> None:
        """Adds a number of the file, if a carrier can have it.

        Args:
            quantity: What it is.
            value: As it is written.
            source: Where.
            confidence: How sure it is if it needs no correction.
            unit_mm: Millimetres in its unit where that is said beyond doubt; None: it is the file's.
        """
        size = value * (self.file_mm if unit_mm is None else unit_mm)
        if usual(self.kind, quantity, size):
            self.add(quantity, Figure(size, source, confidence))
            return
        others = [] if unit_mm is not None else self._otherwise(quantity, value)
        if len(others) == 1:
            self.add(quantity, Figure(others[0], f"{source}, corrected", Confidence.MEDIUM))
            self._say(
                f"{source}: {value:g} would be {size:g} mm in the file's unit, which is hardly meant; it is read as {others[0]:g} mm",
                "it is written in another unit",
            )
        elif possible(quantity, size):
            # carriers of its kind hardly have it: it may be a mistake, or no section at all, and is no surer than a guess
            self.add(quantity, Figure(size, source, Confidence.LOW if quantity in SECTION else confidence))
        elif value != 0.0:
            self._say(f"{source}: {size:g} mm is no {quantity.value.replace('_', ' ')} of a carrier; it is left out",
                      "it is in another unit, or a mistake")  # fmt: skip

    def _otherwise(self, quantity: Quantity, value: float) -> list[float]:
        """What a number would be in other units that its writer may have meant, if usual: of SI or of inches and feet, as the file."""
        sizes = (value * unit for unit in other_units(self.file_mm))
        return sorted({size for size in sizes if usual(self.kind, quantity, size)})

    def _say(self, what: str, why: str) -> None:
        self.said.append(Said(ProblemKind.CORRECTION, what, why, "mend the model"))


def other_units(file_mm: float) -> tuple[float, ...]:
    """Units that a writer may have meant instead of the file's: a file in inches or feet may hold either, or millimetres."""
    imperial = any(abs(file_mm - UNITS_MM[name]) < 1e-3 * UNITS_MM[name] for name in ("in", "ft"))
    units = (UNITS_MM["in"], UNITS_MM["ft"], 1.0) if imperial else (1.0, MM_PER_M)
    return tuple(unit for unit in units if abs(unit - file_mm) > 1e-3 * unit)


def possible(quantity: Quantity, size_mm: float) -> bool:
    """Whether any carrier has such a size."""
    low, high = names.POSSIBLE_MM[quantity]
    return low <= size_mm <= high


def usual(kind: CarrierKind, quantity: Quantity, size_mm: float) -> bool:
    """Whether carriers of a kind commonly have such a size."""
    span = names.USUAL_MM.get((kind, quantity)) or names.USUAL_OF_ANY_MM.get(quantity) or names.POSSIBLE_MM[quantity]
    return span[0] <= size_mm <= span[1]


def unusual(kind: CarrierKind, quantity: Quantity, figure: Figure) -> Said | None:
    """What is to be said of a size that is used though carriers of its kind hardly have it."""
    if quantity not in SECTION or usual(kind, quantity, figure.value_mm):
        return None
    low, high = names.USUAL_MM.get((kind, quantity), names.POSSIBLE_MM[quantity])
    what = "carrier" if kind is CarrierKind.UNKNOWN else kind.value
    told = (
        f"{figure.source}: {figure.value_mm:g} mm is an unusual {quantity.value} of a {what}; it is used as it stands"
    )
    why = f"{low:g} to {high:g} mm is usual"
    return Said(ProblemKind.ASSUMPTION, told, why, "check it, and mend the model if it is wrong")


def from_shape(figures: Figures, sweep: Sweep | None) -> None:
    """Sizes of the body, in the file's unit. They aren't corrected: where the shape lies is in the same unit."""
    if sweep is None:
        return
    source, confidence = _shape_source(sweep)
    given = ((Q.WIDTH, sweep.width), (Q.HEIGHT, sweep.height), (Q.DIAMETER, sweep.diameter))
    for quantity, value in given:
        if value:
            figures.take(quantity, value, source, confidence, unit_mm=figures.file_mm)
    inside = min((value for _, value in given if value), default=0.0) / 2.0
    if sweep.wall and 0.0 < sweep.wall < inside:
        figures.add(Q.WALL, Figure(sweep.wall * figures.file_mm, source, confidence))
    if figures.is_broad and sweep.base and sweep.height and 0.0 < sweep.base < inside:
        figures.add(
            Q.USABLE_DEPTH,
            Figure((sweep.height - sweep.base) * figures.file_mm, DRAWN_DEPTH, confidence),
        )


def _shape_source(sweep: Sweep) -> tuple[str, Confidence]:
    if sweep.profile == "bounding box":
        return "bounding box", Confidence.LOW
    if sweep.profile == "body":
        return "extents of its body", Confidence.MEDIUM
    if sweep.turned:
        return "plan of its body", Confidence.MEDIUM
    return "profile", Confidence.HIGH


def from_defaults(figures: Figures, spec: TypeSpec | None) -> None:
    """What the project file says of the type. Its wall, divider and depth are told beside it; see ``sections``."""
    if spec is not None:
        given = ((Q.WIDTH, spec.width_mm), (Q.HEIGHT, spec.height_mm), (Q.DIAMETER, spec.diameter_mm), (Q.BORE, spec.bore_mm),
                 (Q.WALL, spec.wall_mm), (Q.DIVIDER, spec.divider_mm))  # fmt: skip
        for quantity, value in given:
            if value is not None:
                figures.add(
                    quantity,
                    Figure(value, "project file", Confidence.MEDIUM if quantity in SECTION else Confidence.HIGH),
                )


def from_names(figures: Figures, texts: Iterable[str]) -> None:
    """Sizes in names, the most particular name first: two with a cross between them, or one after a sign for a diameter."""
    for text in texts:
        pair = pair_of(text, is_broad=figures.is_broad)
        if pair is not None:
            sizes = _in_one_unit(figures, pair)
            if sizes is not None:
                figures.add(Q.WIDTH, Figure(sizes[0], f"name {quoted(text)}", Confidence.LOW))
                figures.add(Q.HEIGHT, Figure(sizes[1], f"name {quoted(text)}", Confidence.LOW))
                return
        if figures.kind not in {CarrierKind.CONDUIT, CarrierKind.UNKNOWN}:
            continue  # no other is round
        measure = round_of(text)
        if measure is None and figures.kind is CarrierKind.CONDUIT:
            measure = standing_alone(text, lambda words: is_word("carrier", words) is not None)
        if measure is not None and not measure.is_fraction and measure.unit_mm != UNITS_MM["in"]:
            size = measure.value * (measure.unit_mm or 1.0)
            if usual(figures.kind, Q.DIAMETER, size):
                figures.add(Q.DIAMETER, Figure(size, f"name {quoted(text)}", Confidence.LOW))
                return


def _in_one_unit(figures: Figures, pair: tuple[Measure, Measure]) -> tuple[float, float] | None:
    """Both numbers of a name in mm: in the unit that is written, else in the only one in which both are usual."""

    def fits(width: float, height: float) -> bool:
        return usual(figures.kind, Q.WIDTH, width) and usual(figures.kind, Q.HEIGHT, height)

    if pair[0].unit_mm is not None and pair[1].unit_mm is not None:
        width, height = pair[0].value * pair[0].unit_mm, pair[1].value * pair[1].unit_mm
        return (width, height) if fits(width, height) else None
    units = dict.fromkeys((1.0, *(unit for unit in other_units(figures.file_mm) if unit < MM_PER_M), figures.file_mm))
    found = [(pair[0].value * u, pair[1].value * u) for u in units if fits(pair[0].value * u, pair[1].value * u)]
    return found[0] if len(found) == 1 else None

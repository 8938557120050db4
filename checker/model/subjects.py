"""What rules are asked about. A rule names the subject it wants in its signature."""

from dataclasses import dataclass, replace

from checker.model.asked import About
from checker.model.circuits import Service
from checker.model.installation import Carrier, Fitting, Partition
from checker.model.provenance import Confidence
from checker.model.texts import listed, natural
from checker.model.tolerance import Tolerance
from checker.units import circle_area_mm2, stadium_area_mm2

#: What a number of cables that isn't known may come to.
MANY = 1000


@dataclass(frozen=True, slots=True)
class PlacedCable:
    """Cables of one row of one circuit, as they lie in one compartment.

    ``area_mm2``, ``diameter_mm`` and, of a flat one, ``width_mm`` and ``height_mm`` are of one cable; ``count`` is of all sets and passes
    together. None: not known. ``planning``: its size is a planning value. ``is_several``: it stands for cables of a known area, whose
    number isn't known. ``area_least_mm2`` and the sizes named so: the other end, where a size is only known to lie in a range; None: it
    is one figure. ``mass_kg_per_km`` is of one cable; ``conductor`` is its metal as the schedule or the table calls it, or empty.
    ``tolerance``: between what its standard lets its size be, where that is known; rules don't ask for it.
    """

    circuit: str
    service: Service | None
    key: str
    count: int | None
    area_mm2: float | None
    diameter_mm: float | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    csa_mm2: float | None = None
    awg_kcmil: str = ""
    cores: int | None = None
    stranded: bool | None = None
    rated_voltage_v: float | None = None
    voltage_v: float | None = None
    planning: bool = False
    is_several: bool = False
    mass_kg_per_km: float | None = None
    conductor: str = ""
    area_least_mm2: float | None = None
    diameter_least_mm: float | None = None
    width_least_mm: float | None = None
    height_least_mm: float | None = None
    tolerance: Tolerance | None = None

    @property
    def is_ranged(self) -> bool:
        """Whether its size is only known to lie in a range."""
        return self.area_least_mm2 is not None

    @property
    def range_words(self) -> str:
        """The range of its size; empty where it is one figure."""
        sizes = (
            (self.diameter_least_mm, self.diameter_mm),
            (self.width_least_mm, self.width_mm),
            (self.height_least_mm, self.height_mm),
        )
        spans = [
            f"{most:g}" if least in {None, most} else f"{least:g} to {most:g}"
            for least, most in sizes
            if most is not None
        ]
        return f"{' × '.join(spans)} mm" if self.is_ranged else ""

    def at_least(self) -> "PlacedCable":
        """The same at the lower end of its size. It still says that this is a range."""
        if not self.is_ranged:
            return self
        return replace(
            self,
            area_mm2=self.area_least_mm2,
            diameter_mm=_lower(self.diameter_least_mm, self.diameter_mm),
            width_mm=_lower(self.width_least_mm, self.width_mm),
            height_mm=_lower(self.height_least_mm, self.height_mm),
        )

    def thinnest(self) -> "PlacedCable":
        """The same as thin as its standard lets it be; where that isn't known, as it is."""
        own = self.tolerance
        return self if own is None else self._measuring(own.diameter_least_mm, own.width_least_mm, own.height_least_mm)

    def thickest(self) -> "PlacedCable":
        """The same as thick as its standard lets it be; where that isn't known, as it is."""
        own = self.tolerance
        return self if own is None else self._measuring(own.diameter_most_mm, own.width_most_mm, own.height_most_mm)

    def _measuring(self, diameter_mm: float | None, width_mm: float | None, height_mm: float | None) -> "PlacedCable":
        area = cable_area_mm2(diameter_mm, width_mm, height_mm)
        return replace(self, area_mm2=area, diameter_mm=diameter_mm, width_mm=width_mm, height_mm=height_mm)

    @property
    def thickness_mm(self) -> float | None:
        """How much room it needs at its widest: the diameter, or the width of a flat one."""
        return self.diameter_mm if self.diameter_mm is not None else self.width_mm

    @property
    def occupied_mm2(self) -> float | None:
        """The area that all of them take, in mm²; None where count or size isn't known."""
        if self.area_mm2 is None or self.count is None:
            return None
        return self.count * self.area_mm2


@dataclass(frozen=True, slots=True)
class Run:
    """Consecutive conduit segments and bends between two points where cables can be drawn in.

    ``bends_deg`` is the sum of the angles by which the axis turns. ``between_enclosures``: whether it ends at a box or a trunking at both
    ends. None: not known.
    """

    number: int
    carriers: tuple[str, ...]
    length_m: float | None
    bends_deg: float | None
    between_enclosures: bool | None = None


@dataclass(frozen=True, slots=True)
class LoadedCompartment:
    """One compartment of one carrier segment and what lies in it.

    Attributes:
        carrier: The segment.
        number: The compartment, counted from 1.
        area_mm2: Internal area; where no wall is known, the area with no wall; None: no size known.
        area_least_mm2: The same with the thickest plausible wall.
        width_mm: Inside width, with the same reading as ``area_mm2``; None: not known.
        width_least_mm: The same with the thickest plausible wall; None: the same as ``width_mm``.
        bore_mm: Inside diameter of a round one, with the same reading as ``area_mm2``.
        bore_tolerance_mm: By how much its standard lets the bore be smaller or larger; None: not known. Rules don't ask for it.
        side_mm: The smaller inside dimension, with the same reading as ``area_mm2``; None: not known.
        side_least_mm: The same with the thickest plausible wall.
        size_doubt: Why the two areas differ; empty where they don't.
        cables: What lies in it for certain.
        possible: What may lie in it besides.
        possible_doubts: Why what is possible isn't certain, one sentence each.
        unbounded: Whether something that can't be counted may lie in it too: then nothing here can pass.
        run: The run that a conduit is part of.
        with_working: Whether the answer should show its arithmetic.
        fewest, most: How many cables it may come to hold, for rules whose limit goes by number; None: as many as ``cables`` are.
        is_strict: Whether this is the reading against it, of the two that ``judge`` asks about.
    """

    carrier: Carrier
    number: int
    area_mm2: float | None
    area_least_mm2: float | None = None
    width_mm: float | None = None
    width_least_mm: float | None = None
    bore_mm: float | None = None
    side_mm: float | None = None
    side_least_mm: float | None = None
    size_doubt: str = ""
    cables: tuple[PlacedCable, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False
    run: Run | None = None
    with_working: bool = False
    fewest: int | None = None
    most: int | None = None
    is_strict: bool = False
    bore_tolerance_mm: float | None = None

    @property
    def occupied_mm2(self) -> float | None:
        """Σ of the areas of its cables, in mm²; None where one isn't known."""
        areas = [cable.occupied_mm2 for cable in self.cables]
        return None if None in areas else sum((area for area in areas if area is not None), 0.0)

    @property
    def range_doubt(self) -> str:
        """The cables that are here, or may be, of which the size is a range; empty where there are none."""
        spans: dict[str, set[str]] = {}
        for cable in (*self.cables, *self.possible):
            if cable.is_ranged and cable.count != 0:
                spans.setdefault(cable.range_words, set()).add(cable.circuit)
        return " and ".join(
            f"cables of {listed(sorted(marks, key=natural))} measure {words}" for words, marks in sorted(spans.items())
        )

    @property
    def occupied_least_mm2(self) -> float | None:
        """The same with cables whose size is a range at its lower end."""
        areas = [cable.at_least().occupied_mm2 for cable in self.cables]
        return None if None in areas else sum((area for area in areas if area is not None), 0.0)

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why the two ends between which the truth lies differ."""
        return tuple(doubt for doubt in (self.size_doubt, self.range_doubt, *self.possible_doubts) if doubt)

    @property
    def is_certain(self) -> bool:
        """Whether there is only one reading of it."""
        several = any(cable.is_several or cable.is_ranged for cable in self.cables)
        return not (self.size_doubt or self.possible or self.unbounded or several or self.occupied_mm2 is None)

    def _counted(self) -> "LoadedCompartment":
        """The same with how many cables it holds at least and at most."""
        fewest = sum(cable.count or 0 for cable in self.cables)
        most = fewest + sum(cable.count or 0 for cable in self.possible)
        uncounted = any(cable.count is None or cable.is_several for cable in (*self.cables, *self.possible))
        return replace(self, fewest=fewest, most=most + MANY if uncounted or self.unbounded else most)

    def least_loaded(self) -> "LoadedCompartment":
        """The reading in its favour: the larger inside, and only what can be counted of what certainly lies in it, as thin as it may be."""
        sized = tuple(
            replace(cable, area_mm2=cable.area_mm2 or 0.0, count=cable.count if cable.count is not None else 0)
            for cable in (cable.at_least() for cable in self.cables)
        )
        return replace(self._counted(), cables=sized, possible=(), possible_doubts=(), unbounded=False, size_doubt="")

    def most_loaded(self) -> "LoadedCompartment":
        """The reading against it: the smaller inside, and all that could lie in it."""
        area = self.area_least_mm2 if self.area_least_mm2 is not None else self.area_mm2
        bore = self.bore_mm
        if bore is not None and area is not None and self.area_mm2 and area < self.area_mm2:
            bore *= (area / self.area_mm2) ** 0.5
        side = self.side_least_mm if self.side_least_mm is not None else self.side_mm
        return replace(
            self._counted(),
            area_mm2=area,
            width_mm=self.width_least_mm if self.width_least_mm is not None else self.width_mm,
            bore_mm=bore,
            side_mm=side,
            cables=self.cables + self.possible,
            possible=(),
            is_strict=True,
        )


@dataclass(frozen=True, slots=True)
class Passing:
    """Cables of one circuit that pass from one carrier into another.

    ``compartments`` are those they come from and go into, as key of the carrier and number; None: which one isn't known.
    """

    compartments: tuple[tuple[str, int | None], ...]
    cables: tuple[PlacedCable, ...]


@dataclass(frozen=True, slots=True)
class DividedFitting:
    """A tee, a cross, a box or another place where carriers meet, divided or not, and what passes or could pass it.

    A bend or joint is one only where a divider is crossed.

    Attributes:
        fitting: The fitting; None: they meet without one.
        carriers: The carriers that meet there, sorted by key.
        passing: What passes it for certain, compartment by compartment.
        possible: What may pass it besides.
        possible_doubts: Why what is possible isn't certain, one sentence each.
        unbounded: Whether something that can't be counted may pass it too.
    """

    fitting: Fitting | None
    carriers: tuple[Carrier, ...]
    passing: tuple[Passing, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False

    @property
    def cables(self) -> tuple[PlacedCable, ...]:
        """All cables that pass it, each once however often its circuit does."""
        return tuple(dict.fromkeys(cable for item in self.passing for cable in item.cables))

    @property
    def partition(self) -> Partition | None:
        """Whether it keeps compartments apart, as the project declares it; None: it doesn't."""
        return None if self.fitting is None else self.fitting.partition

    @property
    def label(self) -> str:
        """What a person would call it."""
        if self.fitting is not None:
            return self.fitting.place.label
        return f"the place where {', '.join(sorted(carrier.place.label for carrier in self.carriers))} meet without a fitting"

    @property
    def about(self) -> About:
        """The fitting, or where there is none the carriers; its verdict is shared by the compartments that lead there."""
        keys = tuple(carrier.key for carrier in self.carriers)
        passed = {place for passing in self.passing for place in passing.compartments}
        guessed = [
            carrier.place.label
            for carrier in self.carriers
            if len(carrier.section.lanes) > 1 and carrier.section.confidence is Confidence.LOW
        ]
        return About(
            keys,
            circuits=tuple(sorted({cable.circuit for cable in self.cables})),
            label="" if self.fitting is None else self.fitting.place.label,
            id_keys=keys if self.fitting is None else (self.fitting.key,),
            places=tuple(sorted(passed or {(key, None) for key in keys}, key=str)),
            guess=f"how {', '.join(guessed)} is divided" if guessed else "",
        )

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why what is possible isn't certain."""
        return self.possible_doubts

    @property
    def more_may_count(self) -> bool:
        """Whether what can't be counted may pass it, and nothing keeps that apart."""
        return self.unbounded and self.partition is not Partition.KEPT

    def least_loaded(self) -> "DividedFitting":
        """The reading in its favour: only what passes it for certain does."""
        return replace(self, possible=())

    def most_loaded(self) -> "DividedFitting":
        """The reading against it: all that could pass it does."""
        return replace(self, passing=(*self.passing, Passing((), self.possible)), possible=())


def _lower(least: float | None, size: float | None) -> float | None:
    return least if least is not None else size


def cable_area_mm2(diameter_mm: float | None, width_mm: float | None, height_mm: float | None) -> float | None:
    """Area of one cable from its outside sizes, in mm²; a flat one as a rectangle with rounded sides. None: no size."""
    if diameter_mm is not None:
        return circle_area_mm2(diameter_mm)
    if width_mm is not None and height_mm is not None:
        return stadium_area_mm2(width_mm, height_mm)
    return None

"""Storeys of a file, where they are, and how the file is put onto the map."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from checker.model import Problem, ProblemKind
from checker.model.texts import listed
from checker.read.placements import Placements
from checker.read.relations import MALFORMED, all_of

Entity = Any
#: Storeys that differ by more than this aren't at the same level.
LEVEL_MM = 100.0
#: No storey is higher or deeper; NaN is neither.
HIGHEST_MM = 1e8
#: Map units (metres as a rule), degrees, and shares that are told as a difference.
MAP_SLACK, TURN_SLACK_DEG, SCALE_SLACK = 0.001, 0.001, 1e-6


@dataclass(frozen=True, slots=True)
class Storey:
    """A storey by the name that elements' places have, and its elevation in the world."""

    name: str
    elevation_mm: float | None


@dataclass(frozen=True, slots=True)
class Georeference:
    """An IfcMapConversion: map coordinates (in the map's unit) of the file's origin, turn from the map's east to the file's x, scale."""

    eastings: float
    northings: float
    height: float
    turn_deg: float
    scale: float

    def differences(self, other: "Georeference") -> list[str]:
        """What ``other`` has otherwise, in words."""
        turn = (other.turn_deg - self.turn_deg + 180.0) % 360.0 - 180.0
        rows = (
            ("easting", other.eastings, self.eastings, MAP_SLACK, ""),
            ("northing", other.northings, self.northings, MAP_SLACK, ""),
            ("height", other.height, self.height, MAP_SLACK, ""),
            ("turn", self.turn_deg + turn, self.turn_deg, TURN_SLACK_DEG, "°"),
            ("scale", other.scale, self.scale, SCALE_SLACK, ""),
        )
        return [
            f"{what} {_figure(mine)}{unit}, there {_figure(theirs)}{unit}"
            for what, mine, theirs, slack, unit in rows
            if abs(mine - theirs) > slack
        ]


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """What places a file beside others. ``problems``: where it contradicts itself."""

    storeys: tuple[Storey, ...] = ()
    georeference: Georeference | None = None
    problems: tuple[Problem, ...] = ()


def site_facts(file: Entity, mm: float, placements: Placements, name: str) -> SiteFacts:
    """Reads the storeys and the map conversion of an opened file.

    A storey is where its placement is. Its elevation counts from the building's own zero, so one offset for all is right; it is believed
    where there is no placement, and where all placements are at one height and the elevations aren't.

    Args:
        file: The file.
        mm: Millimetres in its length unit.
        placements: Of the file; placements that bite their own tail place nothing.
        name: The file's, for problems.
    """
    rows = [
        (_name(storey), _world_z(storey, mm, placements), _stated(storey, mm))
        for storey in all_of(file, "IfcBuildingStorey")
    ]
    both = [(text, at, stated) for text, at, stated in rows if at is not None and stated is not None]
    is_flat = len(both) > 1 and _spread(at for _, at, _ in both) <= LEVEL_MM < _spread(stated for *_, stated in both)
    storeys = tuple(
        Storey(text, stated if at is None or (is_flat and stated is not None) else at) for text, at, stated in rows
    )
    return SiteFacts(storeys, _georeference(file), tuple(_contradictions(both, name, is_flat=is_flat)))


def _spread(values: Iterable[float]) -> float:
    known = list(values)
    return max(known) - min(known)


def _name(storey: Entity) -> str:
    """As places of elements have it (``relations.storey_and_space``)."""
    return str(storey.Name or storey.LongName or storey.GlobalId or "").strip()


def _world_z(storey: Entity, mm: float, placements: Placements) -> float | None:
    try:
        frame = placements.world(storey.ObjectPlacement)
    except MALFORMED:
        return None
    return None if frame is None or not math.isfinite(frame.origin[2]) else frame.origin[2] * mm


def _stated(storey: Entity, mm: float) -> float | None:
    try:
        stated = float(storey.Elevation) * mm if storey.Elevation is not None else math.nan
    except MALFORMED:
        return None
    return stated if abs(stated) <= HIGHEST_MM else None


def _contradictions(both: list[tuple[str, float, float]], name: str, *, is_flat: bool) -> Iterator[Problem]:
    """Storeys whose placement and elevation differ by something else than most storeys' do."""
    if len(both) < 2:
        return
    steps = Counter(round((at - stated) / LEVEL_MM) for _, at, stated in both)
    usual = min(steps, key=lambda step: (-steps[step], abs(step), step)) * LEVEL_MM
    told = [
        f"{text!r} is placed at {at / 1000.0:.3f} m, by its elevation at {(stated + usual) / 1000.0:.3f} m"
        for text, at, stated in both
        if abs(at - stated - usual) > 1.5 * LEVEL_MM  # half a step is lost by rounding
    ]
    if told:
        some = listed(told, between="; ")
        why = f"the model contradicts itself; the {'elevation' if is_flat else 'placement'} is believed"
        hint = "mend the storeys' placements and elevations"
        yield Problem(name, f"storeys contradict themselves: {some}", why, hint, ProblemKind.ASSUMPTION, len(told))


def _georeference(file: Entity) -> Georeference | None:
    """The first map conversion; what it leaves out is as the schema has it: no turn, no scaling."""
    for entity in all_of(file, "IfcMapConversion"):
        try:
            x, y = entity.XAxisAbscissa, entity.XAxisOrdinate
            turn = math.degrees(math.atan2(float(y or 0.0), float(x if x is not None else 1.0)))
            return Georeference(
                float(entity.Eastings),
                float(entity.Northings),
                float(entity.OrthogonalHeight or 0.0),
                turn,
                float(entity.Scale if entity.Scale is not None else 1.0),
            )
        except MALFORMED:
            continue
    return None


def _figure(value: float) -> str:
    return f"{value:.6f}".rstrip("0").rstrip(".")

"""Whether several files are one building: the same coordinates, the same unit, the same storeys. Says so where they aren't."""

import bisect
import itertools
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.model import Problem, ProblemKind, Vec
from checker.model.geometry import distance, norm
from checker.model.texts import listed
from checker.read.model import ModelContents
from checker.read.site import LEVEL_MM, SiteFacts

#: Files that are further apart than this (or than so many times the larger of them) share no coordinates.
FAR_MM, FAR_TIMES, NEAR_MM = 100_000.0, 10.0, 20_000.0
#: Storeys that differ by more than this aren't the same one.
#: What one figure is of another where a unit is wrong: m for mm, ft for mm, in for mm, ft for in.
UNITS = (1000.0, 304.8, 25.4, 12.0)
#: No building is larger than this; and what lies in one isn't all within that, where it has more than a few points.
LARGEST_MM, SMALLEST_MM, FEW = 5_000_000.0, 1_000.0, 20
#: So much of the points on either side of each axis is left out where the bulk of a file is meant.
STRAY = 0.05


@dataclass(frozen=True, slots=True)
class FileFacts:
    """What is compared of a file: points of its elements in the world (mm), their GlobalIds, and its site."""

    name: str
    points: Sequence[Vec]
    global_ids: frozenset[str]
    site: SiteFacts | None = None


@dataclass(frozen=True, slots=True)
class Extent:
    """A box along the world's axes."""

    low: Vec
    high: Vec

    @property
    def size_mm(self) -> float:
        """Its diagonal."""
        return distance(self.low, self.high)

    def gap_mm(self, other: "Extent") -> float:
        """How far apart two boxes are; 0 where they meet."""
        return norm(tuple(max(other.low[i] - self.high[i], self.low[i] - other.high[i], 0.0) for i in range(3)))  # type: ignore[arg-type]


def mismatches(contents: Sequence[ModelContents]) -> list[Problem]:
    """What tells that models don't belong together as they are. Nothing is moved or scaled: they are read as they say."""
    within = [problem for model in contents if model.site is not None for problem in model.site.problems]
    return within + compare([facts_of(model) for model in contents])


def facts_of(model: ModelContents) -> FileFacts:
    """What is compared of a model."""
    ends = [point for carrier in model.carriers for point in (carrier.start_mm, carrier.end_mm)]
    middles = [*(fitting.centre_mm for fitting in model.fittings), *(item.point_mm for item in model.equipment)]
    walls = [prism.origin_mm for barrier in model.barriers for prism in barrier.prisms]
    points = [point for point in (*ends, *middles, *walls, *model.far_mm) if point is not None]
    places = [item.place.global_id for items in (model.carriers, model.fittings, model.equipment) for item in items]
    return FileFacts(model.name, points, frozenset(filter(None, places)), model.site)


def compare(files: Sequence[FileFacts]) -> list[Problem]:
    """What tells that files don't belong together as they are."""
    wrong = {problem.where: problem for problem in _units(files)}
    rest = [file for file in files if file.name not in wrong]
    apart = list(_apart(rest))
    return [*_copies(files), *wrong.values(), *apart, *_levels(rest), *_names(rest), *_georeferences(files)]


def extent(points: Sequence[Vec], stray: float = 0.0) -> Extent | None:
    """The box around points, less a share of them at both ends of each axis."""
    if not points:
        return None
    axes = [sorted(point[i] for point in points) for i in range(3)]
    cut = int(len(points) * stray)
    low, high = ([axis[at] for axis in axes] for at in (cut, len(points) - 1 - cut))
    return Extent((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _gap(where: str, what: str, why: str, hint: str, elements: int = 1) -> Problem:
    return Problem(where, what, why, hint, ProblemKind.GAP, elements)


def _copies(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Files that have most of their elements in common: two revisions of one model, or a model and a part of it."""
    for index, file in enumerate(files):
        for other in files[:index]:
            shared = len(file.global_ids & other.global_ids)
            smaller = min(len(file.global_ids), len(other.global_ids))
            if shared > 1 and shared * 2 > smaller:
                what = f"{shared} of its {len(file.global_ids)} elements are in {other.name} too, by their GlobalIds"
                why = "so they are counted twice; the files look like two revisions of one model"
                yield _gap(file.name, what, why, "name only the one that is meant", shared)
                break


def _units(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Files with another unit than others. The one that most others speak against is told; of two alike, the later."""
    bulks = [extent(file.points, STRAY) if len(file.points) >= FEW else None for file in files]
    levels = [_elevations(file) for file in files]
    against: dict[int, dict[int, float]] = {}
    for one, other in itertools.combinations(range(len(files)), 2):
        times = _by_storeys(levels[one], levels[other]) or _by_extents(bulks[one], bulks[other])
        if times is not None:
            against.setdefault(one, {})[other] = times
            against.setdefault(other, {})[one] = 1.0 / times
    told: set[int] = set()
    for one in sorted(against, key=lambda index: (-len(against[index]), -index)):
        others = {other: times for other, times in against[one].items() if other not in told}
        if others:
            told.add(one)
            other, times = min(others.items())
            share = f"{times:g} times" if times > 1.0 else f"one in {1.0 / times:g} of"
            what = f"its figures are about {share} those of {files[other].name}: one of them seems to have a wrong unit"
            why = "so they can't meet, and what leads from the one into the other isn't found"
            yield _gap(files[one].name, what, why, "export both in the unit that they declare", len(files[one].points))


def _by_storeys(mine: dict[str, float], theirs: dict[str, float]) -> float | None:
    """The ratio of two units in which all elevations of storeys of the same name are."""
    pairs = [(mine[name], theirs[name]) for name in mine if name in theirs]
    if any((a == 0.0) != (b == 0.0) or a * b < 0.0 for a, b in pairs):
        return None
    ratios = [a / b for a, b in pairs if b != 0.0]
    for unit in UNITS:
        for wanted in (unit, 1.0 / unit):
            if len(ratios) >= 2 and all(abs(ratio / wanted - 1.0) < 0.02 for ratio in ratios):
                return wanted
    return None


def _by_extents(mine: Extent | None, theirs: Extent | None) -> float | None:
    """The ratio of units nearest to that of the sizes, where one of them is of a size that no building has."""
    if mine is None or theirs is None or not mine.size_mm or not theirs.size_mm:
        return None
    small, large = sorted((mine.size_mm, theirs.size_mm))
    if small > SMALLEST_MM and large < LARGEST_MM:
        return None
    nearest = min(UNITS, key=lambda unit: abs(math.log(large / small / unit)))
    if abs(math.log(large / small / nearest)) > math.log(2.0):
        return None
    return nearest if mine.size_mm > theirs.size_mm else 1.0 / nearest


def _apart(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Groups of files that lie together, each but the largest told as far from it."""
    bulks = {file.name: box for file in files if (box := extent(file.points, STRAY)) is not None}
    wholes = {file.name: box for file in files if (box := extent(file.points)) is not None}
    counts = {file.name: len(file.points) for file in files}
    groups: list[list[str]] = []
    for name, box in bulks.items():
        near = [group for group in groups if any(not _is_far(box, bulks[other]) for other in group)]
        groups = [group for group in groups if group not in near]
        groups.append([*(other for group in near for other in group), name])
    groups.sort(key=lambda group: (-sum(counts[name] for name in group), sorted(group)))
    for group in groups[1:]:
        pairs = [(one, other) for one in group for other in groups[0]]
        gap = min(bulks[one].gap_mm(bulks[other]) for one, other in pairs)
        main = listed(groups[0])
        why = f"so nothing of it meets anything of {main}"
        if any(not _is_far(wholes[one], wholes[other]) for one, other in pairs):
            why = f"so most of it meets nothing of {main}; only a few elements lie nearer"
        hint = "export all models with the same coordinates, or check them one by one if they are several buildings"
        elements = sum(counts[name] for name in group)
        yield _gap(listed(group), f"it lies {gap / 1000.0:.0f} m from {main}", why, hint, elements)


def _is_far(one: Extent, other: Extent) -> bool:
    gap = one.gap_mm(other)
    return gap > FAR_MM or (gap > NEAR_MM and gap > FAR_TIMES * max(one.size_mm, other.size_mm))


def _elevations(file: FileFacts) -> dict[str, float]:
    """Elevations of the storeys whose name only one has."""
    if file.site is None:
        return {}
    counts = Counter(storey.name for storey in file.site.storeys)
    known = (
        (storey.name, storey.elevation_mm) for storey in file.site.storeys if storey.name and counts[storey.name] == 1
    )
    return {name: elevation for name, elevation in known if elevation is not None}


def _levels(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Storeys of the same name at other elevations than in the first file that has them."""
    first: dict[str, tuple[str, float]] = {}
    for file in files:
        differing: dict[str, list[tuple[str, float, float]]] = {}
        for name, elevation in _elevations(file).items():
            other, at = first.setdefault(name, (file.name, elevation))
            if abs(elevation - at) > LEVEL_MM:
                differing.setdefault(other, []).append((name, elevation, at))
        for other, rows in differing.items():
            told = [f"{name!r} at {here / 1000.0:.3f} m, there {there / 1000.0:.3f} m" for name, here, there in rows]
            what = f"its storeys aren't at the elevations that they have in {other}: {listed(told, between='; ')}"
            why = "so what is on the one file's storey isn't level with what is on the other's"
            yield _gap(file.name, what, why, "export all models with the same storeys and the same zero", len(rows))


def _names(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Storeys at the elevation of one in the first file that has storeys, under another name."""
    levels = [(file.name, found) for file in files if (found := _elevations(file))]
    for name, mine in levels[1:]:
        main, theirs = levels[0]
        others = sorted((at, other) for other, at in theirs.items() if other not in mine)
        twins = []
        for own, elevation in mine.items():
            at = bisect.bisect_left(others, (elevation - LEVEL_MM, ""))
            if own not in theirs and at < len(others) and others[at][0] <= elevation + LEVEL_MM:
                twins.append(f"{own!r} at {elevation / 1000.0:.3f} m is {others[at][1]!r} there")
        if twins:
            what = f"its storeys have other names than in {main}: {listed(twins, between='; ')}"
            why = "so equipment of the one isn't taken to be on the same storey as carriers of the other"
            yield _gap(name, what, why, "give storeys the same names in all models", len(twins))


def _georeferences(files: Sequence[FileFacts]) -> Iterator[Problem]:
    """Files that are put onto the map otherwise than the first that is."""
    known = [(file.name, file.site.georeference) for file in files if file.site and file.site.georeference]
    for name, mine in known[1:]:
        main, theirs = known[0]
        told = theirs.differences(mine)
        if told:
            what = f"it is put onto the map otherwise than {main}: {'; '.join(told)}"
            why = "map coordinates aren't used here, but files of one building share them"
            yield Problem(name, what, why, "compare the origins of both models", ProblemKind.ASSUMPTION)

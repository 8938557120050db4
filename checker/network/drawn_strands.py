"""Drawn lines in the order in which a circuit's way goes, each from the end where it is fed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from scipy.spatial import cKDTree

from checker.model import Vec
from checker.model.geometry import distance
from checker.network.drawn_lines import Line
from checker.network.drawn_passes import Pass

#: Lines that end as near to each other as this end at one thing.
SAME_END_MM = 300.0
#: So many lines are put in order from end to end; more go by how far they are from the beginning.
MOST_WALKED = 50


@dataclass(frozen=True, slots=True)
class Strand:
    """One line with its length and its passes of carriers, in order."""

    line: Line
    length_mm: float
    passes: tuple[Pass, ...]

    @property
    def ends(self) -> tuple[Vec, Vec]:
        """Where it begins and ends."""
        return self.line[0], self.line[-1]

    def turned_round(self) -> "Strand":
        """The same from its end to its start."""
        passes = (
            replace(
                item,
                from_mm=item.to_mm,
                to_mm=item.from_mm,
                begins_mm=self.length_mm - item.ends_mm,
                ends_mm=self.length_mm - item.begins_mm,
                bulges_mm=tuple(
                    (self.length_mm - last, self.length_mm - first) for first, last in reversed(item.bulges_mm)
                ),
            )
            for item in reversed(self.passes)
        )
        return Strand(self.line[::-1], self.length_mm, tuple(passes))

    def out_mm(self, along_mm: float) -> float | None:
        """How far it is along the line from a place on it to the nearest carrier; 0 within one. None: it is in none."""
        bulges = (bulge for item in self.passes for bulge in item.bulges_mm)
        bulging = next(((first, last) for first, last in bulges if first < along_mm < last), None)
        if bulging is not None:
            return min(along_mm - bulging[0], bulging[1] - along_mm)
        return min(
            (max(item.begins_mm - along_mm, along_mm - item.ends_mm, 0.0) for item in self.passes),
            default=None,
        )


def in_order(strands: Sequence[Strand], origin: Vec | None) -> list[Strand]:
    """Strands in order from where the circuit is fed.

    Args:
        strands: In any order that depends on where they are alone.
        origin: Where the circuit begins; None: it isn't known, and an end begins at which the fewest lines end.
    """
    ends = [end for strand in strands for end in strand.ends]
    if origin is not None:
        start = min((round(distance(end, origin), 1), end) for end in ends)[1]
    else:
        crowds = cKDTree(ends).query_ball_point(ends, SAME_END_MM, return_length=True).tolist()
        start = min(zip(crowds, ends, strict=True))[1]
    left = [_from(strand, start) for strand in strands]
    left.sort(key=lambda strand: (_off(strand, [start]) > SAME_END_MM, -round(strand.length_mm), strand.line))
    found = [strand for strand in left if _off(strand, [start]) <= SAME_END_MM]
    left = left[len(found) :]
    if len(left) > MOST_WALKED:
        return found + sorted(left, key=lambda strand: (_off(strand, [start]), strand.line))
    reached = [end for strand in found for end in strand.ends]
    while left:
        number = min(range(len(left)), key=lambda n: (_off(left[n], reached), n))
        strand = left.pop(number)
        near = min(reached, key=lambda point: (min(distance(point, end) for end in strand.ends), point))
        found.append(_from(strand, near))
        reached += strand.ends
    return found


def _from(strand: Strand, point: Vec) -> Strand:
    """A strand so turned that it begins at the end that is nearer to a point."""
    first, last = (round(distance(end, point), 1) for end in strand.ends)
    return strand.turned_round() if last < first else strand


def _off(strand: Strand, points: Sequence[Vec]) -> float:
    return round(min(distance(end, point) for end in strand.ends for point in points), 1)

"""The ways of circuits whose cables the model draws: through the carriers in or on which their lines lie."""

import itertools
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from checker.model import Circuit, Equipment, Installation, ModelCable, Place, ProblemKind, Vec
from checker.network.bodies import nearest_on
from checker.network.drawn_between import FittingBodies, parts_of
from checker.network.drawn_bodies import CarrierBoxes
from checker.network.drawn_counts import counted
from checker.network.drawn_lanes import lane_of
from checker.network.drawn_lines import MOST_LINES, TERMINAL_MM, Line, chained, length_mm, lines_of
from checker.network.drawn_passes import Pass, fitting_mm, passes_of, trimmed
from checker.network.drawn_strands import Strand, in_order
from checker.network.drawn_way import DrawnGap, DrawnVisit, DrawnWay, Told

__all__ = ["DrawnGap", "DrawnVisit", "DrawnWay", "DrawnWays"]

#: Between carriers that aren't joined a line may lie in neither for this: nobody would mean to leave so little open.
SLIT_MM = 50.0


class DrawnWays:
    """Finds the drawn ways of circuits.

    Args:
        installation: What there is.
        neighbours: Carriers by key, with those that they meet directly or through one fitting.
    """

    def __init__(self, installation: Installation, neighbours: Mapping[str, set[str]]) -> None:
        self._carriers = tuple(sorted(installation.carriers, key=lambda carrier: carrier.key))
        self._labels = {carrier.key: carrier.place.label for carrier in self._carriers}
        self._neighbours, self._reach_mm = neighbours, installation.reach_mm
        self._by_mark: dict[str, list[ModelCable]] = defaultdict(list)
        by_place: dict[Place, list[ModelCable]] = defaultdict(list)
        for cable in installation.model_cables:
            by_place[cable.place].append(cable)
            for mark in cable.marks:
                self._by_mark[mark].append(cable)
        self._of_circuits: dict[str, list[tuple[str, list[ModelCable]]]] = defaultdict(list)
        for found in installation.model_circuits:
            own = [known for cable in found.cables for known in by_place.get(cable.place, ())]
            for mark in {_plain(mark) for mark in (found.mark, *found.marks)}:
                self._of_circuits[mark].append((found.mark, own))
        self._named = _named(installation.equipment)
        drawn = any(cable.path_mm or cable.pieces_mm for cable in installation.model_cables)
        self._boxes = CarrierBoxes(self._carriers if drawn else ())
        self._fittings = FittingBodies(installation.fittings if drawn else ())

    def way(self, circuit: Circuit) -> DrawnWay | None:
        """The way of a circuit as the model draws it; None where it draws no path of a cable of that circuit."""
        cables = self._cables(circuit.mark)
        by_cable = [lines_of(cable) for cable in cables]
        lines = [line for own in by_cable for line in own]
        if not lines:
            return None
        told = Told(circuit.mark)
        if len(lines) > MOST_LINES:
            told.tell(ProblemKind.GAP, f"the model draws its cables in {len(lines)} lines, more than are looked at",
                      "so where they run isn't read from them", "draw each cable as one")  # fmt: skip
            return DrawnWay(circuit.mark, problems=tuple(told.problems))
        ends = [self._named.get(name) for name in (circuit.origin, *circuit.calls)]
        self._boxes.is_crowded = False
        points = [point for point in ends if point is not None]
        strands = in_order([self._strand(line) for line in chained(lines, points)], ends[0])
        count = counted(strands, circuit)
        gaps = _distinct(gap for strand in strands for gap in self._gaps(strand, points, is_alone=len(strands) == 1))
        drops, missed = self._drops(circuit, strands, ends)
        parts = parts_of(strands, points, self._reach_mm)
        if self._boxes.is_crowded:
            told.tell(ProblemKind.GAP, "too many carriers lie around its drawn cables to look at all of them",
                      "so they may lie in others than they are taken to", "leave out what isn't built")  # fmt: skip
        told.without([cable.place.label for cable, own in zip(cables, by_cable, strict=True) if not own])
        told.gaps(gaps, self._labels)
        told.missed(missed)
        told.parts(parts)
        told.numbers(count.beside, count.scheduled)
        told.apart([(self._carriers[number].place.label, lines) for number, lines in count.apart], count.beside)
        return DrawnWay(
            circuit.mark,
            tuple(self._visit(item, circuit) for item in count.passes),
            gaps,
            tuple(name for name, _ in missed),
            drops,
            tuple(sorted({strand.line[end] for strand in strands for end in (0, -1)})),
            count.beside,
            sum(strand.passes[-1].ends_mm - strand.passes[0].begins_mm for strand in strands if strand.passes)
            / count.beside,
            sum(strand.length_mm for strand in strands),
            sum(item.ends_mm - item.begins_mm for strand in strands for item in strand.passes),
            tuple(told.problems),
            parts=parts,
            is_crowded=self._boxes.is_crowded,
        )

    def _cables(self, mark: str) -> list[ModelCable]:
        """The cables of a circuit: named by its mark, or of the one circuit of the models that the mark means."""
        found = list(self._by_mark.get(mark, ()))
        alike = self._of_circuits.get(_plain(mark), [])
        if len(alike) == 1:
            theirs, own = alike[0]
            found += [*self._by_mark.get(theirs, ()), *own]
        # one that two models have is one
        known = {(cable.place.global_id or str(cable.place), cable.path_mm, cable.pieces_mm): cable for cable in found}
        return list(known.values())

    def _strand(self, line: Line) -> Strand:
        return Strand(line, length_mm(line), trimmed(passes_of(self._boxes.atoms(line), self._carriers)))

    def _visit(self, item: Pass, circuit: Circuit) -> DrawnVisit:
        carrier = self._carriers[item.carrier]
        return DrawnVisit(carrier.key, item.from_mm, item.to_mm, lane_of(item, carrier, circuit.service))

    def _gaps(self, strand: Strand, points: Sequence[Vec], *, is_alone: bool) -> list[DrawnGap]:
        """Where a line lies in no carrier, drops and fittings aside."""
        keys = ["", *(self._carriers[item.carrier].key for item in strand.passes), ""]
        marks = [0.0, *(mark for item in strand.passes for mark in (item.begins_mm, item.ends_mm)), strand.length_mm]
        if not strand.passes:
            is_drop = not is_alone and strand.length_mm <= self._reach_mm
            return [] if is_drop else [DrawnGap(strand.length_mm)]
        calls = [
            found[0]
            for point in points
            if (found := nearest_on(strand.line, point)) is not None and found[1] <= TERMINAL_MM
        ]
        gaps = []
        for number, (before, after) in enumerate(itertools.pairwise(keys)):
            begins, ends = marks[2 * number], marks[2 * number + 1]
            length, most = ends - begins, self._reach_mm
            if before and after:
                one, other = (self._carriers[item.carrier] for item in strand.passes[number - 1 : number + 1])
                is_joined = before == after or after in self._neighbours.get(before, ())
                most = fitting_mm(one, other) if is_joined else SLIT_MM
                if any(begins <= call <= ends and max(call - begins, ends - call) <= self._reach_mm for call in calls):
                    continue  # down to equipment and up again
                if length > most:
                    length = self._fittings.outside_mm(strand.line, begins, ends)
            if length > most:
                gaps.append(DrawnGap(length, before, after))
        return gaps

    def _drops(
        self, circuit: Circuit, strands: Sequence[Strand], ends: Sequence[Vec | None]
    ) -> tuple[tuple[float | None, ...], list[tuple[str, float]]]:
        """The drop at each end, and the ends that no line comes near, with how far off they are."""
        drops: list[float | None] = []
        missed: dict[str, float] = {}
        for name, point in zip((circuit.origin, *circuit.calls), ends, strict=True):
            if point is None:
                drops.append(None)
                continue
            near = [
                (found[1], strand.out_mm(found[0])) for strand in strands if (found := nearest_on(strand.line, point))
            ]
            known = min(((round(off, 3), out) for off, out in near if out is not None), default=None)
            drops.append(None if known is None else sum(known))
            off = min(off for off, _ in near)
            if off > self._reach_mm:
                missed[name] = off
        return tuple(drops), list(missed.items())


def _distinct(gaps: Iterable[DrawnGap]) -> tuple[DrawnGap, ...]:
    """Gaps of lines beside each other once: of those between the same carriers the longest."""
    longest: dict[tuple[str, ...], DrawnGap] = {}
    for gap in gaps:
        between = tuple(sorted((gap.before, gap.after)))
        if between not in longest or longest[between].length_mm < gap.length_mm:
            longest[between] = gap
    return tuple(longest.values())


def _named(equipment: Iterable[Equipment]) -> dict[str, Vec]:
    """Where equipment is, by GlobalId, Tag, Name and mark, if nothing else is called so."""
    index: tuple[dict[str, list[Equipment]], ...] = tuple(defaultdict(list) for _ in range(4))
    for item in equipment:
        for by, text in zip(
            index, (item.place.global_id, item.place.tag, item.place.name, item.place.mark), strict=True
        ):
            if text.strip():
                by[text.strip()].append(item)
    found: dict[str, Vec] = {}
    for by in reversed(index):
        for name, items in by.items():
            found.pop(name, None)
            if len(items) == 1 and items[0].point_mm is not None:
                found[name] = items[0].point_mm
    return found


def _plain(mark: str) -> str:
    """A mark as circuits of models are matched by it."""
    return " ".join(mark.split()).casefold()

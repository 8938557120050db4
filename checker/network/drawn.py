"""The ways of circuits whose cables the model draws: through the carriers in or on which their lines lie."""

import itertools
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import partial

from checker.model import Circuit, Installation, ProblemKind, Service, Vec
from checker.model.geometry import distance
from checker.network.drawn_between import FittingBodies, parts_of
from checker.network.drawn_bodies import CarrierBoxes, unknown_mm
from checker.network.drawn_bundles import Bundles, scheduled_cables
from checker.network.drawn_counts import CountedPass, counted
from checker.network.drawn_ends import EndNames, Lines, Reached
from checker.network.drawn_lanes import lane_of
from checker.network.drawn_lines import MOST_LINES, TERMINAL_MM, Line, chained, length_mm, lines_of
from checker.network.drawn_onward import led_on
from checker.network.drawn_owners import CableOwners
from checker.network.drawn_passes import fitting_mm, passes_of, trimmed
from checker.network.drawn_strands import Strand, in_order
from checker.network.drawn_way import DrawnGap, DrawnWay, Told
from checker.network.route import Visit

__all__ = ["DrawnGap", "DrawnWay", "DrawnWays"]

#: Between carriers that aren't joined a line may lie in neither for this: nobody would mean to leave so little open.
SLIT_MM = 50.0
#: Less than this is no gap, whatever isn't known.
LEAST_MM = 1.0


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
        self._owners = CableOwners(installation)
        self._ends = EndNames(installation)
        drawn = any(cable.path_mm or cable.pieces_mm for cable in installation.model_cables)
        self._boxes = CarrierBoxes(self._carriers if drawn else ())
        self._fittings = FittingBodies(installation.fittings if drawn else ())

    def way(self, circuit: Circuit) -> DrawnWay | None:
        """The way of a circuit as the model draws it; None where it draws no path of a cable of that circuit."""
        cables = self._owners.of(circuit.mark)
        by_cable = [lines_of(cable) for cable in cables]
        lines = [line for own in by_cable for line in own]
        if not lines:
            return None
        told = Told(circuit.mark)
        if len(lines) > MOST_LINES:
            told.tell(ProblemKind.GAP, f"the model draws its cables in {len(lines)} lines, more than are looked at",
                      "so it isn't routed, and its cables could lie elsewhere",
                      "draw each cable as one, or give its route in the schedule")  # fmt: skip
            return DrawnWay(circuit.mark, problems=tuple(told.problems), is_too_much=True)
        ends = self._ends.of(circuit)
        self._boxes.is_crowded = False
        points = list(dict.fromkeys(end.point_mm for end in ends if end.point_mm is not None))
        drawn = Lines([Strand(line, length_mm(line), ()) for line in lines])
        nearest = [float(drawn.near(point)[0].min()) for point in points]
        strands = in_order([self._strand(line) for line in chained(lines, points, nearest)], ends[0].point_mm)
        near = Lines(strands)
        reached = Reached(ends, near, self._reach_mm)
        bundles = Bundles(strands, reached, circuit)
        count = counted(strands, bundles.all)
        onward = led_on(count.passes, self._carriers, self._neighbours)
        gaps = _distinct(gap for number in range(len(strands)) for gap in self._gaps(strands, number, reached))
        passed = {item.carrier for strand in strands for item in strand.passes}
        keys = {self._carriers[number].key for number in passed}
        skips = partial(self._skips, passed, circuit.service)
        missed = reached.missed(keys, skips)
        parts = parts_of(strands, lambda point: near.near(point)[0].tolist(), points, self._reach_mm, skips)
        is_open_ring = circuit.calls[-1:] == (circuit.origin,) and not bundles.closes_ring()
        if self._boxes.is_crowded:
            told.tell(ProblemKind.GAP, "too many carriers lie around its drawn cables to look at all of them",
                      "so they may lie in others than they are taken to", "leave out what isn't built")  # fmt: skip
        told.without([cable.place.label for cable, own in zip(cables, by_cable, strict=True) if not own])
        told.gaps(gaps, self._labels)
        told.missed(missed)
        told.parts(parts)
        if is_open_ring:
            told.open_ring(circuit.origin)
        told.numbers([bundle.beside for bundle in bundles.all], scheduled_cables(circuit))
        told.apart(count.apart, [carrier.place.label for carrier in self._carriers])
        return DrawnWay(
            circuit.mark,
            visits=tuple(self._visit(item, circuit) for item in onward),
            gaps=gaps,
            missed=tuple(end.name for end in missed),
            drops_mm=reached.drops_mm(keys),
            strands=max(bundle.beside for bundle in bundles.all),
            length_mm=count.length_mm,
            problems=tuple(told.problems),
            open_problems=tuple(told.open),
            parts=parts,
            is_open_ring=is_open_ring,
            is_crowded=self._boxes.is_crowded,
            lines=tuple((self._carriers[item.carrier].key, item.lines, item.beside) for item in count.apart),
        )

    def _strand(self, line: Line) -> Strand:
        return Strand(line, length_mm(line), trimmed(passes_of(self._boxes.atoms(line), self._carriers)))

    def _skips(self, passed: Collection[int], service: Service | None, one: Vec, other: Vec) -> bool:
        """Whether what lies straight between two points runs along a carrier that could be passed and isn't."""
        if distance(one, other) <= SLIT_MM:
            return False
        along = {item.carrier for item in passes_of(self._boxes.atoms((one, other)), self._carriers)}
        return any(self._carriers[number].takes(service) for number in along.difference(passed))

    def _visit(self, passed: CountedPass, circuit: Circuit) -> Visit:
        item = passed.item
        carrier = self._carriers[item.carrier]
        lane = lane_of(item, carrier, circuit.service)
        return Visit(carrier.key, item.from_mm, item.to_mm, seen_compartment=lane, line=passed.line)

    def _gaps(self, strands: Sequence[Strand], own: int, reached: Reached) -> list[DrawnGap]:
        """Where a line lies in no carrier, drops and fittings aside."""
        strand = strands[own]
        keys = ["", *(self._carriers[item.carrier].key for item in strand.passes), ""]
        marks = [0.0, *(mark for item in strand.passes for mark in (item.begins_mm, item.ends_mm)), strand.length_mm]
        if not strand.passes:
            is_drop = len(strands) > 1 and strand.length_mm <= self._reach_mm
            return [] if is_drop else [DrawnGap(strand.length_mm)]
        calls = reached.calls_along(own, TERMINAL_MM)
        gaps = []
        for number, (before, after) in enumerate(itertools.pairwise(keys)):
            begins, ends = marks[2 * number], marks[2 * number + 1]
            length, most = ends - begins, self._reach_mm
            # of what stands for a size that isn't known, a part may be no carrier
            beside = strand.passes[max(number - 1, 0) : number + 1]
            unsure = sum(unknown_mm(self._carriers[item.carrier]) for item in beside)
            if before and after:
                one, other = (self._carriers[item.carrier] for item in strand.passes[number - 1 : number + 1])
                is_joined = before == after or after in self._neighbours.get(before, ())
                most = fitting_mm(one, other) if is_joined else SLIT_MM
                if any(begins <= call <= ends and max(call - begins, ends - call) <= self._reach_mm for call in calls):
                    continue  # down to equipment and up again
                if length > most - unsure:
                    length = self._fittings.outside_mm(strand.line, begins, ends)
            if length > max(most - unsure, LEAST_MM):
                gaps.append(DrawnGap(length, before, after))
        return gaps


def _distinct(gaps: Iterable[DrawnGap]) -> tuple[DrawnGap, ...]:
    """Gaps of lines beside each other once: of those between the same carriers the longest."""
    longest: dict[tuple[str, ...], DrawnGap] = {}
    for gap in gaps:
        between = tuple(sorted((gap.before, gap.after)))
        if between not in longest or longest[between].length_mm < gap.length_mm:
            longest[between] = gap
    return tuple(longest.values())

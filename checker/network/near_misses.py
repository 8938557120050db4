"""Open ends that nothing joins though something lies near, so that a person can look whether they should meet."""

from checker.model import Carrier, Fitting, Problem, ProblemKind
from checker.model.geometry import distance, norm
from checker.network.bodies import End, at_nearest, ends_of, half_mm, larger_side_mm, same_way
from checker.network.cells import Grid
from checker.network.crowds import MOST_LOOKED_AT, Crowds
from checker.network.joins import END, START, Book, Spot
from checker.network.meeting import Meetings

#: How far a near miss reaches: this, or more around large sections, but never farther than the last.
LEAST_REACH_MM, TIMES_SIDE, MOST_REACH_MM = 300.0, 2.0, 1000.0


def near_misses(meetings: Meetings, book: Book, crowds: Crowds) -> list[Problem]:
    """A problem for each open end that has something near which it isn't joined to: the nearest alone.

    Two ends that are the nearest to each other are told once.
    """
    return _NearMisses(meetings, book, crowds).problems()


class _NearMisses:
    def __init__(self, meetings: Meetings, book: Book, crowds: Crowds) -> None:
        self._book, self._crowds = book, crowds
        self._carriers, self._fittings = meetings.carriers, meetings.fittings

    def problems(self) -> list[Problem]:
        ends = [end for carrier, _ in self._carriers for end in ends_of(carrier)]
        ends = [end for end in ends if not self._book.met(end.spot) and end.spot.mark not in self._crowds.marks]
        grid = self._grid() if ends else Grid(MOST_REACH_MM)
        missed: dict[tuple[str, str], tuple[End, Spot, str, float]] = {}
        for end in ends:
            near = grid.near(end.point_mm, MOST_LOOKED_AT)
            found = self._nearest(end, near or [])
            if near is None:
                self._crowds.marks.add(end.spot.mark)
            elif found is not None:
                missed[end.spot.mark] = (end, *found)
        told: set[tuple[tuple[str, str], ...]] = set()
        problems = []
        for mark, (end, spot, label, off) in missed.items():
            pair = tuple(sorted((mark, spot.mark)))
            theirs = missed.get(spot.mark)
            if theirs is not None and theirs[3] < off:
                continue  # that end has something nearer, or is nearer to this one seen from there: it is told of there
            if pair not in told:
                problems.append(_told(end, spot, label, off))
            told.add(pair)
        return problems

    def _grid(self) -> Grid:
        grid = Grid(MOST_REACH_MM)
        for number, (carrier, _) in enumerate(self._carriers):
            grid.add(number, carrier.axis_mm, norm((*half_mm(carrier), 0.0)))
        for number, (_, body) in enumerate(self._fittings, start=len(self._carriers)):
            grid.add(number, [body.centre_mm], norm(body.half_mm))
        return grid

    def _nearest(self, end: End, near: list[int]) -> tuple[Spot, str, float] | None:
        """The nearest of some things, by their numbers, if one is near enough: where on it, what it is called, and how far off it is."""
        found: list[tuple[float, str, Carrier | Fitting]] = []
        for number in near:
            item: Carrier | Fitting
            if number < len(self._carriers):
                item, bodies = self._carriers[number]
                side = max(larger_side_mm(end.carrier), larger_side_mm(item))
                if _runs_beside(end, item):
                    continue
            else:
                item, body = self._fittings[number - len(self._carriers)]
                bodies, side = [body], larger_side_mm(end.carrier)
            if item.key != end.carrier.key and not self._are_joined(end.carrier.key, item.key):
                off = min((body.off_mm(end.point_mm) for body in bodies), default=MOST_REACH_MM)
                if off <= min(max(LEAST_REACH_MM, TIMES_SIDE * side), MOST_REACH_MM):
                    found.append((round(off, 1), item.key, item))
        if not found:
            return None
        off, key, item = min(found, key=lambda one: one[:2])
        if isinstance(item, Carrier):
            return at_nearest(item, end.point_mm, larger_side_mm(end.carrier) / 2.0 + off), item.place.label, off
        return Spot(key, None), item.place.label, off

    def _are_joined(self, one: str, other: str) -> bool:
        """Whether two elements are joined, directly or through one other."""
        near = self._book.near(one)
        return other in near or not near.isdisjoint(self._book.near(other))


def _told(end: End, spot: Spot, other: str, off_mm: float) -> Problem:
    label = end.carrier.place.label
    if spot.where in {START, END} and spot.point_mm is not None:
        what = f"their ends are {distance(end.point_mm, spot.point_mm):.0f} mm apart and aren't joined"
        where = " / ".join(sorted((label, other)))
    else:
        where = f"{label} / {other}"
        what = f"an end of the first is {off_mm:.0f} mm from the second and isn't joined to it"
    return Problem(
        where, what, "so no circuit is led from one to the other there; whether they are meant to be apart can't be told",
        "if cables pass there, close the gap or connect their ports", ProblemKind.GAP, 2,
    )  # fmt: skip


def _runs_beside(end: End, other: Carrier) -> bool:
    """Whether the nearest end of another carrier points the same way: neighbours in a bank end side by side, and aren't meant to meet."""
    ends = [one for one in ends_of(other) if one.frame is not None]
    nearest = min(ends, key=lambda one: distance(one.point_mm, end.point_mm), default=None)
    if end.frame is None or nearest is None or nearest.frame is None:
        return False
    return same_way(end.frame[0], nearest.frame[0])

"""Random grids of carriers with equipment above them, and the shortest ways on them by plain means that know nothing of joins."""

import math
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from checker.model import Carrier, Circuit, Equipment, Installation, Service, WayLimits
from tests.installations import STEEL_50, carrier, circuit, installation, lanes, outlet

Crossing = tuple[int, int]
#: Between crossings, in mm: all alike make many ways as long as each other, others tell them apart.
STEPS = st.sampled_from([[2000.0] * 4, [2000.0, 3100.0, 1700.0, 4300.0]])
SHARES = st.sampled_from([0.25, 0.5, 0.75])
#: At crossings several carriers are as near, so that the way is to choose where it comes in.
CROSSINGS = st.sampled_from([0.0, 0.5, 1.0])
ABOVE_MM = 200.0
#: Of ways whose lengths differ by less than this any is the shortest: it is far less than steps differ by.
SAME_MM = 0.01


@dataclass(frozen=True, slots=True)
class Grid:
    """Carriers between crossings of a grid, with where equipment hangs above them: its carrier and the share of its length."""

    pairs: dict[str, tuple[Crossing, Crossing]]
    at: tuple[float, ...]
    carriers: tuple[Carrier, ...]
    equipment: tuple[Equipment, ...]
    above: dict[str, tuple[str, float]]
    circuits: tuple[Circuit, ...]

    @property
    def model(self) -> Installation:
        return installation(*self.carriers, *self.equipment, *self.circuits)

    def length(self, key: str) -> float:
        (x1, y1), (x2, y2) = self.pairs[key]
        return abs(self.at[x1] - self.at[x2]) + abs(self.at[y1] - self.at[y2])


@st.composite
def grids(draw: st.DrawFn, shares: st.SearchStrategy[float] = SHARES) -> Grid:
    steps = draw(STEPS)
    at = tuple(sum(steps[:number]) for number in range(5))
    columns, rows = draw(st.integers(2, 4)), draw(st.integers(2, 4))
    every = [
        ((x, y), (x + dx, y + dy))
        for x in range(columns)
        for y in range(rows)
        for dx, dy in ((1, 0), (0, 1))
        if x + dx < columns and y + dy < rows
    ]
    chosen = draw(st.lists(st.sampled_from(every), min_size=2, max_size=len(every), unique=True))
    pairs, carriers = {}, []
    for number, (one, other) in enumerate(chosen):
        key = f"K{number:02}"
        pairs[key] = (one, other) if draw(st.booleans()) else (other, one)
        start, end = ((at[x], at[y], 0.0) for x, y in pairs[key])
        section = draw(st.sampled_from([STEEL_50, STEEL_50, replace(STEEL_50, lanes=lanes(Service.POWER))]))
        carriers.append(carrier(key, start, end, section))
    free = sorted(item.key for item in carriers if item.section == STEEL_50)
    equipment, above = [], {}
    for number in range(draw(st.integers(2, 4)) if free else 0):
        key, share = draw(st.sampled_from(free)), draw(shares)
        (x1, y1, _), (x2, y2, _) = next((item.start_mm, item.end_mm) for item in carriers if item.key == key)  # type: ignore[misc]
        equipment.append(outlet(f"E{number}", (x1 + share * (x2 - x1), y1 + share * (y2 - y1), ABOVE_MM)))
        above[f"E{number}"] = (key, share)
    circuits = []
    for number in range(draw(st.integers(1, 4)) if equipment else 0):
        one, other = draw(st.sampled_from(sorted(above))), draw(st.sampled_from(sorted(above)))
        landed = {above[one][0], above[other][0]}
        closed = frozenset(draw(st.lists(st.sampled_from(sorted(pairs)), max_size=3))) - landed
        service = draw(st.sampled_from([Service.POWER, Service.DATA]))
        told = ("some closed: a test",) if closed else ()
        circuits.append(circuit(f"C{number}", one, other, service=service, limits=WayLimits((), closed, told)))
    return Grid(pairs, at, tuple(carriers), tuple(equipment), above, tuple(circuits))


def open_to(grid: Grid, item: Circuit) -> list[str]:
    """The carriers that a circuit may pass: those with no lanes take every service, those for power no data."""
    fits = {found.key for found in grid.carriers if found.section == STEEL_50 or item.service is Service.POWER}
    return sorted(fits - item.limits.closed)


def shortest(grid: Grid, item: Circuit) -> float:
    """The length of the shortest way, by relaxing until nothing changes; infinite: there is none."""
    (first, share), (last, other_share) = grid.above[item.origin], grid.above[item.calls[0]]
    among = open_to(grid, item)
    far = dict.fromkeys((crossing for key in among for crossing in grid.pairs[key]), math.inf)
    begin, end = grid.pairs[first]
    far[begin], far[end] = share * grid.length(first), (1 - share) * grid.length(first)
    for _ in far:
        for key in among:
            one, other = grid.pairs[key]
            far[one] = min(far[one], far[other] + grid.length(key))
            far[other] = min(far[other], far[one] + grid.length(key))
    begin, end = grid.pairs[last]
    around = min(far[begin] + other_share * grid.length(last), far[end] + (1 - other_share) * grid.length(last))
    straight = abs(share - other_share) * grid.length(first) if first == last else math.inf
    return min(around, straight)


def trail(grid: Grid, item: Circuit, via: str) -> float:
    """The length of the shortest way by a carrier that passes none twice, by trying all; infinite: there is none."""
    (first, share), (last, other_share) = grid.above[item.origin], grid.above[item.calls[0]]
    among, best = open_to(grid, item), [math.inf]

    def go(at: Crossing, used: frozenset[str], length: float) -> None:
        for key in among:
            if key in used or at not in grid.pairs[key] or length > best[0]:
                continue
            one, other = grid.pairs[key]
            if key == last:
                left = other_share if at == one else 1 - other_share
                if via in {*used, key}:
                    best[0] = min(best[0], length + left * grid.length(key))
                continue
            go(other if at == one else one, used | {key}, length + grid.length(key))

    one, other = grid.pairs[first]
    go(one, frozenset({first}), share * grid.length(first))
    go(other, frozenset({first}), (1 - share) * grid.length(first))
    return best[0]

"""Few cases in which every pair of values of two axes occurs. Always the same ones."""

import itertools
from collections.abc import Mapping, Set

Pair = tuple[tuple[str, str], tuple[str, str]]


def all_pairs(axes: Mapping[str, tuple[str, ...]], excluded: Set[Pair]) -> list[Pair]:
    """Every pair of values of two axes that may occur, in the order of the axes."""
    pairs = [
        ((one, a), (other, b)) for one, other in itertools.combinations(axes, 2) for a in axes[one] for b in axes[other]
    ]
    return [pair for pair in pairs if pair not in excluded and pair[::-1] not in excluded]


def covering(axes: Mapping[str, tuple[str, ...]], excluded: Set[Pair]) -> list[dict[str, str]]:
    """Cases in which each allowed pair occurs, and no excluded one.

    Each case starts from the first pair that is still missing; every other axis takes the value with which most missing pairs occur.
    """
    waiting = dict.fromkeys(all_pairs(axes, excluded))
    cases = []
    while waiting:
        case = _filled(dict(next(iter(waiting))), axes, excluded, waiting)
        if case is None:
            raise ValueError(f"no case can hold {next(iter(waiting))}")
        cases.append({axis: case[axis] for axis in axes})
        for pair in itertools.combinations(cases[-1].items(), 2):
            waiting.pop(pair, None)
    return cases


def _filled(
    case: dict[str, str], axes: Mapping[str, tuple[str, ...]], excluded: Set[Pair], waiting: Mapping[Pair, None]
) -> dict[str, str] | None:
    """A case with all axes; None where the rest can't be filled. As deep as there are axes."""
    left = [axis for axis in axes if axis not in case]
    if not left:
        return case
    order = list(axes)

    def new(axis: str, value: str) -> int:
        return sum(
            (((axis, value), have) if order.index(axis) < order.index(have[0]) else (have, (axis, value))) in waiting
            for have in case.items()
        )

    axis = left[0]
    for value in sorted(axes[axis], key=lambda value: -new(axis, value)):
        item = (axis, value)
        if any((item, have) in excluded or (have, item) in excluded for have in case.items()):
            continue
        found = _filled({**case, axis: value}, axes, excluded, waiting)
        if found is not None:
            return found
    return None

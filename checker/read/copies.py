"""Carriers that lie in the same place: one of them is a copy as a rule, and cables that lie in one aren't counted in the other."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from checker.model import Carrier, Problem, ProblemKind, Vec
from checker.model.texts import MOST_NAMED, listed

#: Of more such places than this, one problem names the first.
MOST_SINGLE = 50
HINT = "delete what is there twice, or leave it out by [[ignore]] in wayroom.toml"


def same_places(carriers: Iterable[Carrier]) -> list[Problem]:
    """A problem for each place in which several carriers lie, end at end, to a millimetre.

    Those that have one GlobalId aren't named here: that they do is told already.
    """
    by_axis: dict[tuple[tuple[int, ...], ...], list[Carrier]] = defaultdict(list)
    for carrier in carriers:
        points = [_rounded(point) for point in carrier.axis_mm]
        if points:
            by_axis[min(tuple(points), tuple(points[::-1]))].append(carrier)
    groups = [group for group in by_axis.values() if len({carrier.place.global_id for carrier in group}) > 1]
    if len(groups) <= MOST_SINGLE:
        return [_problem(group, f"{len(group)} carriers lie in the same place, end at end") for group in groups]
    return [
        _problem([one for group in groups for one in group], f"carriers lie in the same place, in {len(groups)} places")
    ]


def _problem(carriers: list[Carrier], what: str) -> Problem:
    labels = list(_labels(carriers))
    why = "so cables are counted in one of them and not in the others, which may be copies"
    return Problem(listed(labels, between="; "), what, why, HINT, ProblemKind.GAP, len(carriers))


def _labels(carriers: list[Carrier]) -> Iterator[str]:
    """What tells one from the other: a copy often has the same tag."""
    names = [carrier.place.label for carrier in carriers]
    for carrier in carriers:
        is_alone = len(names) <= MOST_NAMED and names.count(carrier.place.label) == 1
        yield f"{carrier.place.model}, {carrier.place.label}" + ("" if is_alone else f" ({carrier.place.global_id})")


def _rounded(point: Vec) -> tuple[int, ...]:
    return tuple(round(number) for number in point)

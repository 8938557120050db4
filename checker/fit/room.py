"""How many more cables of a kind the code lets in."""

from collections.abc import Callable
from dataclasses import replace

from checker.fit.by_code import ByCode
from checker.fit.cables import MOST_CABLES
from checker.fit.geometry import proof_against
from checker.model import LoadedCompartment, PlacedCable
from checker.rule import Outcome

#: Under a code that grants three cables more than two, one more can make a pass. Beyond so many more cables never make the answer better.
ONE_BY_ONE = 10


def most_by_code(by_code: ByCode, subject: LoadedCompartment, one: PlacedCable) -> int | None:
    """The largest count that passes beside what lies there and isn't proved not to go in; None: it can't be said.

    More than ``MOST_CABLES`` aren't counted.

    The first ``ONE_BY_ONE`` are all tried, then ever more of them, halving what is open.

    Args:
        by_code: The code.
        subject: The compartment with what lies there.
        one: A cable of the kind.
    """
    if not subject.area_mm2 or not one.area_mm2:
        return None
    room = int((subject.area_mm2 - (subject.occupied_least_mm2 or 0.0)) / (one.at_least().area_mm2 or 1.0)) + 1
    if room > MOST_CABLES:
        return None

    def outcome(count: int) -> Outcome:
        more = replace(subject, cables=(*subject.cables, replace(one, count=count)), with_working=False)
        found = by_code.judged(more).outcome
        # what is proved not to go in doesn't, though a table may be for wider insides
        return Outcome.FAIL if found is Outcome.PASS and proof_against(more) else found

    first = [outcome(count) for count in range(1, min(ONE_BY_ONE, max(room, 0)) + 1)]
    if first and first[0] is Outcome.UNKNOWN:
        return None
    most = max((count for count, answer in enumerate(first, start=1) if answer is Outcome.PASS), default=0)
    if most < ONE_BY_ONE or room <= ONE_BY_ONE:
        return most
    return _last(lambda count: outcome(count) is Outcome.PASS, most, room + 1)


def _last(passes: Callable[[int], bool], known: int, beyond: int) -> int:
    """The last count that passes, of those from one that does up to one that can't."""
    while beyond - known > 1:
        middle = (known + beyond) // 2
        if passes(middle):
            known = middle
        else:
            beyond = middle
    return known

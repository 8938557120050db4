"""Every carrier of the catalogue with every cable: is a packing found for as many as the code lets in?

``python -m tests.benchmarks.pairs [MOST [LEAST [EVERY]]]`` asks of all pairs of which the code lets in LEAST (1) to MOST (40), or of one in
EVERY of them, at UK limits and those of NFPA 70, and prints those for which none was found. ``tests/test_fit_geometry.py`` asks of some.

28 November 2026: for each of 9,675 different pairs of which up to 12 go in one was found, in 70 s beside other work. Before, without
compiled kernels and of carriers that aren't sold where a code is in force too: for each of 5,902 with 13 to 40, in 454 s; and of each
seventeenth with 41 to 160, 314, in 520 s.
"""

import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from checker.fit.by_code import by_code
from checker.fit.cables import kind_of
from checker.fit.carriers import carrier_of_type
from checker.fit.geometry import as_high_as
from checker.fit.room import most_by_code
from checker.fit.subject import compartment_of, run_of
from checker.model import CarrierKind
from checker.rule.plugins import Plugins, load_plugins
from checker.section.loaded import body_of, inside_of
from checker.section.packing import Found, Packing, pack
from checker.section.shapes import Body, Inside

#: The codes, and a straight run in m for which they let in the most; but not NFPA 70's 60 % of runs up to 0.6 m, which is told apart.
RUNS_M = {"bs-7671": 0.5, "nfpa-70": 3.0}


@dataclass(frozen=True, slots=True)
class Pair:
    """A carrier and a cable, as both are, and how many the code lets in."""

    code: str
    carrier: str
    cable: str
    most: int
    inside: Inside
    body: Body

    def packed(self) -> Packing:
        """A packing of as many."""
        return pack(self.inside, [self.body] * self.most)


def pairs(plugins: Plugins, most: int, *, least: int = 1, every: int = 1) -> Iterator[Pair]:
    """Pairs of which the code lets in so many at least and so many at most; those that are alike in all figures only once.

    Args:
        plugins: All that is installed.
        most: So many at most.
        least: So many at least.
        every: Of all pairs only each so manieth is looked at.
    """
    seen = set()
    number = 0
    for key, run_m in RUNS_M.items():
        asked = by_code(plugins.codes[key], plugins, list(CarrierKind))
        cables = {cable: kind_of("--most", cable, plugins.cables) for cable in plugins.cables}
        for item in plugins.carriers.values():
            if item.codes and key not in item.codes:  # it isn't sold where that code is in force
                continue
            carrier = carrier_of_type(item)
            run = run_of(carrier, run_m, 0.0, strict=False)
            empty = replace(compartment_of(carrier, asked.code, (), run), with_working=False)
            inside = inside_of(empty)
            for cable, one in cables.items():
                number += 1
                if number % every:
                    continue
                body = body_of(one)
                count = most_by_code(asked, empty, one)
                if inside is None or body is None or count is None or not least <= count <= most:
                    continue
                high = as_high_as(inside, [body])
                if (high, body, count) not in seen:
                    seen.add((high, body, count))
                    yield Pair(key, item.key, cable, count, high, body)


def main() -> None:
    """Asks about all, and prints what was found."""
    given = [int(text) for text in sys.argv[1:4]]
    most, least, every = (*given, *(40, 1, 1)[len(given) :])
    start, count, tiers = time.perf_counter(), 0, Counter[str]()
    for pair in pairs(load_plugins(), most, least=least, every=every):
        count += 1
        packing = pair.packed()
        tiers[f"{packing.outcome} by {packing.tier}"] += 1
        if packing.outcome is not Found.FOUND:
            print(pair.code, pair.carrier, pair.cable, pair.most, packing.outcome, packing.proof)  # noqa: T201
    print(f"{count} pairs, {dict(tiers)}, {time.perf_counter() - start:.0f} s")  # noqa: T201


if __name__ == "__main__":
    main()

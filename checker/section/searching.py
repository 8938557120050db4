"""The search for a packing, by relaxation from many starts."""

import math
from dataclasses import dataclass
from typing import Any

from checker.section.compiled import Kernels
from checker.section.kernel_relax import MEMORY
from checker.section.prepared import Prepared
from checker.section.starts import Start, starts


@dataclass(frozen=True, slots=True)
class Budget:
    """How long to look: starts settled, how many of them are gone on from, hops from each, and how many in vain."""

    starts: int
    kept: int
    hops: int
    patience: int


@dataclass(slots=True)
class Best:
    """Where bodies lie at a scale."""

    scale: float
    z: Any
    hx: Any
    hy: Any

    @property
    def upright(self) -> list[bool]:
        """Which stand upright."""
        return [bool(y > 0.0) for y in self.hy]


class Search:
    """One question with its room to work in."""

    def __init__(self, asked: Prepared, kernels: Kernels, near: float) -> None:
        """``near``: by how much bodies may overlap, in the question's unit."""
        n = asked.count
        size = 2 * n + 1
        self.asked, self.kernels, self.near = asked, kernels, near
        self.largest = max(hx + r for hx, r in zip(asked.hx, asked.r, strict=True))
        self.flat = 0 if asked.all_round else 1
        self.equal = 1 if asked.equal_circles else 0
        self.stretch = 0.6 / math.sqrt(n)
        self.r, self.wall = kernels.of(asked.r), kernels.of(asked.wall)
        self.out = kernels.floats(16)
        pairs = n * (n - 1) // 2 + 1
        self.lists = (kernels.whole(pairs), kernels.whole(pairs), kernels.floats(size))
        self.rows = tuple(kernels.floats(size) for _ in range(4))
        self.past = kernels.floats(2 * MEMORY * (size + 1))
        self.trial = (kernels.floats(size), kernels.floats(n), kernels.floats(n))
        self.state = kernels.of_whole([1 + n])
        self.box = kernels.of([0.0, 0.0, *asked.extent])

    def settle(self, start: Start, target: float, floor: float) -> Best:
        """Settles one start."""
        asked, kernels = self.asked, self.kernels
        z = kernels.of([*start.z, 0.8 / self.stretch])
        hx = kernels.of([0.0 if up else h for h, up in zip(asked.hx, start.upright, strict=True)])
        hy = kernels.of([h if up else 0.0 for h, up in zip(asked.hx, start.upright, strict=True)])
        scale = kernels.settle(
            z,
            asked.count,
            target,
            floor,
            self.near,
            self.stretch,
            self.flat,
            self.largest,
            hx,
            hy,
            self.r,
            asked.kind,
            self.wall,
            asked.sides,
            *self.lists,
            *self.rows,
            self.past,
            self.out,
        )
        return Best(float(scale), z, hx, hy)

    def hop(self, best: Best, target: float, budget: Budget) -> None:
        """Goes on from what is best, and makes it better."""
        asked = self.asked
        best.scale = float(
            self.kernels.hop(
                best.z,
                best.hx,
                best.hy,
                best.scale,
                asked.count,
                target,
                self.near,
                budget.hops,
                budget.patience,
                self.equal,
                self.state,
                self.box,
                *self.trial,
                self.stretch,
                self.flat,
                self.largest,
                self.r,
                asked.kind,
                self.wall,
                asked.sides,
                *self.lists,
                *self.rows,
                self.past,
                self.out,
            )
        )


def search(asked: Prepared, kernels: Kernels, near: float, target: float, budget: Budget) -> Best:
    """The best that is found; its scale is the target where that's reached."""
    looking = Search(asked, kernels, near)
    settled: list[Best] = []
    rows = starts(asked, kernels)
    for _ in range(budget.starts):
        floor = settled[budget.kept - 1].scale if len(settled) >= budget.kept else 0.0
        best = looking.settle(next(rows), target, floor)
        if best.scale >= target:
            return best
        if best.scale > floor:
            settled.append(best)
            settled.sort(key=lambda one: -one.scale)
            del settled[budget.kept :]
    for best in settled:
        looking.hop(best, target, budget)
        if best.scale >= target:
            return best
    return max(settled, key=lambda one: one.scale, default=best)

"""What of a building only tells where things are: its grid, and its floors."""

from dataclasses import dataclass

from checker.model.geometry import Body


@dataclass(frozen=True, slots=True)
class GridAxis:
    """One axis of a grid as people call it, with the points of its line in plan, two or more, in mm."""

    tag: str
    points_mm: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A grid: its sets of axes, each of which runs across the others. No set is empty."""

    sets: tuple[tuple[GridAxis, ...], ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """The grids of all models, and the boxes around their floor slabs."""

    grids: tuple[Grid, ...] = ()
    floors: tuple[Body, ...] = ()

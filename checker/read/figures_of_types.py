"""Where ``[[types]]`` of the project file and the model differ: which of the two is used, and what is said of it."""

from collections.abc import Iterator

from checker.model import ProblemKind
from checker.read.figures import DRAWN_DEPTH, Figure, Figures, Said
from checker.read.mapping import Quantity
from checker.read.project import FILE_NAME, TypeSpec

Q = Quantity
PROJECT_FILE = "project file"
DIFFER = f"{FILE_NAME} and the model differ"
#: Walls, dividers and depths from two sources may be rounded differently by this much: walls are a few tenths apart.
AGREE_MM = 0.05


def contradiction(*figures: Figure) -> tuple[str, str]:
    """Why figures can't all be right, and what to do about it."""
    if any(figure.source == PROJECT_FILE for figure in figures):
        return DIFFER, "mend whichever of the two is wrong"
    return "the model contradicts itself, or is wrong", "mend the model"


def overruled(figures: Figures, spec: TypeSpec | None) -> Iterator[Said]:
    """What is to be said of walls and dividers that the project file gives a type and the model has otherwise: the model's are used.

    Args:
        figures: Those of the model alone.
        spec: What the project file says of the type.
    """
    if spec is None:
        return
    wall = None if spec.wall is None else (spec.wall.least, spec.wall.most)
    divider = None if spec.divider_mm is None else (spec.divider_mm, spec.divider_mm)
    for quantity, given in ((Q.WALL, wall), (Q.DIVIDER, divider)):
        has = figures.first(quantity)
        if given is None or has is None or given[0] - AGREE_MM <= has.value_mm <= given[1] + AGREE_MM:
            continue
        said = f"{given[0]:g}" if given[0] == given[1] else f"{given[0]:g} to {given[1]:g}"
        what = (
            f"{_entry(spec)} gives a {quantity.value}_mm of {said}; the model has {has.value_mm:g} mm "
            f"({has.source}), which is used"
        )
        yield Said(ProblemKind.ASSUMPTION, what, DIFFER, "mend whichever of the two is wrong", of_type=True)


def usable_depth(
    figures: Figures, spec: TypeSpec | None, of_model: Figure | None, height: Figure | None
) -> Figure | None:
    """The usable depth: the project file's comes before the model's, but not where it is more than the carrier is high.

    Args:
        figures: Of the carrier; what is to be said is added.
        spec: What the project file says of its type.
        of_model: What the model says of it.
        height: The height that is used.
    """
    if spec is None or spec.usable_depth_mm is None:
        return of_model
    given = spec.usable_depth_mm
    if height is not None and given > height.value_mm:
        used = "it isn't used" if of_model is None else f"the model's {of_model.value_mm:g} mm is used"
        what = f"{_entry(spec)} gives a usable_depth_mm of {given:g}, more than its height of {height.value_mm:g} mm; {used}"
        hint = "give the depth that cables can be laid to, in mm"
        figures.said.append(Said(ProblemKind.CORRECTION, what, "no carrier is deeper than high", hint, of_type=True))
        return of_model
    # less than what is drawn may well be usable, as a maker counts it; more may not
    is_told = of_model is not None and (given > of_model.value_mm or of_model.source != DRAWN_DEPTH)
    if of_model is not None and is_told and abs(of_model.value_mm - given) > AGREE_MM:
        what = (
            f"{_entry(spec)} gives a usable_depth_mm of {given:g}, which is used; the model has {of_model.value_mm:g} mm "
            f"({of_model.source})"
        )
        hint = "mend whichever of the two is wrong"
        figures.said.append(Said(ProblemKind.ASSUMPTION, what, DIFFER, hint, of_type=True))
    return Figure(given, PROJECT_FILE)


def _entry(spec: TypeSpec) -> str:
    return f"[[types]] {spec.name!r} of {FILE_NAME}"

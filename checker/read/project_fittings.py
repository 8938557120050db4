"""What ``wayroom.toml`` says of fittings."""

from collections.abc import Sequence
from dataclasses import dataclass

from pydantic import Field, model_validator

from checker.model import Partition
from checker.model.words import wildcard
from checker.read.mapping import Part

CONTRADICTED = "several entries of [[fittings]] fit it, and say different things of it: none of them is believed"
#: No bend is wider.
MOST_RADIUS_MM = 20_000.0
#: A radius that is declared and one that is drawn may be rounded differently by this much.
AGREE_MM = 1.0


class FittingSpec(Part):
    """``[[fittings]]``: of fittings of a name, tag or type, whether they keep the compartments apart, and how tight they bend.

    ``*`` and ``?`` are wildcards. ``radius_mm`` is of the centre line, for bends that the model draws without one.
    """

    name: str = Field(min_length=1)
    partition: Partition | None = None
    radius_mm: float | None = Field(default=None, gt=0, le=MOST_RADIUS_MM)
    reason: str = ""

    @model_validator(mode="after")
    def _says_something(self) -> "FittingSpec":
        if self.partition is None and self.radius_mm is None:
            raise ValueError("give partition or radius_mm: what it says of them")
        if self.partition is not None and not self.reason.strip():
            raise ValueError("give a reason with partition: it is printed with every finding that it touches")
        return self


@dataclass(frozen=True, slots=True)
class Declared:
    """What is declared of one fitting; nothing where the entries that fit it, ``entries`` by number, contradict each other."""

    partition: Partition | None = None
    why: str = ""
    radius_mm: float | None = None
    entries: tuple[int, ...] = ()
    is_contradicted: bool = False

    def overruled_by(self, radius_mm: float | None) -> str:
        """What is to be said where the model draws another radius than is declared, which is used; empty where it doesn't."""
        if self.radius_mm is None or radius_mm is None or abs(radius_mm - self.radius_mm) <= AGREE_MM:
            return ""
        return (
            f"[[fittings]] gives a radius_mm of {self.radius_mm:g}; the model draws {radius_mm:.4g} mm, which is used"
        )


def declared_of(specs: Sequence[FittingSpec], names: Sequence[str]) -> Declared:
    """What the entries of a project file declare of a fitting.

    Args:
        specs: The entries, in the order of the file.
        names: Its name, its tag and its type's name.
    """
    entries = [
        number for number, spec in enumerate(specs) if any(wildcard(spec.name).fullmatch(name) for name in names)
    ]
    if not entries:
        return Declared()
    fitting = [specs[number] for number in entries]
    parted = [spec for spec in fitting if spec.partition is not None]
    radii = {spec.radius_mm for spec in fitting if spec.radius_mm is not None}
    if len({spec.partition for spec in parted}) > 1 or len(radii) > 1:
        return Declared(entries=tuple(entries), is_contradicted=True)
    first = parted[0] if parted else None
    return Declared(
        first.partition if first else None, first.reason if first else "", next(iter(radii), None), tuple(entries)
    )

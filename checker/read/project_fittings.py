"""What ``wayroom.toml`` says of fittings."""

from collections.abc import Sequence
from dataclasses import dataclass

from pydantic import Field

from checker.model import Partition
from checker.model.words import wildcard
from checker.read.mapping import Part

CONTRADICTED = (
    "several entries of [[fittings]] fit it, and say different things of its partition: none of them is believed"
)


class FittingSpec(Part):
    """``[[fittings]]``: whether fittings of a name, tag or type keep the compartments apart; ``*`` and ``?`` are wildcards."""

    name: str = Field(min_length=1)
    partition: Partition
    reason: str = Field(min_length=1)


@dataclass(frozen=True, slots=True)
class Declared:
    """What is declared of one fitting; nothing where the entries that fit it, ``entries`` by number, contradict each other."""

    partition: Partition | None = None
    why: str = ""
    entries: tuple[int, ...] = ()
    is_contradicted: bool = False


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
    first = specs[entries[0]]
    if any(specs[number].partition is not first.partition for number in entries):
        return Declared(entries=tuple(entries), is_contradicted=True)
    return Declared(first.partition, first.reason, tuple(entries))

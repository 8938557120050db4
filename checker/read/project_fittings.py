"""What ``wayroom.toml`` says of fittings."""

from pydantic import Field

from checker.model import Partition
from checker.read.mapping import Part


class FittingSpec(Part):
    """``[[fittings]]``: whether fittings of a name, tag or type keep the compartments apart; ``*`` and ``?`` are wildcards."""

    name: str = Field(min_length=1)
    partition: Partition
    reason: str = Field(min_length=1)

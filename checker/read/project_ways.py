"""What ``wayroom.toml`` says of the ways of circuits, of redundant pairs, and of how much more cable than way is cut."""

from pydantic import Field, model_validator

from checker.model import CarrierKind, Service
from checker.read.mapping import Part

#: No way is looked at that is longer than the shortest by more.
MOST_NEAR_M = 1000.0


class RoutingSpec(Part):
    """``[routing]``: ``near_m`` is by how much a way may be longer than the shortest to be looked at as well; None: none is."""

    near_m: float | None = Field(default=None, ge=0, le=MOST_NEAR_M)


class ClosedSpec(Part):
    """``[[closed]]``: carriers that no circuit is led through. Names, tags and types; ``*`` and ``?`` are wildcards."""

    carriers: tuple[str, ...] = Field(min_length=1)
    reason: str = Field(min_length=1)


class WaySpec(Part):
    """``[[ways]]``: how some circuits are led; all that is given of ``circuits`` and ``services`` must match."""

    circuits: tuple[str, ...] = ()
    services: tuple[Service, ...] = ()
    via: tuple[str, ...] = ()
    avoid: tuple[str, ...] = ()
    kinds: tuple[CarrierKind, ...] = ()
    own_containment: bool = False
    reason: str = ""

    @model_validator(mode="after")
    def _says_something(self) -> "WaySpec":
        if not self.circuits and not self.services:
            raise ValueError("give circuits or services: which circuits it speaks of")
        if not (self.via or self.avoid or self.kinds or self.own_containment):
            raise ValueError("give via, avoid, kinds or own_containment: what it asks of them")
        return self


class RedundantSpec(Part):
    """``[[redundant]]``: two circuits that may share no carrier; what ``*`` stands for must be the same in both marks."""

    circuits: tuple[str, str]

    @model_validator(mode="after")
    def _as_many_wildcards(self) -> "RedundantSpec":
        one, other = self.circuits
        if one == other:
            raise ValueError("give two different marks")
        if one.count("*") != other.count("*") or one.count("?") != other.count("?"):
            raise ValueError("both marks need the same wildcards, which stand for the same text")
        return self


class LengthsSpec(Part):
    """``[lengths]``: what is cut beyond the way and its drops: a share of them, and a length at each end of a cable."""

    allowance_percent: float = Field(default=0.0, ge=0, le=100)
    end_allowance_m: float = Field(default=0.0, ge=0, le=100)

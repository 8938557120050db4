"""How the rating of a circuit was reached, figure by figure."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Factor:
    """One figure that a base rating is multiplied with, as ``Cg``; None: not known. ``assumed``: what it goes by wasn't given."""

    name: str
    value: float | None
    source: str
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Rating:
    """The chain of a circuit's rating where it governs. Currents are in A; None: not known, or not one figure.

    Attributes:
        carrier: Key of the governing segment; empty: none is known.
        cable: Its live conductors in words.
        csa_mm2: Their cross-section; None too where the code's sizes are other ones.
        base_a: Rating of one set before any factor, for the method that ``base_source`` says.
        factors: In order.
        capacity_a: What all sets together carry there.
        required_a: What they must carry, and why that.
        assumptions: Inputs that weren't given, each with what was taken.
        grouping_factor: Cg, also where it isn't among the factors.
        short: Keys of all carriers where it is known to carry too little, in the order of its way.
    """

    carrier: str = ""
    cable: str = ""
    csa_mm2: float | None = None
    base_a: float | None = None
    base_source: str = ""
    factors: tuple[Factor, ...] = ()
    capacity_a: float | None = None
    required_a: float | None = None
    required_why: str = ""
    assumptions: tuple[str, ...] = ()
    grouping_factor: float | None = None
    short: tuple[str, ...] = ()

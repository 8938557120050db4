"""What the cables of a run weigh together, and with how much they may be pulled: each as little and as much as it may be."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.model import PlacedCable, Service
from checker.rule.needs import of_circuit
from checker.units import awg_area_mm2
from rules.pulling.forces import G
from rules.pulling.limits import TensionLimits
from rules.pulling.runs import named
from rules.support.mass import ALUMINIUM_WORDS, COPPER_WORDS, mass_of

#: Cores of a data cable of four pairs.
FOUR_PAIR_CORES = 8
#: What stands for the metal of those.
DATA = "data"
#: What is told apart of cables as they lie: more of them lie as they fall.
TOLD_APART = 5


@dataclass(frozen=True, slots=True)
class Drawn:
    """Cables that are drawn together, some of them perhaps.

    Attributes:
        heaps: The diameters of what may be drawn together: what is certain, that with each other cable, and all; a flat one is infinite.
        least_n_per_m: What weighs at the least, of what is certain.
        most_n_per_m: What all weighs at the most; None: not known.
        weakest_n: With how much all may be pulled, so that no part of it that may be there alone is pulled with too much; None: not known.
        strongest_n: With how much what is certain may be pulled at the most, whatever else is there with its weight and its strength.
        by: The names of the limits that say so.
        estimated: What an estimated mass supposes, and what the cable is called.
        lacking: What isn't known, and the question that would settle it.
    """

    heaps: tuple[tuple[float, ...], ...]
    least_n_per_m: float
    most_n_per_m: float | None
    weakest_n: float | None
    strongest_n: float
    by: tuple[str, ...]
    estimated: tuple[tuple[str, str], ...]
    lacking: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Part:
    """What one row's cables weigh at the least and the most, in N/m, and bear at the least and the most, in N."""

    lightest: float
    weighs: float
    weakest: float
    strongest: float
    is_data: bool
    size: tuple[float, str]


def drawn_together(certain: Sequence[PlacedCable], perhaps: Sequence[PlacedCable], limits: TensionLimits) -> Drawn:
    """Weighs cables and adds up what they bear.

    Args:
        certain: What is drawn through a run for certain.
        perhaps: What is drawn through it too, or isn't.
        limits: What conductors and data cables bear.
    """
    lacking: dict[str, str] = {}
    estimated: dict[str, str] = {}
    cables = (*certain, *perhaps)
    parts, unsized = [], []
    for cable in cables:
        mass = mass_of(cable)
        if cable.count is None:
            lacking[f"how many cables of circuit {cable.circuit} lie in it isn't known"] = of_circuit(
                "number of cables", cable.circuit
            )
        if mass.most is None:
            lacking[f"the mass of {named(cable)} isn't known"] = f"the mass of {named(cable)}"
        elif mass.is_estimated:
            weigh, are_not = ("weighs", "isn't") if cable.key else ("weigh", "aren't")
            armour = "" if cable.cores == 1 else f", and {are_not} armoured"
            estimated[
                f"{named(cable)} {weigh} {mass.most:.0f} kg/km at the most, as estimated from its size{armour}"
            ] = named(cable)
        part = _part(cable, limits)
        if part is None:
            unsized.append(named(cable))
        else:
            parts.append(part)
    for name in unsized:
        lacking[f"with how much {name} may be pulled isn't known"] = f"the conductor size of {name}"
    sure = parts[: len(certain)]
    grip = limits.grip_n.value if limits.grip_n is not None else math.inf
    strongest = math.inf
    if not unsized:
        strongest = min(_strongest(sure, parts[len(certain) :], limits), grip)
    least = math.fsum((cable.count or 0) * mass_of(cable).least for cable in certain)
    most = None if lacking else math.fsum(part.weighs for part in parts)
    return Drawn(
        heaps=_heaps(certain, perhaps),
        least_n_per_m=least / 1000.0 * G,
        most_n_per_m=most,
        weakest_n=None if most is None else min(_weakest(sure, parts[len(certain) :], limits), grip),
        strongest_n=strongest,
        by=_limits_of(parts),
        estimated=tuple(estimated.items()),
        lacking=tuple(lacking.items()),
    )


def _part(cable: PlacedCable, limits: TensionLimits) -> _Part | None:
    """What the cables of a row weigh and bear; None where what they bear isn't known."""
    count, is_data = cable.count or 0, cable.service is Service.DATA
    mass = mass_of(cable)
    lightest, weighs = (count * (kg_per_km or 0.0) / 1000.0 * G for kg_per_km in (mass.least, mass.most))
    csa = cable.csa_mm2 if cable.csa_mm2 is not None else awg_area_mm2(cable.awg_kcmil)
    if is_data and csa is None and cable.cores == FOUR_PAIR_CORES and not cable.key.lower().startswith("fibre"):
        bears = count * limits.four_pair_n.value
        return _Part(lightest, weighs, bears, bears, is_data, (0.0, DATA))
    if csa is None or cable.cores is None:
        return None
    word = cable.conductor.strip().lower()
    metal = "copper" if word in COPPER_WORDS else "aluminium" if word in ALUMINIUM_WORDS else ""
    copper, aluminium = limits.copper_n_per_mm2.value, limits.aluminium_n_per_mm2.value
    mm2 = count * cable.cores * csa
    weakest = mm2 * (copper if metal == "copper" else min(copper, aluminium))
    strongest = mm2 * (aluminium if metal == "aluminium" else max(copper, aluminium))
    return _Part(lightest, weighs, weakest, strongest, is_data, (csa, metal))


def _weakest(certain: Sequence[_Part], perhaps: Sequence[_Part], limits: TensionLimits) -> float:
    """With how much all may be pulled so that, whatever of it is there, it is pulled with no more than it bears.

    The force grows with the weight. So what all weighs over this is at least what any part of it weighs over what that part bears. Without
    data cables beside others no part is worse than the worst of its members. With them the data cables may come to bear all.
    """
    every = [*certain, *perhaps]
    whole = math.fsum(part.weighs for part in every)
    data = [part.weakest for part in certain if part.is_data]
    others = [part.weakest for part in certain if not part.is_data]
    bears = []
    if not (data and others):
        members = [([*data, *others], math.fsum(part.weighs for part in certain))] if certain else []
        members += [([part.weakest], part.weighs) for part in perhaps]
        bears += [whole * math.fsum(weakest) / weighs for weakest, weighs in members if weighs > 0.0]
    if len({part.is_data for part in every}) > 1:
        bears.append(math.fsum(data) if data else min(part.weakest for part in perhaps if part.is_data))
    share = limits.unequal_share.value if _may_be_unequal(every) else 1.0
    return share * min(bears, default=math.fsum(part.weakest for part in every))


def _strongest(certain: Sequence[_Part], perhaps: Sequence[_Part], limits: TensionLimits) -> float:
    """With how much what is certain may be pulled at the most.

    Whatever else is there, all of it bears no more than it bears together, and is no stronger for its weight than the best of its members.
    """
    own = math.fsum(part.strongest for part in certain)
    light = math.fsum(part.lightest for part in certain)
    share = limits.unequal_share.value if _are_unequal(certain) else 1.0
    lent = [light * part.strongest / part.lightest if part.lightest > 0.0 else math.inf for part in perhaps]
    return share * min(max([own, *lent]), own + math.fsum(part.strongest for part in perhaps))


def _may_be_unequal(parts: Iterable[_Part]) -> bool:
    """Whether conductors may differ; one of which the metal isn't known may."""
    return len({part.size for part in parts}) > 1


def _are_unequal(parts: Iterable[_Part]) -> bool:
    """Whether conductors differ for certain."""
    sizes = {part.size for part in parts}
    return len({area for area, _ in sizes}) > 1 or len({metal for _, metal in sizes if metal}) > 1


def _limits_of(parts: Sequence[_Part]) -> tuple[str, ...]:
    """The names of the limits by which cables bear what they do."""
    metals = {metal for _, metal in (part.size for part in parts)}
    names = ["copper_n_per_mm2"] if metals & {"copper", ""} or not parts else []
    names += ["aluminium_n_per_mm2"] if metals & {"aluminium", ""} else []
    names += ["four_pair_n"] if DATA in metals else []
    return (*names, "unequal_share") if _may_be_unequal(parts) else tuple(names)


def _heaps(certain: Sequence[PlacedCable], perhaps: Sequence[PlacedCable]) -> tuple[tuple[float, ...], ...]:
    """The diameters of what may lie in it together: what is certain, that with each other cable, and all."""
    heaps = [certain, *([*certain, cable] for cable in perhaps), [*certain, *perhaps]]
    return tuple(dict.fromkeys(tuple(sorted(_diameters(heap))) for heap in heaps if heap))


def _diameters(cables: Iterable[PlacedCable]) -> Iterator[float]:
    for cable in cables:
        # what isn't round, or of no known size, never lies in the order of equal ones
        size = cable.diameter_mm if cable.diameter_mm is not None else math.inf
        yield from [size] * min(cable.count or 0, TOLD_APART)

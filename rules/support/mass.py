"""What a cable weighs: as it is given, else between what its conductors weigh alone and an estimate on the upper side."""

from dataclasses import dataclass

from checker.model import PlacedCable, cable_area_mm2
from checker.units import awg_area_mm2

#: Densities in g/cm³, which is kg per km and mm².
COPPER, ALUMINIUM = 8.89, 2.70
#: The heaviest usual sheath, of low smoke; PVC has 1.40, XLPE 0.92.
SHEATH = 1.5
#: Strands and cores are laid in turns: so much longer than the cable at the most.
LAY = 1.05
#: How keys of armoured cables of the catalogue begin: of them the estimate, which knows of no steel, isn't the most.
ARMOURED = ("bs5467-", "fibre-armoured-")
ALUMINIUM_WORDS = frozenset({"aluminium", "aluminum", "al"})
COPPER_WORDS = frozenset({"copper", "cu"})


@dataclass(frozen=True, slots=True)
class Mass:
    """Of one cable, in kg/km. ``most`` None: it can't be said. ``is_estimated``: between the two, by its conductors and its size."""

    least: float
    most: float | None
    is_estimated: bool = False


def mass_of(cable: PlacedCable) -> Mass:
    """What one cable weighs at least and at most.

    Without a figure, at least what its cores weigh, laid straight, and where the metal isn't known of aluminium. At most, if it isn't
    armoured, its cores of copper (unless it is said to be aluminium) with their lay, one more in any but a single round core (a bare
    protective or drain wire isn't counted among the cores), and all the rest of it as heavy as the heaviest usual sheath.
    """
    if cable.mass_kg_per_km is not None:
        return Mass(cable.mass_kg_per_km, cable.mass_kg_per_km)
    csa = cable.csa_mm2 if cable.csa_mm2 is not None else awg_area_mm2(cable.awg_kcmil)
    if csa is None or cable.cores is None:
        return Mass(0.0, None)
    word = cable.conductor.strip().lower()
    least = cable.cores * csa * (COPPER if word in COPPER_WORDS else ALUMINIUM)
    outside = cable_area_mm2(cable.diameter_mm, cable.width_mm, cable.height_mm)
    if outside is None or cable.key.lower().startswith(ARMOURED):
        return Mass(least, None)
    is_single = cable.cores == 1 and cable.diameter_mm is not None
    metal = (cable.cores if is_single else cable.cores + 1) * csa
    density = ALUMINIUM if word in ALUMINIUM_WORDS else COPPER
    return Mass(least, metal * density * LAY + max(outside - metal, 0.0) * SHEATH, is_estimated=True)

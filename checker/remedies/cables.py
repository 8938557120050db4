"""The next thicker cables of a family."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from checker.model import Cable, Circuit
from checker.network.live import thickness
from checker.rule.catalogue import CableType


def thicker(own: CableType, catalogue: Mapping[str, CableType]) -> list[CableType]:
    """The thicker cables of its family that differ in nothing but size, the thinnest first."""
    found = [
        item for item in catalogue.values() if _alike(item) == _alike(own) and thickness(item) > thickness(own) > 0.0
    ]
    return sorted(found, key=lambda item: (thickness(item), item.key))


def _alike(item: CableType) -> tuple[object, ...]:
    return item.family, item.cores, item.conductor, item.insulation, item.rated_voltage_v


def rows_to_change(circuit: Circuit, catalogue: Mapping[str, CableType]) -> Iterator[CableType]:
    """The cables of a circuit that could be another size, the thickest first: of the catalogue, with the size that they have there."""
    rows = sorted(circuit.cables, key=lambda cable: (-thickness(cable), cable.key))
    for key in dict.fromkeys(cable.key for cable in rows):
        own = catalogue.get(key)
        alike = [cable for cable in rows if cable.key == key]
        if own is not None and all(_is_tabled(cable, own) for cable in alike):
            yield own


def _is_tabled(cable: Cable, own: CableType) -> bool:
    """Whether all that the schedule says of a cable is what the catalogue says."""
    said = (cable.source, cable.csa_mm2, cable.awg_kcmil, cable.cores, cable.conductor.lower(), cable.mass_kg_per_km)
    return said == (own.source, own.csa_mm2, own.awg_kcmil, own.cores, own.conductor.lower(), own.mass_kg_per_km)


def with_cable(circuit: Circuit, own: CableType, item: CableType) -> tuple[Cable, ...]:
    """A circuit's cables with one that the catalogue has instead of another, as the schedule would be read that names it."""
    return tuple(
        replace(
            cable,
            key=item.key,
            diameter_mm=item.diameter_mm,
            width_mm=item.width_mm,
            height_mm=item.height_mm,
            csa_mm2=item.csa_mm2,
            awg_kcmil=item.awg_kcmil,
            stranded=item.stranded,
            source=item.source,
            area_mm2=item.area_mm2,
            planning=item.planning,
            mass_kg_per_km=item.mass_kg_per_km,
            tolerance=item.tolerance,
        )
        if cable.key == own.key
        else cable
        for cable in circuit.cables
    )

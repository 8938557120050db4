"""The cables that a row of the schedule lays, for the worked answers."""

import math
from dataclasses import dataclass

import vet_worked_figures as figures
from vet_worked_ways import RINGS


@dataclass(frozen=True, slots=True)
class Laid:
    """The cables of one row of the schedule."""

    service: str
    number: int
    diameter_mm: float
    csa_mm2: float | None
    stranded: bool
    single_core: bool
    rated_v: float
    circuit_v: float
    mass_kg_per_km: float | None
    """Of one cable; None where no answer needs it."""
    is_loaded: bool
    """Whether its circuit carries a load."""

    @property
    def area_mm2(self) -> float:
        """The area of all of them, each taken as a circle of its outside diameter."""
        return self.number * math.pi / 4 * self.diameter_mm**2


def read_row(row: dict[str, str]) -> Laid:
    """Return what one row of the schedule lays."""
    diameter = float(row["diameter_mm"]) if row["diameter_mm"] else figures.DIAMETERS_MM[row["cable"]]
    mass = float(row["mass_kg_per_km"]) if row["mass_kg_per_km"] else figures.MASSES_KG_PER_KM.get(row["cable"])
    return Laid(
        service=row["service"],
        number=int(row["count"]) * int(row["sets"]) * (2 if row["circuit"] in RINGS else 1),
        diameter_mm=diameter,
        csa_mm2=float(row["csa_mm2"]) if row["csa_mm2"] else None,
        stranded=row["cable"].startswith("h07v-r"),
        single_core=row["cores"] == "1",
        rated_v=float(row["rated_voltage_v"]),
        circuit_v=float(row["voltage_v"]),
        mass_kg_per_km=mass,
        is_loaded=row["loaded_conductors"] != "0" and row["state"] not in ("spare", "removed"),
    )

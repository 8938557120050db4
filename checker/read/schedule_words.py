"""The columns of a schedule as we call them, their units, and the few words by which rows that hold no cable are known. Data only."""

import difflib
from collections.abc import Iterable

NEEDED = ("circuit", "from", "to")
KNOWN = (
    *NEEDED, "service", "cable", "diameter_mm", "width_mm", "height_mm", "count", "csa_mm2", "awg_kcmil", "cores", "conductor",
    "insulation", "rated_voltage_v", "voltage_v", "method", "ambient_c", "third_harmonic", "loaded_conductors", "sets",
    "design_current_a", "device_rating_a", "device", "state", "route", "compartment", "return_way", "apart_from",
    "mass_kg_per_km",
)  # fmt: skip
#: What is said of the circuit as a whole.
SAME_IN_EACH_ROW = (
    "from", "to", "service", "sets", "route", "compartment", "voltage_v", "ambient_c", "third_harmonic", "design_current_a",
    "device_rating_a", "loaded_conductors", "method", "device", "return_way", "apart_from",
)  # fmt: skip
#: The unit of a column, as it may stand behind a number or in brackets in the heading.
UNITS = {
    "diameter_mm": ("mm",),
    "width_mm": ("mm",),
    "height_mm": ("mm",),
    "csa_mm2": ("mm²", "mm2", "mm^2"),
    "rated_voltage_v": ("V",),
    "voltage_v": ("V",),
    "ambient_c": ("°C",),
    "design_current_a": ("A",),
    "device_rating_a": ("A",),
    "mass_kg_per_km": ("kg/km", "g/m"),
}
#: Columns whose numbers may have decimals.
NUMBERS = (*UNITS, "third_harmonic")
#: Units that no column is in. A heading that bears one isn't that column, whatever else it says.
OTHER_UNITS = frozenset(
    {"cm", "m", "in", "inch", "inches", '"', "ft", "mil", "cm²", "cm2", "in²", "in2", "awg", "kcmil", "ka", "ma", "kv", "mv", "k", "°f",
     "kg", "g", "kg/m", "lb", "lb/ft", "lb/kft", "n/m"}
)  # fmt: skip
#: What may stand in a row of units, besides units.
NO_UNIT = frozenset({"-", "–", "—", "no.", "nos.", "pcs", "text", "%"})
#: How a row begins that adds up those above it, in any case.
TOTALS = frozenset(
    {"total", "totals", "subtotal", "sub-total", "sub total", "grand total", "sum", "summe", "gesamt", "zwischensumme", "totaal", "totale"}
)  # fmt: skip
#: What such a row may hold besides: what is added up, or comes along with it. Anything else is of a cable or a circuit.
MAY_BE_TOTALLED = frozenset({"count", "sets", "design_current_a", "device_rating_a", "loaded_conductors"})
#: Columns whose cells may be lists, their parts with a ``;`` between them.
LISTS = ("to", "route", "apart_from")
#: So many comparisons of names are made for suggestions; a file of nothing but misspellings gets no more.
MOST_COMPARISONS = 100_000
LONGEST_COMPARED = 80


class Nearest:
    """Suggests names that are spelled much like one that isn't known, without end to neither the file nor the time."""

    def __init__(self, names: Iterable[str]) -> None:
        self._names = list(names)
        self._left = MOST_COMPARISONS
        self._told: dict[str, tuple[str, ...]] = {}

    def of(self, name: str, most: int = 1, share: float = 0.6) -> tuple[str, ...]:
        """The nearest names, the best first; none where there is none, or where too many were asked for."""
        if len(name) > LONGEST_COMPARED:
            return ()
        if name not in self._told:
            if self._left <= 0:
                return ()
            self._left -= len(self._names)
            self._told[name] = tuple(difflib.get_close_matches(name, self._names, most, share))
        return self._told[name]


def normal(text: str) -> str:
    """A heading or word as it is compared: any case, blanks and line breaks collapsed."""
    return " ".join(text.split()).casefold()

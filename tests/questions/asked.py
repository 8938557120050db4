"""Installations with open questions, for tests: what is asked of them, and what they are with an answer given."""

import re
from dataclasses import replace
from functools import lru_cache

from checker.checking import check_installation
from checker.model import Carrier, CarrierKind, Circuit, Installation, Section, Service
from checker.result.tables import Result
from checker.rule import Basis, Limit
from checker.rule.code import Code
from checker.rule.needs import LOST_ROWS
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, outlet

#: The only rules that are asked, so that others don't add to what is counted here.
RULES = ("fill.compartment", "fill.conduit", "fill.tray", "segregation.compartment", "grouping.rating")
#: Nominal 50 x 50, of which the wall isn't known: between 0 and 3 mm, 2500 to 1936 mm² inside, of which 45 % is 1125.0 to 871.2 mm².
OPEN_50 = Section(width_mm=50.0, height_mm=50.0, source="test")
#: Stands for the rule of trays with a limit of the project's own.
TRAYS = "fill.tray, limited"
OWN = Limit(value=0.4, basis=Basis.PROJECT, source="the test", confidence="given")
NOT_LOADED = {"loaded_conductors": 0.0}


@lru_cache
def code_of(*rules: str) -> Code:
    """The British code with no rules but some."""
    code = load_plugins().codes["bs-7671"]
    limits = {key: limits for key, limits in code.limits.items() if key in rules}
    if TRAYS in rules:
        limits["fill.tray"] = code.limits["fill.tray"].model_copy(update={"space_factor": OWN})
    return replace(code, limits=limits)


def checked(installed: Installation, *rules: str) -> Result:
    """An installation as it is judged by some rules, the usual ones if none is named."""
    return check_installation(installed, code_of(*(rules or RULES)), load_plugins())


def length(
    key: str, number: int, section: Section = OPEN_50, kind: CarrierKind = CarrierKind.TRUNKING, type_name: str = "T-50"
) -> Carrier:
    """A length of 2 m on its own, far from the others, with a board at its start and an outlet at its end of the same number."""
    y = 20_000.0 * number
    return replace(carrier(key, (0, y, 0), (2000, y, 0), section, kind), type_name=type_name)


def ends(number: int) -> tuple[object, object]:
    """The board and the outlet of a length."""
    y = 20_000.0 * number
    return outlet(f"DB{number}", (0, y + 300, 0)), outlet(f"S{number}", (2000, y + 300, 0))


def on(number: int, mark: str, count: int | None = 20, diameter: float | None = 7.8, **more: object) -> Circuit:
    """A circuit of single cores along a length; it carries no load, and its voltage and its cables' are given, unless that is said."""
    given: dict[str, object] = {"electrical": dict(NOT_LOADED), "voltage_v": 230.0} | more
    found = circuit(mark, f"DB{number}", f"S{number}", count=count, area_of=diameter, **given)
    rated = 750.0 if found.voltage_v is not None else None
    return replace(found, cables=(replace(found.cables[0], rated_voltage_v=rated),))


def astray(mark: str, count: int = 3, diameter: float | None = 7.8, **more: object) -> Circuit:
    """A circuit of which it isn't known where it runs, since the model has none of its ends."""
    given: dict[str, object] = {"electrical": dict(NOT_LOADED)} | more
    return circuit(mark, "NOWHERE", "NOWHERE ELSE", count=count, area_of=diameter, **given)


def unknown(result: Result) -> set[str]:
    """The ids of the findings that are unknown."""
    return {finding.id for finding in result.findings if finding.verdict == "unknown"}


def answered(installed: Installation, need: str, share: float, place: str) -> Installation:
    """The installation with a question answered.

    Args:
        installed: As it is.
        need: The question.
        share: Where between its ends the answer lies, 0 to 1.
        place: Where a circuit runs, if that is the question: a carrier's key.
    """
    if need == LOST_ROWS:
        found = on(int(place[1:]), "LOST", round(1 + 40 * share))
        return replace(installed, lost_rows=(), circuits=(*installed.circuits, found))
    wall = re.fullmatch(r"the wall of type '(.+)'", need)
    if wall:
        return _with_carriers(
            installed, wall[1], lambda section: replace(section, wall_mm=_wall(section, share), wall_range_mm=None)
        )
    depth = re.fullmatch(r"the usable depth of type '(.+)'", need)
    if depth:
        return _with_carriers(
            installed,
            depth[1],
            lambda section: replace(section, usable_depth_mm=(section.height_mm or 0.0) * (0.7 + 0.3 * share)),
        )
    laid = re.fullmatch(r"the (kind of bottom|layers of cables) of type '(.+)'", need)
    if laid:
        field = {"kind of bottom": "perforated", "layers of cables": "single_layer"}[laid[1]]
        carriers = tuple(
            replace(item, laying=replace(item.laying, **{field: share < 0.5})) if item.type_name == laid[2] else item
            for item in installed.carriers
        )
        return replace(installed, carriers=carriers)
    of_circuit = re.fullmatch(r"the (.+?) of (?:the cables of )?circuit (.+)", need)
    assert of_circuit, f"no answer is prepared for {need}"
    what, mark = of_circuit.groups()
    circuits = tuple(_answered(item, what, share, place) if item.mark == mark else item for item in installed.circuits)
    return replace(installed, circuits=circuits)


def _wall(section: Section, share: float) -> float:
    least, most = section.wall_range_mm or (0.0, 3.0)
    return least + share * (most - least)


def _with_carriers(installed, type_name, change):  # type: ignore[no-untyped-def]
    carriers = tuple(
        replace(item, section=change(item.section)) if item.type_name == type_name else item
        for item in installed.carriers
    )
    return replace(installed, carriers=carriers)


def _answered(item: Circuit, what: str, share: float, place: str) -> Circuit:
    cable = item.cables[0]
    if what == "way":
        return replace(item, origin=f"DB{place[1:]}", calls=(f"S{place[1:]}",))
    if what == "rated voltage":
        return replace(item, cables=(replace(cable, rated_voltage_v=100.0 + 900.0 * share),))
    if what == "voltage":
        return replace(item, voltage_v=10.0 + 400.0 * share)
    if what == "diameter":
        least, most = cable.diameter_least_mm or 3.0, cable.diameter_mm or 30.0
        return replace(
            item, cables=(replace(cable, diameter_mm=least + share * (most - least), diameter_least_mm=None),)
        )
    if what == "number of cables":
        return replace(item, cables=(replace(cable, count=round(1 + 40 * share)),))
    if what == "service":
        return replace(item, service=list(Service)[round(share * (len(Service) - 1))])
    column = {"design current": "design_current_a", "device rating": "device_rating_a"}.get(what)
    if what == "loaded conductors":
        return replace(item, electrical=item.electrical | {"loaded_conductors": 2.0 + round(share)})
    assert column, f"no answer is prepared for {what}"
    return replace(item, electrical=item.electrical | {column: 1.0 + 60.0 * share})

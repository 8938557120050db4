"""The words for what would settle an unknown verdict, and where it is said.

The same question is always in the same words, so that it can be counted how many verdicts one answer settles.
"""

import re
from collections.abc import Iterable

from checker.model import Carrier, PlacedCable


def of_circuit(what: str, mark: str) -> str:
    """Something of a circuit, as "the design current of circuit C14"."""
    return f"the {what} of circuit {mark}"


def of_cable(what: str, cable: PlacedCable) -> str:
    """Something of a cable: by its key where it has one, so that one answer counts for all of its sort."""
    return f"the {what} of cable {cable.key}" if cable.key else f"the {what} of the cables of circuit {cable.circuit}"


def of_type(what: str, carrier: Carrier) -> str:
    """Something of a carrier that all of its type share; of one without a type its own."""
    return f"the {what} of type {carrier.type_name!r}" if carrier.type_name else of_carrier(what, carrier)


def of_carrier(what: str, carrier: Carrier) -> str:
    """Something of one carrier alone."""
    return f"the {what} of carrier {carrier.place.label}"


def of_sizes(cables: Iterable[PlacedCable]) -> tuple[str, ...]:
    """The sizes and numbers of cables that aren't known."""
    found = []
    for cable in cables:
        if cable.area_mm2 is None:
            found.append(of_cable(SIZE, cable))
        if cable.count is None:
            found.append(of_circuit("number of cables", cable.circuit))
    return tuple(dict.fromkeys(found))


def all_answered(needs: Iterable[str]) -> tuple[str, ...]:
    """All of some questions, each once; none where one of them has no place for an answer, since then the others settle nothing."""
    found = tuple(dict.fromkeys(needs))
    return found if all(answered_in(need)[0] for need in found) else ()


def limit_of(rule_id: str) -> str:
    """The limit that only the project can give."""
    return f"a limit of the project for {rule_id}"


#: What rules and others ask of a cable, a way, a type.
SIZE, WAY, COMPARTMENT, WALL, DEPTH, INSIDE = "diameter", "way", "compartment", "wall", "usable depth", "size"
PERFORATED, SINGLE_LAYER = "kind of bottom", "layers of cables"

ALL_WAYS = "the ways of all circuits"
LOST_ROWS = "the rows of the schedule whose circuit isn't known"
SCHEDULE = "the circuit schedule"
EXISTING = "the circuits that are there already"
DRAWN = "the owners of the cables that the model draws"
#: The last row of all: verdicts of which no question is known.
NOT_KNOWN = "not known what would settle the rest"

_COLUMNS = {
    "way": ("from, to and route", "name ends that the model has, or the carriers of its way"),
    "compartment": ("compartment, or /N in route", "say in which compartment it lies"),
    "service": ("service", "say what it is for"),
    "voltage": ("voltage_v", "give the circuit's voltage"),
    "design current": ("design_current_a", "give Ib"),
    "device rating": ("device_rating_a", "give In"),
    "number of cables": ("count", "give how many there are"),
    "loaded conductors": ("loaded_conductors", "2 or 3 as a rule"),
    "conductor size": ("csa_mm2 or awg_kcmil", "give the size of its live conductors"),
    "conductor": ("conductor", "copper or aluminium"),
    "insulation": ("insulation", "PVC, XLPE, EPR, or a type"),
    "ambient": ("ambient_c", "give a temperature in °C"),
    "third harmonic": ("third_harmonic", "give it as a share"),
    "method": ("method", "give a reference method that the tables have"),
    "sets": ("sets", "give how many parallel sets it has"),
    "device": ("device", "say what it is"),
    "live conductors": ("csa_mm2, cores and loaded_conductors", "give them for each row, or protective conductors a circuit of their own"),
    "end": ("from and to", "name equipment of the model"),
    "neutral": ("loaded_conductors, csa_mm2 and cores", "4 if the other conductor is the neutral; give each conductor's row its size"),
    "cables": ("cable, count and cores", "list all its cables, with how many cores each has"),
    "kind of current": ("service", "power is a.c., data is d.c.; no other service tells it"),
}  # fmt: skip
_CABLE_COLUMNS = {
    "count": ("count", "give how many there are"),
    SIZE: ("diameter_mm", "give the maker's figure, or between what it lies: 10.9-12.4"),
    "rated voltage": ("rated_voltage_v", "give what it is insulated for"),
    "conductor size": ("csa_mm2", "give the size of one conductor"),
    "number of cores": ("cores", "give how many cores it has"),
    "mass": ("mass_kg_per_km", "give the maker's figure"),
}
#: Of a cable, what only the table of cables says.
_OF_TABLE = {"construction", "class"}
_TYPE_KEYS = {
    WALL: ("wall_mm", "give it, or between what it lies: wall_mm = [0.8, 1.5]"),
    DEPTH: ("usable_depth_mm", "side height less the base, or less the rungs"),
    INSIDE: ("width_mm, height_mm and wall_mm (of a conduit diameter_mm and bore_mm)", "or in the model, as its standard foresees"),
    "outside diameter": ("diameter_mm", "or in the model, as its standard foresees"),
    "inside diameter": ("bore_mm, or diameter_mm and wall_mm", "or in the model, as its standard foresees"),
    PERFORATED: ("perforated", "say whether cooling air gets through: perforated = true or false"),
    SINGLE_LAYER: ("single_layer", "say whether cables lie side by side and never on each other"),
    "tiers": ("tiers", "say how many lie above each other"),
    "span": ("span_m", "give the distance of the supports"),
    "safe load": ("safe_load_kg_per_m", "give the maker's figure for that span"),
    "mass": ("mass_kg_per_m", "give the maker's figure"),
}  # fmt: skip
#: What only the model says of a carrier, its type or a run, and how.
_IN_MODEL = {
    "kind": "give it a class of cable carriers, or map it: [[classes]] in wayroom.toml",
    "material": "give it a material, or name the property that has it: [[properties]] in wayroom.toml",
    "length": "draw its axis from end to end",
    "way": "draw its axis and its bends",
    "bends": "draw its bends",
    "radius": "draw its bends, or give radius_mm of their fittings: [[fittings]] in wayroom.toml",
    "ends": "let it end at a box or equipment, if it does",
    "place and size": "draw it with its size, or give that of its type: [[types]] in wayroom.toml",
}
_WAY_THROUGH = "draw it through from face to face, or let it end before"
_PLAIN = {
    ALL_WAYS: ("schedule, from, to and route of the circuits that aren't routed", "routes.csv says why each isn't"),
    LOST_ROWS: ("schedule, the rows that problems.csv names", "give each row a mark"),
    SCHEDULE: ("--circuits, or schedule under [project] in wayroom.toml", "give the schedule of what is drawn in"),
    EXISTING: ("schedule, state", "list what is there already, with the state existing"),
    DRAWN: ("model, or the schedule's marks", "give the model's cables the marks that the schedule has"),
}
#: What a question can be about something of, as the pattern of a text.
NOUNS = (
    "bends of type|the cables of circuit|the data cable of circuit|data cable|cable|circuit|type|carrier|fitting|conduit|the bend|"
    "the bends of conduit|the run of conduit|the run of"
)
_OF = re.compile(rf"the (.+?) of ({NOUNS}) (.+)")
_LIMIT = re.compile(r"a limit of the project for (.+)")
#: Questions in words of their own: where and how each is answered.
_OTHERS = (
    (r"where the run of conduit (.+) ends and turns", "model, conduit {}",
     "join its ends, draw its bends, and a box where cables are drawn in"),
    (r"where (.+) runs", "model, {}", "draw its axis"),
    (r"whether the containment of one side is enough \((.+)\)", 'wayroom.toml, [limits."segregation.spacing"] {}',
     "1 if it is, with a reason"),
)  # fmt: skip


def answered_in(need: str) -> tuple[str, str]:
    """Where the answer to a question is said, and how; blank where that isn't known."""
    limit = _LIMIT.fullmatch(need)
    if limit:
        return f'wayroom.toml, [limits."{limit[1]}"]', "give the figure, with a reason"
    for pattern, where, hint in _OTHERS:
        if other := re.fullmatch(pattern, need):
            return where.format(other[1]), hint
    found = _OF.fullmatch(need)
    if need in _PLAIN or not found:
        return _PLAIN.get(need, ("", ""))
    what, noun, name = found.groups()
    if noun == "circuit":
        column, hint = _COLUMNS.get(what, ("", ""))
        return (f"schedule, {column} of {name}", hint) if column else (f"schedule, {name}", "")
    if noun.endswith(("cable", "of circuit")):
        return _of_cable(what, name, is_named=noun.endswith("cable"))
    if noun == "fitting":
        return f"wayroom.toml, [[fittings]] name = {name!r}", 'partition = "kept" or "open", with a reason'
    if noun in {"bends of type", "the bend"} and what == "radius":
        quoted = name if noun == "bends of type" else repr(name)
        return f"model, or wayroom.toml, [[fittings]] name = {quoted}, radius_mm", "of its centre line, by the maker"
    return _of_carrier(what, name, is_type=noun == "type")


def _of_cable(what: str, name: str, *, is_named: bool) -> tuple[str, str]:
    """Of a cable that has a key for a name, or else of those of a circuit."""
    whose = "" if is_named else f" of {name}"
    if what in _OF_TABLE:
        return f"schedule, cable{whose}", "name a cable that the table has: wayroom list cables"
    column, hint = _CABLE_COLUMNS.get(what, ("", ""))
    place = f"schedule, {column}".rstrip(", ") + whose
    return (f"{place}; or [[cables]] in wayroom.toml" if is_named else place), hint


def _of_carrier(what: str, name: str, *, is_type: bool) -> tuple[str, str]:
    """Of a type, whose name is in quotes, or else of a carrier or run."""
    key, hint = _TYPE_KEYS.get(what, ("", ""))
    if is_type and key:
        return f"wayroom.toml, [[types]] name = {name}, {key}", hint
    if key:
        return f"model, {name}", f"give it a type, and {key} under [[types]] in wayroom.toml"
    hint = _WAY_THROUGH if what.startswith("way through ") else _IN_MODEL.get(what, "")
    return f"model, {'type ' if is_type else ''}{name}", hint

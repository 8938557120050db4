"""The grouping factor: how much circuits that lie together take from each other."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from checker.model import CarrierKind, Enclosure, Member
from checker.rule.needs import of_circuit
from rules.grouping.base import HOTTEST_C, OPEN, USUAL_TERMINALS_C, Surrounding, insulation_c
from rules.grouping.figures import USUAL_AMBIENT_C, Figure, at_least, by_count, named, need_of_doubt, size_order
from rules.grouping.light import Lightness, lightness
from rules.grouping.limits import RatingLimits

#: The tables of trays are for like sizes, and the code has no rule for others there. Whether they hold is the designer's to say.
UNLIKE_ON_TRAY = "the table for like sizes holds for these unlike ones"
#: Rows of B.52.17 by what cables lie on, in one layer.
ON_UNPERFORATED, ON_PERFORATED, ON_LADDER = "2", "4", "5"
LADDER_ROWS = ("ladder, cleats (32-34)",)
PERFORATED_ROWS = ("perforated tray (31)", "vertical perforated tray (31)")
SINGLE_CORE_ROWS = {True: ("ladder",), False: ("perforated tray", "vertical perforated tray")}


@dataclass(frozen=True, slots=True)
class Group:
    """What the circuits of an enclosure take from each other.

    ``where`` is what the carrier does to each of them. ``full`` and ``others`` are the factors with all of them and without the light ones;
    ``told`` which those are. ``own``: factors of single circuits, by their marks, that keep to neither.
    """

    where: Surrounding
    full: Figure
    others: Figure
    told: Lightness
    own: Mapping[str, Figure] = field(default_factory=dict)

    def factor(self, mark: str) -> Figure:
        """The factor for one of its circuits: a light one keeps to the full group."""
        return self.own.get(mark) or (self.full if mark in self.told.light else self.others)


@lru_cache(maxsize=4096)
def group_of(enclosure: Enclosure, limits: RatingLimits, *, is_strict: bool) -> Group:
    """The group in an enclosure, in the reading in its favour or against it.

    A circuit that carries no more than ``light_share`` of its own grouped rating is left out for the others. That is tested once, with
    the factor of the full group: testing again with the better factor would let ever more be left out. One of which it isn't known is
    left out in the others' favour, and counts for them in the reading against them.
    """
    members = [member for member in enclosure.group(is_strict=is_strict) if member.load.is_loaded]
    where = _surrounding(members, enclosure, limits, is_strict=is_strict)
    perhaps = named({member.load.mark for member in enclosure.possible if member.load.is_loaded}) if is_strict else ""

    def factor_of(some: list[Member]) -> Figure:
        found = _factor(some, _count(some, is_strict=is_strict), enclosure, limits, is_strict=is_strict)
        return replace(found, words=_with(found.words, [member.load.mark for member in some], perhaps))

    full = factor_of(members)
    told = lightness(members, full, where, enclosure, limits, is_strict=is_strict)
    left_out = told.light if is_strict else told.light | told.unsure
    left = factor_of([member for member in members if member.load.mark not in left_out]) if left_out else full
    bare = left.words
    left = replace(left, words=f"{bare}{_left_out(told, is_strict=is_strict)}")
    if is_strict:  # of itself a circuit isn't told that
        words = {mark: f"{bare}{_left_out(told, mark, is_strict=True)}" for mark in told.unsure}
        return Group(where, full, left, told, {mark: replace(left, words=text) for mark, text in words.items()})
    # light in this reading alone is light perhaps
    unsure = told.unsure | (told.light - group_of(enclosure, limits, is_strict=True).told.light)
    own = {}
    for mark in unsure:
        with_it = factor_of([member for member in members if member.load.mark not in left_out - {mark}])
        # whether it is light itself isn't known, either
        own[mark] = _better(full, replace(with_it, words=f"{with_it.words}{_left_out(told, but=mark)}"))
    return Group(where, full, left, told, own)


def _left_out(told: Lightness, but: str = "", *, is_strict: bool = False) -> str:
    """Which circuits were left out, in words."""
    light, unsure = named(told.light - {but}), named(told.unsure - {but})
    how = (
        "counted, as whether they are light isn't known"
        if is_strict
        else "left out in its favour, as they may be light"
    )
    return (f"; left out as light: {light}" if light else "") + (f"; {how}: {unsure}" if unsure else "")


def _better(one: Figure, other: Figure) -> Figure:
    """The higher of two factors; where one isn't known neither is the better."""
    if one.value is None or other.value is None:
        return one if one.value is None else other
    return one if one.value > other.value else other


def _with(words: str, marks: list[str], perhaps: str) -> str:
    """What a factor counts, with the names of the circuits, and which of them may lie elsewhere."""
    if len(marks) <= 1:
        return words
    return f"{words}: {named(marks)}{f'; not routed, so perhaps: {perhaps}' if perhaps else ''}"


def _surrounding(members: list[Member], enclosure: Enclosure, limits: RatingLimits, *, is_strict: bool) -> Surrounding:
    """A group is rated at the temperature of its least insulation (523.5), and lies in air that may be as warm as any of it says."""
    known = [insulation_c(member.load, limits) for member in members]
    coolest = min((temperature for temperature in known if temperature is not None), default=HOTTEST_C)
    if is_strict and None in known:
        coolest = min(coolest, USUAL_TERMINALS_C)
    given = [member.load.ambient_c for member in members if member.load.ambient_c is not None]
    ambient = max(USUAL_AMBIENT_C, *given) if is_strict and given else USUAL_AMBIENT_C
    return Surrounding(enclosure.carrier.kind, enclosure.carrier.laying, coolest, ambient)


def _count(members: list[Member], *, is_strict: bool) -> int | None:
    """How many circuits they are; None: that isn't known."""
    total = 0
    for member in members:
        if member.load.circuits is None and is_strict:
            return None
        number = member.load.circuits if is_strict else member.load.circuits_least
        total += (number or member.load.sets or 1) * member.passes
    return total


def _factor(
    members: list[Member], circuits: int | None, enclosure: Enclosure, limits: RatingLimits, *, is_strict: bool
) -> Figure:
    if circuits is None:
        unsure = next(member.load for member in members if member.load.circuits is None)
        why = f"how many circuits {unsure.mark} counts for isn't known: {unsure.doubt or 'its sets'}"
        return Figure(None, why=why, need=need_of_doubt(unsure) if unsure.doubt else of_circuit("sets", unsure.mark))
    kind, laying = enclosure.carrier.kind, enclosure.carrier.laying
    if kind not in OPEN:
        return _enclosed(members, circuits, limits, is_strict=is_strict)
    found = _bunched(circuits, limits, _why_bunched(enclosure))
    if laying.single_layer is True and enclosure.fits_one_layer is True:
        found = _layer(members, circuits, enclosure, limits, is_strict=is_strict)
    elif laying.single_layer is not False and enclosure.may_fit_one_layer:
        layer = _layer(members, circuits, enclosure, limits, is_strict=is_strict)
        # alone in a layer a cable may carry less than alone in a bunch
        if is_strict:
            is_lower = None not in (found.value, layer.value) and (layer.value or 0.0) < (found.value or 0.0)
            found = layer if is_lower else found
        else:
            found = layer if found.value is None else _better(layer, found)
    if (
        circuits > 1 and _span(members, limits) > limits.adjacent_sizes.value
    ):  # the tables are for like cables, and give no rule for others
        found = replace(found, assumed=", ".join(text for text in (found.assumed, UNLIKE_ON_TRAY) if text))
    return found


def _why_bunched(enclosure: Enclosure) -> str:
    if enclosure.carrier.laying.single_layer is None:
        return ", not declared to lie in one layer"
    if enclosure.carrier.laying.single_layer and not enclosure.fits_one_layer:
        return ", too wide for one layer" if enclosure.fits_one_layer is False else ", not known to go into one layer"
    return ""


def _enclosed(members: list[Member], circuits: int, limits: RatingLimits, *, is_strict: bool) -> Figure:
    """Enclosed cables are bunched; 1/√n where their sizes are too unlike (B.52.5.2)."""
    if circuits > 1 and (
        _span(members, limits) > limits.adjacent_sizes.value or (is_strict and _unsized(members, limits))
    ):
        words = f"{circuits} bunched whose sizes span more than {limits.adjacent_sizes.value:g} adjacent ones, 1/√{circuits}"
        return Figure(1.0 / math.sqrt(circuits), limits.adjacent_sizes.cited, words=words)
    return _bunched(circuits, limits, "")


def _places(members: list[Member], limits: RatingLimits) -> list[int | None]:
    """Where the sizes of circuits stand in the series of standard ones; None: not known, or no standard size."""
    order = size_order(limits.sizes)
    return [None if member.load.csa_mm2 is None else order.get(member.load.csa_mm2) for member in members]


def _span(members: list[Member], limits: RatingLimits) -> int:
    """How many adjacent standard sizes the circuits span."""
    places = [place for place in _places(members, limits) if place is not None]
    return max(places) - min(places) + 1 if places else 0


def _unsized(members: list[Member], limits: RatingLimits) -> bool:
    return None in _places(members, limits)


def _bunched(circuits: int, limits: RatingLimits, why: str) -> Figure:
    rows = by_count(limits.bunched, "circuits", (("item", "1"),))
    found = at_least(rows, max(circuits, 1))
    if found is None:
        return Figure(None, why=f"{circuits} circuits lie together, and the table of grouping ends at {rows[-1][0]}")
    return Figure(
        found.value, f"{found.source}, item 1", words="alone" if circuits <= 1 else f"{circuits} bunched{why}"
    )


def _layer(
    members: list[Member], circuits: int, enclosure: Enclosure, limits: RatingLimits, *, is_strict: bool
) -> Figure:
    """Cables side by side on a tray or ladder."""
    kind, laying = enclosure.carrier.kind, enclosure.carrier.laying
    tiers = laying.tiers or 1
    is_ladder = kind is CarrierKind.LADDER
    on_free_air = is_ladder or _is_perforated(members, enclosure, is_strict=is_strict)
    assumed = "" if laying.tiers else "one tier"
    single = [member.load.is_single_core is not False for member in members]
    item = ON_LADDER if is_ladder else ON_PERFORATED
    figure: Figure | None = None
    where = f"{circuits} in one layer on {'a ladder' if is_ladder else 'a tray'}, {tiers} {'tier' if tiers == 1 else 'tiers'}"
    if on_free_air and not any(single):
        figure = _lowest(limits, "multicore_layers", LADDER_ROWS if is_ladder else PERFORATED_ROWS, tiers, circuits)
    elif on_free_air and all(single) and all(member.load.loaded_conductors in {3, 4} for member in members):
        figure = _lowest(limits, "single_core_layers", SINGLE_CORE_ROWS[is_ladder], tiers, circuits)
    elif not on_free_air:
        item = ON_UNPERFORATED
    if figure is None and tiers == 1:
        found = at_least(by_count(limits.bunched, "circuits", (("item", item),)), max(circuits, 1))
        figure = Figure(found.value, f"{found.source}, item {item}") if found is not None else None
    if figure is None:
        return Figure(None, why=f"no table is for {where}")
    assumed = ", ".join(text for text in (assumed, figure.assumed) if text)
    return Figure(figure.value, figure.source, assumed=assumed, words=where)


def _is_perforated(members: list[Member], enclosure: Enclosure, *, is_strict: bool) -> bool:
    perforated = enclosure.carrier.laying.perforated
    if perforated is not None:
        return perforated
    return not is_strict or all(member.load.method in {"E", "F", "G"} for member in members)


def _lowest(limits: RatingLimits, table: str, rows: tuple[str, ...], tiers: int, circuits: int) -> Figure | None:
    """The lowest of the orientations that a table has, since which one a tray hangs in isn't said."""
    layers = limits.multicore_layers if table == "multicore_layers" else limits.single_core_layers
    count, spacing = (
        ("cables", ("spacing", "touching"))
        if table == "multicore_layers"
        else ("circuits", ("formation", "touching flat"))
    )
    found = []
    for installation in rows:
        of_it = (("installation", installation), spacing)
        tabled = next((int(trays) for trays, _ in by_count(layers, "trays", of_it) if trays >= tiers), None)
        figure = at_least(by_count(layers, count, (*of_it, ("trays", str(tabled)))), max(circuits, 1))
        if figure is not None:
            found.append(figure)
    lowest = min(found, key=lambda figure: figure.value or 0.0, default=None)
    if lowest is not None and len(found) < len(rows):  # there is no row for upright trays
        return replace(lowest, assumed="trays that lie level")
    return lowest

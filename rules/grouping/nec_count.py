"""How many current-carrying conductors lie in a raceway, or in one cable, as NFPA 70 counts them."""

from dataclasses import dataclass
from functools import lru_cache

from checker.model import CircuitLoad, Enclosure, Service, State
from checker.rule.needs import of_circuit
from rules.grouping.figures import named, need_of_doubt

#: Table 310.15(C)(1) counts power and lighting conductors only: these services, or one that isn't given, are left out in favour.
LIMITED = {Service.CONTROL, Service.ELV, Service.FIRE_ALARM, None}
#: Conductors beside the loaded ones that need be no spares: a neutral and a protective conductor.
UNCOUNTED = 2
FEWEST_LOADED, MOST_LOADED = 2, 3


@dataclass(frozen=True, slots=True)
class Count:
    """How many there are; None: not known, and ``why`` says why.

    ``assumed``: what was taken as it wasn't given. ``among``: the circuits whose they are. ``need``: what would tell.
    """

    conductors: int | None
    why: str = ""
    assumed: str = ""
    among: str = ""
    need: str = ""


def in_raceway(enclosure: Enclosure, load: CircuitLoad, *, is_strict: bool) -> Count:
    """The current-carrying conductors of a raceway, as they bear on one circuit: its own count whatever its service is."""
    counted = _all_in(enclosure, is_strict=is_strict)
    if is_strict or counted.conductors is None or load.service not in LIMITED:
        return counted
    own = [member for member in enclosure.members if member.load.mark == load.mark]
    more = sum((_of(member.load, is_strict=False) or 0) * member.passes for member in own)
    among = ", ".join(filter(None, (load.mark, counted.among)))
    return Count(counted.conductors + more, assumed=counted.assumed, among=among)


@lru_cache(maxsize=4096)
def _all_in(enclosure: Enclosure, *, is_strict: bool) -> Count:
    members = enclosure.group(is_strict=is_strict)
    total, marks = 0, []
    for member in members:
        if not is_strict and member.load.service in LIMITED:
            continue
        conductors = _of(member.load, is_strict=is_strict)
        if conductors is None:
            why = f"how many current-carrying conductors {member.load.mark} has isn't known"
            return Count(None, why, need=_need(member.load))
        total += conductors * member.passes
        marks += [member.load.mark] if conductors else []
    return Count(
        total,
        among=named(marks),
        assumed="linear loads" if any(_is_taken_as_linear(member.load) for member in members) else "",
    )


def _need(load: CircuitLoad) -> str:
    """What would tell how many conductors of a circuit carry current."""
    return of_circuit("loaded conductors", load.mark) if "loaded_conductors" in load.unread else need_of_doubt(load)


def in_cable(load: CircuitLoad, *, is_strict: bool) -> Count:
    """The current-carrying conductors inside one multiconductor cable of a circuit."""
    everything, counted = _in_each(load), _each(load, is_strict=is_strict)
    if is_strict and ("loaded_conductors" in load.unread or load.loaded_conductors == 1 or everything is None):
        why = "how many current-carrying conductors its cable has isn't known"
        return Count(None, why, need=_need(load))
    assumed = "linear loads" if _is_taken_as_linear(load) else ""
    return Count(counted if everything is None else min(counted, everything), assumed=assumed)


def _of(load: CircuitLoad, *, is_strict: bool) -> int | None:
    """The current-carrying conductors of all sets of a circuit, for one pass.

    Table 310.15(C)(1) counts spare conductors too. A conductor is never counted twice: there are no more of them than all.
    """
    is_spare = load.state is State.SPARE and (load.service is not Service.DATA or bool(load.loaded_conductors))
    if not is_spare and not load.is_loaded:
        return 0
    if is_strict and load.loaded_conductors == 1:
        return None  # no circuit has a single one: what is meant isn't known
    everything = None if load.conductors is None or load.sets is None else load.conductors * load.sets
    if is_spare and not load.loaded_conductors:
        if everything is None:
            return None if is_strict else FEWEST_LOADED
        # each circuit's cables may hold one protective conductor, which never counts
        return everything if is_strict else max(0, everything - (load.circuits or load.sets or 1))
    if is_strict:
        if load.circuits is None or everything is None or "loaded_conductors" in load.unread:
            return None
        return min(_each(load, is_strict=True) * load.circuits, everything)
    # how single cores share out to circuits is a reading of their number: what is sure is one circuit a set
    times = load.circuits if load.is_single_core is False else load.sets
    return _each(load, is_strict=False) * (times or 1)


def _each(load: CircuitLoad, *, is_strict: bool) -> int:
    """Of one circuit, or one multiconductor cable: the loaded ones, a neutral that is loaded too, and conductors without a use.

    Two loaded ones of four and more may be two lines of three phases, whose neutral counts (310.15(E)(2)): against the circuit it does.
    """
    loaded = load.loaded_conductors or (MOST_LOADED if is_strict else FEWEST_LOADED)
    spare = max(0, (_in_each(load) or 0) - loaded - UNCOUNTED) if is_strict else 0
    is_of_wye = is_strict and loaded == FEWEST_LOADED and (_in_each(load) or 0) >= FEWEST_LOADED + UNCOUNTED
    has_neutral = is_of_wye or has_loaded_neutral(load, loaded, is_strict=is_strict)
    return loaded + (1 if has_neutral else 0) + spare


def _in_each(load: CircuitLoad) -> int | None:
    """All conductors of one circuit or one multiconductor cable, protective ones too."""
    if load.conductors is None or not load.sets or not load.circuits:
        return None
    return -(-load.conductors * load.sets // load.circuits)


def has_loaded_neutral(load: CircuitLoad, loaded: int, *, is_strict: bool) -> bool:
    """Whether the neutral of three phases counts besides them, 310.15(E)(3).

    The code says where most of the load is nonlinear, and has no figure for that. Against the circuit any third harmonic counts it; in its
    favour only one by which the neutral carries as much as a line, which is three times the third harmonic. Four conductors may be
    three and a neutral or a protective one; five hold both.
    """
    if loaded != MOST_LOADED:
        return False
    each = _in_each(load)
    if "third_harmonic" in load.unread:
        return is_strict
    share = load.third_harmonic or 0.0
    if is_strict:
        return share > 0.0 and (each is None or each > MOST_LOADED)
    return 3.0 * share >= 1.0 and each is not None and each >= MOST_LOADED + UNCOUNTED


def _is_taken_as_linear(load: CircuitLoad) -> bool:
    """Whether its neutral isn't counted only because no harmonics are given."""
    may_have_neutral = (_in_each(load) or MOST_LOADED + 1) > MOST_LOADED
    is_three = load.is_loaded and load.loaded_conductors in {None, MOST_LOADED}
    return is_three and may_have_neutral and load.third_harmonic is None and "third_harmonic" not in load.unread

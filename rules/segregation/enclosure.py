"""Do all conductors of an a.c. circuit lie together in a ferrous trunking or conduit?

Round a conductor that carries alternating current alone, iron and steel heat up: only where the currents of all conductors in the
enclosure cancel each other is there no field outside them. So line conductors, neutral and protective conductor go in the same one.

    n   conductors of one parallel set of the circuit that lie here, by the schedule
    k   loaded conductors of the circuit; 2 where it gives none
    l   of the lines in which the model draws its cables, those that lead through this enclosure, of m; where some of them come in or leave
        on the way, those on the longest stretch between such places

    n < k                             unknown: the others aren't in the schedule, or have another mark
    l = 1 < m, each cable a line      fail: one conductor lies here alone
    l < m otherwise                   unknown: two may be one conductor that is led out and back, whose currents cancel, as to a switch;
                                      parallel sets may lie here whole; a line may stand for several cables
    else                              pass: the rows of a circuit all take its way, so that what the schedule has of it lies here

Asked of trunking and conduit in which a loaded circuit with single-core cables lies, of the services power, emergency lighting, control
and extra-low voltage, or of none that is given. All cores of a multicore cable are together anyhow. Only power and self-contained
emergency lighting are a.c. for certain: what would be a fail of the others is unknown.

    ferrous            steel, iron, galvanised
    not ferrous        aluminium, copper, brass, plastics: not asked
    can't be told      no material, "metal", stainless steel (some grades are hardly magnetic, others are), both at once as PVC-coated
                       steel: a pass if all are together, since it is one whatever it is made of; else unknown

Clause: IEC 60364-5-52 521.5; BS 7671 521.5; NFPA 70 300.3(B), 300.20.

Worked example. Three single cores of a circuit of three phases are drawn each by itself; two lead through the steel conduit K-1, one
through K-2: in K-2 it lies alone: fail; in K-1 it isn't known which they are. Drawn all three through K-1: pass.

Not asked here: shorter stretches of an enclosure that a line has left, or hasn't come into yet; circuits of which it isn't given whether
their cables are single-core; data and fire alarm, which are d.c. as a rule; whether one parallel set holds all phases, or a neutral is
missing that no figure counts; single-core cables with steel wire armour (the catalogue has none); holes in steel plates and gland plates;
trays and ladders; conductors that bear marks of their own, phase by phase, beyond that each such mark is too few conductors for a circuit.
"""

import re
from dataclasses import dataclass

from checker.model import CarrierKind, Enclosure, Member, Service
from checker.model.texts import listed
from checker.model.words import OTHERS, TURNED
from checker.rule import Limit, Limits, Outcome, Verdict, rule
from checker.rule.needs import WAY, of_circuit, of_type

KINDS = {CarrierKind.TRUNKING, CarrierKind.CONDUIT}
FERROUS = {"steel", "iron", "galvanised", "galvanized", "ferrous"}
#: Metals that no field heats so, and words that leave it open.
NOT_FERROUS = {"aluminium", "aluminum", "copper", "brass", *OTHERS}
LEFT_OPEN = {"stainless", "nonferrous", *TURNED}
#: Services that are a.c. for certain, and those that may be.
SURELY_AC = {Service.POWER, Service.EMERGENCY_SELF_CONTAINED}
MAYBE_AC = {Service.EMERGENCY_CENTRAL, Service.CONTROL, Service.ELV, None}
#: A circuit has at least so many loaded conductors.
FEWEST = 2


class EnclosureLimits(Limits):
    """``together``: no figure but 1: all conductors of a circuit are in one."""

    together: Limit


@dataclass(frozen=True, slots=True)
class _Parted:
    """A circuit of which not all is here, or not for certain: why, whether that is sure, and what would settle it."""

    why: str
    is_sure: bool = False
    need: str = ""


def is_ferrous(material: str) -> bool | None:
    """Whether a material is iron or steel; None: its name doesn't tell, or tells both."""
    words = set(re.findall("[a-z]+", material.lower()))
    if words & LEFT_OPEN or bool(words & FERROUS) == bool(words & NOT_FERROUS):
        return None
    return bool(words & FERROUS)


def _asked(member: Member) -> bool:
    load = member.load
    is_ac = load.service in SURELY_AC or load.service in MAYBE_AC
    return is_ac and load.is_loaded and load.has_single_cores and load.is_single_core is not False


def asks(subject: Enclosure) -> bool:
    """Whether single cores of an a.c. circuit lie in what is, or may be, a ferrous enclosure."""
    if subject.carrier.kind not in KINDS or is_ferrous(subject.carrier.material) is False:
        return False
    return any(_asked(member) for member in (*subject.members, *subject.possible))


@rule(id="segregation.enclosure", title="All conductors of a circuit in one ferrous enclosure", kinds=KINDS, asks=asks)
def enclosure(subject: Enclosure, limits: EnclosureLimits) -> Verdict:
    """By what the schedule has of each circuit, and how the model draws its cables."""
    ferrous, label = is_ferrous(subject.carrier.material), subject.carrier.place.label
    asked = [member for member in subject.members if _asked(member)]
    parted = [found for member in asked if (found := _parted(member)) is not None]
    surely = [found.why for found in parted if found.is_sure]
    if ferrous and surely:
        return _answer(limits, Outcome.FAIL, f"{label} is ferrous, and {listed(surely, between='; ')}")
    if parted:
        reasons = [found.why for found in parted]
        needs = [found.need for found in parted if found.need]
        if not ferrous:
            reasons.append(f"whether {label} is ferrous isn't known")
            needs.append(of_type("material", subject.carrier))
        return _answer(limits, Outcome.UNKNOWN, listed(reasons, between="; "), tuple(dict.fromkeys(needs)))
    marks = listed([member.load.mark for member in asked])
    what = (
        f"all conductors that the schedule has of {marks} lie in it together" if asked else "no single cores lie in it"
    )
    return _answer(limits, Outcome.PASS, what if ferrous else f"{what}, whatever it is made of")


def _parted(member: Member) -> _Parted | None:
    """What speaks against all conductors of a circuit being here; None: nothing does."""
    load, mark = member.load, member.load.mark
    needed = max(load.loaded_conductors or FEWEST, FEWEST)
    if "loaded_conductors" in load.unread or load.conductors is None:
        what = (
            "its loaded conductors aren't" if "loaded_conductors" in load.unread else "how many conductors it has isn't"
        )
        return _Parted(f"of {mark} {what} known", need=of_circuit("cables", mark))
    if load.conductors < needed:
        have = f"{load.conductors} conductor{'' if load.conductors == 1 else 's'}"
        return _Parted(
            f"{mark} has {have} in the schedule, of {needed} at the least; where the others lie isn't known",
            need=of_circuit("cables", mark),
        )
    if member.lines is None:
        return None
    lines, drawn = member.lines
    told = f"of {drawn} lines in which the model draws {mark}, {lines} lead{'s' if lines == 1 else ''} through it"
    is_each_drawn = load.sets is not None and drawn == load.conductors * load.sets
    if not is_each_drawn:
        return _Parted(f"{told}, and which of its cables lead elsewhere isn't known", need=of_circuit(WAY, mark))
    if lines > 1:
        return _Parted(f"{told}, and whether their currents cancel isn't known", need=of_circuit(WAY, mark))
    if load.service in SURELY_AC:
        return _Parted(f"{told}: it lies there alone", is_sure=True, need=of_circuit(WAY, mark))
    return _Parted(f"{told}, and whether it is a.c. isn't known", need=of_circuit("kind of current", mark))


def _answer(limits: EnclosureLimits, outcome: Outcome, reason: str, needs: tuple[str, ...] = ()) -> Verdict:
    limit = limits.together
    return Verdict(
        outcome, reason, basis=limit.basis.value, source=limit.cited, needs=needs,
        found="a conductor alone in it", wanted="all of a circuit in one",
    )  # fmt: skip

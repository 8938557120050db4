"""One carrier and a list of cables, without a model: does it fit, by the code, and how many would."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from checker.errors import InputError
from checker.model import (
    Carrier,
    CarrierKind,
    Lane,
    Laying,
    LoadedCompartment,
    Place,
    PlacedCable,
    Run,
    Section,
    cable_area_mm2,
)
from checker.network.sizing import empty_compartment, insides
from checker.rule import Outcome, Tells, Verdict, judge, worst
from checker.rule.catalogue import CableType, CarrierType
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.rule.tighten import tightened

SIZE = re.compile(r"(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)")
LENGTH = re.compile(r"(\d+(?:\.\d+)?)\s*mm")
SHARE = re.compile(r"(\d+(?:\.\d+)?)\s*%")
#: Nothing takes more cables than this; it bounds the search.
MOST_CABLES = 100_000
LARGEST_MM = 3000.0


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked. One of ``carrier``, ``inside`` and ``bore`` is given; ``cables`` are ``KEY=COUNT`` or ``11.3mm=4``."""

    code: Code
    carrier: str = ""
    inside: str = ""
    bore: str = ""
    kind: CarrierKind = CarrierKind.TRUNKING
    cables: tuple[str, ...] = ()
    most: str = ""
    occupied: str = ""
    length_m: float | None = None
    bends: float | None = None
    space_factor: float | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """What is answered.

    ``most``: how many of the cable asked for go in besides, by the code; None: not asked, or not to be said. ``wants_run``: the run of a
    conduit was not given whole.
    """

    verdict: Verdict
    rule: str
    carrier: str
    internal_mm2: float | None
    occupied_mm2: float | None
    size_source: str
    most: int | None = None
    asked_most: bool = False
    wants_run: bool = False

    @property
    def exit_status(self) -> int:
        """0: it fits; 1: it doesn't; 3: it can't be said."""
        return {Outcome.PASS: 0, Outcome.FAIL: 1}.get(self.verdict.outcome, 3)


def answer(question: Question, plugins: Plugins) -> Answer:
    """Answers a question.

    Raises:
        InputError: It is asked wrongly.
    """
    carrier, source = _carrier(question, plugins)
    question = _with_own_limit(question, carrier.kind, plugins)
    cables = [_cable(text, plugins.cables) for text in question.cables]
    subject = _subject(question, carrier, cables)
    if question.occupied:
        subject = replace(subject, cables=(*subject.cables, _share(question.occupied, subject.area_mm2)))
    if not question.cables and not question.most:
        raise InputError(
            "--cable", "no cable is named", "say --cable KEY=COUNT or --most KEY; see: wayroom list cables"
        )
    rule, verdict = _judged(question.code, plugins, subject)
    most = None
    if question.most:
        one = _cable(f"{question.most}=1", plugins.cables)
        most = _most(question.code, plugins, subject, one)
        # where none goes in the answer is the one for one, which says why
        subject = replace(subject, cables=(*subject.cables, replace(one, count=most or 1)))
        rule, verdict = _judged(question.code, plugins, subject)
        if most is None and verdict.outcome is Outcome.PASS:
            verdict = replace(verdict, outcome=Outcome.UNKNOWN, reason=f"more than {MOST_CABLES} aren't counted")
    return Answer(
        verdict=verdict,
        rule=rule,
        carrier=carrier.place.name,
        internal_mm2=subject.area_mm2,
        occupied_mm2=subject.occupied_mm2,
        size_source=source,
        most=most,
        asked_most=bool(question.most),
        wants_run=carrier.kind is CarrierKind.CONDUIT and (question.length_m is None or question.bends is None),
    )


def _with_own_limit(question: Question, kind: CarrierKind, plugins: Plugins) -> Question:
    """The question with the space factor that is asked for, where it is stricter than the code's or the code has none."""
    if question.space_factor is None:
        return question
    own: dict[str, float | str] = {"space_factor": question.space_factor, "reason": "asked for by --space-factor"}
    wanted = {
        rule_id: own
        for rule_id, limits in question.code.limits.items()
        if plugins.rules[rule_id].tells is Tells.FILL
        and plugins.rules[rule_id].speaks_of(kind)
        and "space_factor" in type(limits).model_fields
    }
    if not wanted:
        raise InputError(
            "--space-factor", f"{question.code.key} has no fill rule for {kind} that goes by one", "leave it out"
        )
    return replace(question, code=tightened(question.code, wanted, "--space-factor"))


def _judged(code: Code, plugins: Plugins, subject: LoadedCompartment) -> tuple[str, Verdict]:
    """The worst answer of the code's fill rules for that kind of carrier."""
    kind = subject.carrier.kind
    answers = [
        (key, judge(plugins.rules[key], subject, limits))
        for key, limits in code.limits.items()
        if plugins.rules[key].tells is Tells.FILL and plugins.rules[key].speaks_of(kind)
    ]
    if not answers:
        return "", Verdict(Outcome.UNKNOWN, f"{code.key} has no fill rule for {kind}")
    bad = worst([verdict.outcome for _, verdict in answers])
    return next((key, verdict) for key, verdict in answers if verdict.outcome is bad)


def _most(code: Code, plugins: Plugins, subject: LoadedCompartment, one: PlacedCable) -> int | None:
    """The largest count that passes, counting up until the inside is full. None: it can't be said.

    More than ``MOST_CABLES`` aren't counted. Every count is tried, since under a code that grants three cables more than two, one more
    can make a pass.
    """
    if not subject.area_mm2 or not one.area_mm2:
        return None
    room = int((subject.area_mm2 - (subject.occupied_mm2 or 0.0)) / one.area_mm2) + 1
    most = 0
    if room > MOST_CABLES:
        return None
    for count in range(1, max(room, 0) + 1):
        more = replace(subject, cables=(*subject.cables, replace(one, count=count)), with_working=False)
        outcome = _judged(code, plugins, more)[1].outcome
        if outcome is Outcome.PASS:
            most = count
        elif outcome is Outcome.UNKNOWN and count == 1:
            return None
    return most


def _subject(question: Question, carrier: Carrier, cables: list[PlacedCable]) -> LoadedCompartment:
    (inside,) = insides(carrier, question.code.sizes)
    for name, value, most in (("--length", question.length_m, 1000.0), ("--bends", question.bends, 100.0)):
        if value is None:
            continue
        if carrier.kind is not CarrierKind.CONDUIT:
            raise InputError(name, f"it is for conduit, and this is {carrier.kind}", "leave it out")
        if not 0.0 <= value <= most or (name == "--length" and value == 0.0):
            raise InputError(name, f"{value:g} can't be", f"write a number from 0 to {most:g}")
    bends = None if question.bends is None else question.bends * 90.0
    is_conduit, is_whole = carrier.kind is CarrierKind.CONDUIT, question.length_m is not None
    run = Run(1, (carrier.key,), question.length_m, bends, is_whole or None) if is_conduit else None
    return replace(empty_compartment(carrier, 1, inside), cables=tuple(cables), run=run, with_working=True)


def _carrier(question: Question, plugins: Plugins) -> tuple[Carrier, str]:
    given = [name for name in ("carrier", "inside", "bore") if getattr(question, name)]
    if len(given) != 1:
        what = "none of them is given" if not given else f"{' and '.join(f'--{name}' for name in given)} are both given"
        raise InputError(
            "--carrier, --inside, --bore", what, "give one: a key of wayroom list carriers, WxH in mm, or a bore in mm"
        )
    if question.carrier:
        return _from_catalogue(question.carrier, plugins.carriers)
    if question.bore:
        bore = _millimetres("--bore", question.bore)
        section = Section(
            bore_mm=bore, outside_diameter_mm=_outside_of(bore, question.code), source="the bore that was given"
        )
        return _made(CarrierKind.CONDUIT, section, f"conduit, bore {bore:g} mm"), section.source
    found = SIZE.fullmatch(question.inside.strip())
    if found is None:
        raise InputError("--inside", f"{question.inside!r} is no size", "write width by height in mm, as 96x46")
    width, height = (_millimetres("--inside", text) for text in found.groups())
    lane = (Lane(1, width),)
    section = Section(
        width, height, wall_mm=0.0, usable_depth_mm=height, lanes=lane, source="the inside that was given"
    )
    return _made(question.kind, section, f"{question.kind}, inside {width:g} × {height:g} mm"), section.source


def _made(kind: CarrierKind, section: Section, name: str, material: str = "") -> Carrier:
    return Carrier("carrier", Place("carrier", "", name=name), kind, section, material=material)


def _from_catalogue(key: str, carriers: Mapping[str, CarrierType]) -> tuple[Carrier, str]:
    found = carriers.get(key)
    if found is None:
        raise InputError("--carrier", f"there is no carrier {key!r}", "see: wayroom list carriers")
    kind = CarrierKind(found.kind)
    if kind is CarrierKind.CONDUIT:
        section = Section(
            outside_diameter_mm=found.width_mm,
            bore_mm=found.inside_diameter_mm,
            inside_area_mm2=found.inside_area_mm2,
            source=found.source,
        )
    else:
        section = Section(
            found.width_mm,
            found.height_mm,
            wall_mm=found.wall_mm,
            usable_depth_mm=found.usable_depth_mm,
            source=found.source,
        )
    made = _made(kind, section, f"{found.family} {found.trade_size}", found.material)
    return replace(made, laying=Laying(perforated=found.perforated)), found.source


def _outside_of(bore: float, code: Code) -> float | None:
    """The outside diameter of the conduit that has a bore, by the code's table; conduit terms go by it."""
    rows = code.sizes.conduit_bores.rows if code.sizes.conduit_bores is not None else ()
    return next((float(row["outside_diameter_mm"]) for row in rows if float(row["bore_mm"]) == bore), None)


def _millimetres(option: str, text: str) -> float:
    try:
        value = float(text.strip().removesuffix("mm"))
    except ValueError:
        value = 0.0
    if not 0.0 < value <= LARGEST_MM:
        raise InputError(option, f"{text!r} is no size in mm", f"write a number above 0, up to {LARGEST_MM:g}")
    return value


def _cable(text: str, cables: Mapping[str, CableType]) -> PlacedCable:
    """``KEY=COUNT`` or ``11.3mm=4``."""
    key, separator, number = text.rpartition("=")
    if not separator or not number.strip().isdecimal() or not 0 < int(number[:9]) <= MOST_CABLES:
        raise InputError("--cable", f"{text!r} isn't KEY=COUNT", "write as h07v-u-2.5=6 or 11.3mm=4")
    key = key.strip()
    size = LENGTH.fullmatch(key)
    if size is not None:
        diameter = _millimetres("--cable", size[1])
        return PlacedCable(key, None, key, int(number), cable_area_mm2(diameter, None, None), diameter)
    found = cables.get(key.lower())
    if found is None:
        import difflib

        near = difflib.get_close_matches(key.lower(), list(cables), 3)
        hint = (
            f"did you mean {', '.join(near)}?" if near else "see: wayroom list cables; or give a diameter, as 11.3mm=4"
        )
        raise InputError("--cable", f"there is no cable {key!r}", hint)
    return PlacedCable(
        circuit=found.key,
        service=None,
        key=found.key,
        count=int(number),
        area_mm2=found.area_mm2 or cable_area_mm2(found.diameter_mm, found.width_mm, found.height_mm),
        width_mm=found.width_mm,
        height_mm=found.height_mm,
        diameter_mm=found.diameter_mm,
        csa_mm2=found.csa_mm2,
        awg_kcmil=found.awg_kcmil,
        cores=found.cores,
        stranded=found.stranded,
        planning=found.planning,
    )


def _share(text: str, area_mm2: float | None) -> PlacedCable:
    """What is there already, as a share of the inside. By what cables isn't known, so no terms are."""
    found = SHARE.fullmatch(text.strip())
    if found is None or not 0.0 <= float(found[1]) <= 100.0:
        raise InputError("--occupied", f"{text!r} is no share", "write a percentage of the inside, as 30%")
    area = None if area_mm2 is None else area_mm2 * float(found[1]) / 100.0
    return PlacedCable("what is there", None, "what is there", 1, area, is_several=True)

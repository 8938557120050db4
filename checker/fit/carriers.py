"""Carriers as they are asked about: by key, by the inside, or by a bore."""

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from checker.errors import InputError
from checker.fit.question import Question, millimetres
from checker.model import Carrier, CarrierKind, Lane, Laying, Place, Section
from checker.rule.catalogue import CarrierType
from checker.rule.code import Code

INSIDE = re.compile(r"([0-9.]{1,12})\s*(?:mm)?\s*[x×]\s*([0-9.]{1,12})\s*(?:mm)?", re.IGNORECASE)

#: Where the size of a conduit comes from that has nothing but a bore.
BORE_GIVEN = "the bore that was given"
#: A trade size in inches, as 1-1/4.
INCHES = re.compile(r"[0-9]+(-[0-9]+/[0-9]+|/[0-9]+)?")


def carrier_of(question: Question, carriers: Mapping[str, CarrierType], cables: Iterable[str]) -> tuple[Carrier, str]:
    """The carrier that is asked about, and where its size comes from.

    Raises:
        InputError: None is given, or several are, or it can't be read.
    """
    given = [name for name in ("carrier", "inside", "bore") if getattr(question, name)]
    if len(given) != 1:
        what = (
            "none of them is given"
            if not given
            else f"{' and '.join(f'--{name}' for name in given)} are given together"
        )
        raise InputError(
            "--carrier, --inside, --bore", what, "give one: a key of wayroom list carriers, WxH in mm, or a bore in mm"
        )
    if question.kind is not CarrierKind.TRUNKING and not question.inside:
        raise InputError("--kind", f"it goes with --inside, and --{given[0]} is given", "leave it out")
    if question.carrier:
        found = type_named(question.carrier, carriers)
        if found is None:
            hint = _hint(question.carrier, carriers, cables)
            raise InputError("--carrier", f"there is no carrier {question.carrier!r}", hint)
        return carrier_of_type(found), found.source
    if question.bore:
        bore = millimetres("--bore", question.bore)
        section = Section(bore_mm=bore, outside_diameter_mm=_outside_of(bore, question.code), source=BORE_GIVEN)
        return _made(CarrierKind.CONDUIT, section, f"conduit, bore {bore:g} mm"), section.source
    size = INSIDE.fullmatch(question.inside.strip())
    if size is None:
        raise InputError("--inside", f"{question.inside!r} is no size", "write width by height in mm, as 96x46")
    width, height = (millimetres("--inside", text) for text in size.groups())
    section = Section(
        width, height, wall_mm=0.0, usable_depth_mm=height, lanes=(Lane(1, width),), source="the inside that was given"
    )
    return _made(question.kind, section, f"{question.kind}, inside {width:g} × {height:g} mm"), section.source


def kind_with_sides(text: str) -> CarrierKind:
    """The kind of a carrier that is asked about by its inside.

    Raises:
        InputError: It is none that has sides.
    """
    kinds = {kind.value: kind for kind in (CarrierKind.LADDER, CarrierKind.TRAY, CarrierKind.TRUNKING)}
    if text not in kinds:
        raise InputError("--kind", f"{text!r} is no kind of carrier with sides", f"one of: {', '.join(kinds)}")
    return kinds[text]


def type_named(key: str, carriers: Mapping[str, CarrierType]) -> CarrierType | None:
    """The carrier of the catalogue with a key, in whatever letters it was typed; None: there is none."""
    return carriers.get(key) or carriers.get(key.lower())


def trade_size(found: CarrierType) -> str:
    """The trade size of a carrier, with its unit where that is the inch: one without a metric size beside it is in inches."""
    is_inch = found.width_mm is None and INCHES.fullmatch(found.trade_size) is not None
    return f"{found.trade_size} in" if is_inch else found.trade_size


def carrier_of_type(found: CarrierType) -> Carrier:
    """A carrier of the catalogue."""
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
    made = _made(kind, section, f"{found.family} {trade_size(found)}".strip(), found.material)
    return replace(made, laying=Laying(perforated=found.perforated))


def as_drawn(carrier: Carrier) -> Carrier:
    """As it is drawn: without an outside that nobody gave."""
    if not is_outside_inferred(carrier):
        return carrier
    return replace(carrier, section=replace(carrier.section, outside_diameter_mm=None))


def is_outside_inferred(carrier: Carrier) -> bool:
    """Whether only the bore was given, and the outside is the one that the code's table has for it."""
    return carrier.section.source == BORE_GIVEN and carrier.section.outside_diameter_mm is not None


def _made(kind: CarrierKind, section: Section, name: str, material: str = "") -> Carrier:
    return Carrier("carrier", Place("carrier", "", name=name), kind, section, material=material)


def _hint(key: str, carriers: Mapping[str, CarrierType], cables: Iterable[str]) -> str:
    if key.lower() in {cable.lower() for cable in cables}:
        return f"that is a cable: say --cable {key.lower()}=1, and a carrier of wayroom list carriers"
    near = difflib.get_close_matches(key.lower(), list(carriers), 3)
    return f"did you mean {', '.join(near)}?" if near else "see: wayroom list carriers; or give --inside or --bore"


def _outside_of(bore: float, code: Code) -> float | None:
    """The outside diameter of the conduit that has a bore, by the code's table; conduit terms go by it."""
    rows = code.sizes.conduit_bores.rows if code.sizes.conduit_bores is not None else ()
    return next((float(row["outside_diameter_mm"]) for row in rows if float(row["bore_mm"]) == bore), None)

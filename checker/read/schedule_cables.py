"""The cables of a schedule's rows: sizes as they are given there, else as the catalogue or the project has them."""

from collections.abc import Mapping
from dataclasses import dataclass

from checker.model import Cable
from checker.model.texts import quoted
from checker.read.cells import Row
from checker.read.project import Project
from checker.read.project_cables import LEAST_RATED_V, CableSpec
from checker.read.schedule_sizes import GIVEN, UNITS_OF_AWG, has_too_much_metal, leaves_no_room
from checker.read.schedule_words import Nearest
from checker.rule.catalogue import CableType
from checker.units import awg_area_mm2, awg_kcmil_name

#: A size in AWG and its area in mm² may be rounded differently by this much.
AGREE_SHARE = 0.02
CHECK = "check which one is meant"
SIZES = ("diameter_mm", "width_mm", "height_mm")
#: What a row may say otherwise than the table, or so that it can't be read, and that makes another cable of it, of another mass.
MAKE_ANOTHER = {"mass_kg_per_km", "csa_mm2", "cores", "awg_kcmil", "conductor"}
#: Aluminium, 2.70 g/cm³, in kg per km and mm².
LIGHTEST_KG_PER_KM_MM2 = 2.70
METALS = {"copper", "aluminium", "aluminum", "cu", "al"}


@dataclass(frozen=True, slots=True)
class Cables:
    """Cables by key in lower case, and a speller of keys."""

    by_key: Mapping[str, CableType | CableSpec]
    near: Nearest


def known_cables(project: Project, catalogue: Mapping[str, CableType]) -> Cables:
    """The project's own come before the catalogue's."""
    own = {item.key.lower(): item for item in project.cables}
    by_key = {key.lower(): item for key, item in catalogue.items()} | own
    return Cables(by_key, Nearest(by_key))


def read_cable(row: Row, cables: Cables) -> Cable:
    """The cables of one row. What can't be read of them is noted, and unknown."""
    key = row.text("cable")
    spans = [row.span(column) for column in SIZES]
    diameter, width, height = (None if span is None else span[1] for span in spans)
    least = [None if span is None or span[0] == span[1] else span[0] for span in spans]
    known = cables.by_key.get(key.lower()) if key else None
    given = diameter is not None or (width is not None and height is not None)
    misread = not given and any(row.text(column) or column in row.unread for column in SIZES)
    if not given and known is None:
        _tell_unknown(row, key, cables)
    count = row.whole("count", least=0)
    if count is None and "count" not in row.cells:
        row.unread.append("count")  # said once for the whole column
    elif count is None and "count" not in row.unread:
        row.complain("count", "it isn't said how many cables", "so they can't be counted", "give count")
    rated = row.volts("rated_voltage_v", least=LEAST_RATED_V)
    csa, cores = row.number("csa_mm2"), row.whole("cores", least=1)
    if given and leaves_no_room(row, known, csa, cores, (diameter, width, height), least):
        diameter = width = height = None
        least, given, misread = [None, None, None], False, True
        csa = None if "csa_mm2" in row.unread else csa
    source = GIVEN if given else ""
    if known is not None and not given and not misread:  # a size that is given but can't be read isn't the table's
        diameter, width, height, source = known.diameter_mm, known.width_mm, known.height_mm, known.source
        least = list(known.least_mm) if isinstance(known, CableSpec) else [None, None, None]
    planning = isinstance(known, CableType) and known.planning and not given and not misread
    tabled_awg = known.awg_kcmil if isinstance(known, CableType) else ""
    awg = _awg_kcmil(row) or tabled_awg
    if known is not None:
        _compare_figures(row, known, csa, cores)
        csa = csa if csa is not None or "csa_mm2" in row.unread else known.csa_mm2
    width, height, least[1:] = _lying_flat(width, height, least[1], least[2])
    if not given and has_too_much_metal(row, known, csa, cores, (diameter, width, height), least):
        csa = None
    if isinstance(known, CableType):
        _compare_words(row, known)
    _compare_awg(row, awg, tabled_awg, csa)
    mass = _mass(row, known)
    if mass is not None and _is_too_light(mass, csa, cores if cores is not None else known.cores if known else None):
        row.leave_out("mass_kg_per_km", f"{mass:g} kg/km is less than its conductors weigh", "give what one km weighs")
        mass = None
    return Cable(
        row=row.line,
        key=known.key if known is not None else key,  # one spelling, so that a take-off adds them up
        count=count,
        diameter_mm=diameter,
        width_mm=width,
        height_mm=height,
        csa_mm2=csa,
        cores=cores if cores is not None or "cores" in row.unread else (known.cores if known else None),
        stranded=known.stranded if known else None,
        awg_kcmil=awg,
        conductor=_metal(row) or (known.conductor if isinstance(known, CableType) else ""),
        insulation=row.text("insulation") or (known.insulation if isinstance(known, CableType) else ""),
        rated_voltage_v=rated
        if rated is not None or "rated_voltage_v" in row.unread
        else (known.rated_voltage_v if known else None),
        source=source,
        area_mm2=known.area_mm2 if isinstance(known, CableType) and not given and not misread else None,
        planning=planning,
        diameter_least_mm=least[0],
        width_least_mm=least[1],
        height_least_mm=least[2],
        mass_kg_per_km=mass,
        tolerance=known.tolerance if isinstance(known, CableType) and not given and not misread else None,
    )


def _lying_flat(
    width: float | None, height: float | None, width_least: float | None, height_least: float | None
) -> tuple[float | None, float | None, list[float | None]]:
    """The sides of a flat cable with the wider one as its width, whichever is written first; and their lower ends, where they are ranges.

    Of ranges that overlap the wider side is at least as wide as the larger of both lower ends.
    """
    if width is None or height is None:
        return width, height, [width_least, height_least]
    ends = (width if width_least is None else width_least, height if height_least is None else height_least)
    most, least = (max(width, height), min(width, height)), (max(ends), min(ends))
    return *most, [low if low != high else None for low, high in zip(least, most, strict=True)]


def _tell_unknown(row: Row, key: str, cables: Cables) -> None:
    """Notes that a row names no cable that is known, and gives no size that can be read."""
    if key:
        near = cables.near.of(key.lower(), 3)
        hint = f"did you mean {', '.join(near)}?" if near else "give diameter_mm, or a key of: wayroom list cables"
        row.complain("cable", f"no cable {quoted(key)} is known", "its size isn't known", hint)
    elif "cable" not in row.unread:
        is_bad = any(column in row.unread for column in SIZES)
        what = "the row names no cable, and its size can't be read" if is_bad else "the row names no cable and no size"
        row.complain("cable", what, "its size isn't known", "give cable, or diameter_mm")


def _mass(row: Row, known: CableType | CableSpec | None) -> float | None:
    """What one cable weighs in kg/km: as given, else as tabled, unless the row makes another cable of it."""
    given = row.number("mass_kg_per_km")
    if given is not None or known is None or not MAKE_ANOTHER.isdisjoint(row.unread):
        return given
    return known.mass_kg_per_km


def _is_too_light(mass_kg_per_km: float, csa_mm2: float | None, cores: int | None) -> bool:
    """Whether even aluminium conductors of that size alone weigh more: then the figure is in another unit."""
    return csa_mm2 is not None and mass_kg_per_km < csa_mm2 * (cores or 1) * LIGHTEST_KG_PER_KM_MM2


def _metal(row: Row) -> str:
    """A conductor's metal as it stands there, with a complaint where it is none."""
    metal = row.text("conductor")
    if metal and metal.lower() not in METALS:
        row.complain(
            "conductor", f"{metal!r} is no conductor's metal", "so its rating isn't known", "copper or aluminium"
        )
    return metal


def _awg_kcmil(row: Row) -> str:
    """An AWG or kcmil size in plain digits, as 12, 4/0 or 250; empty where there is none."""
    text = row.text("awg_kcmil")
    bare = awg_kcmil_name(UNITS_OF_AWG.sub("", text))
    if text and awg_area_mm2(bare) is None:
        row.complain("awg_kcmil", f"{text!r} is no conductor size", "so it isn't known", "write it as 12, 4/0 or 250")
        return ""
    return bare


def _compare_figures(row: Row, known: CableType | CableSpec, csa: float | None, cores: int | None) -> None:
    """Notes where the schedule gives a known cable another cross-section or number of cores: then its rating isn't known."""
    for column, said, tabled in (("csa_mm2", csa, known.csa_mm2), ("cores", cores, known.cores)):
        if said is not None and tabled is not None and said != tabled:
            why = "the schedule's is used for fill, and the rating isn't known"
            row.complain(column, f"{said:g} is given for {known.key}, in the table it is {tabled:g}", why, CHECK)


def _compare_awg(row: Row, awg: str, tabled_awg: str, csa: float | None) -> None:
    """Notes where a row has two sizes of its conductors, of the table, in AWG or in mm²: then its rating isn't known."""
    if tabled_awg and awg != tabled_awg:
        other = f"{tabled_awg} in the table"
    else:
        area = awg_area_mm2(awg)
        if area is None or csa is None or abs(csa - area) <= AGREE_SHARE * area:
            return
        other = f"which is {area:.4g} mm², beside {csa:g} mm²"
    row.complain("awg_kcmil", f"its size is given as {awg}, {other}", "so its rating isn't known", CHECK)


def _compare_words(row: Row, known: CableType) -> None:
    """Notes where the schedule gives a cable of the table another metal or insulation: then its rating isn't known.

    A family may bear several types, as THHN/THWN.
    """
    types = {known.insulation.lower(), *known.family.lower().split("/")}
    for column, shown, tabled in (
        ("conductor", known.conductor, {known.conductor.lower()}),
        ("insulation", known.insulation, types),
    ):
        said = row.text(column)
        if said and shown and said.lower() not in tabled:
            why = "so its rating isn't known"
            row.complain(column, f"{said!r} is given for {known.key}, in the table it is {shown}", why, CHECK)

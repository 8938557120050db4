"""What is told of remedies, in words: everything that is needed to do it, and what it costs."""

from collections.abc import Iterable, Sequence

from checker.model import Carrier, Lane, Section
from checker.model.installation import Surroundings
from checker.model.texts import listed, natural
from checker.rule.catalogue import CarrierType
from checker.units import metres

#: So many carriers are named; the row has them all.
MOST_NAMED = 6
BURIED = {Surroundings.CAST_IN, Surroundings.GROUND}


def labels(carriers: Iterable[Carrier]) -> str:
    """Carriers by name, in the order in which people count."""
    return listed(sorted((item.place.label for item in carriers), key=lambda text: (natural(text), text)), MOST_NAMED)


def total_m(carriers: Iterable[Carrier]) -> float | None:
    """How long carriers are together, in m; None where that isn't known."""
    lengths = [item.length_mm for item in carriers]
    return None if not all(lengths) else metres(sum(length or 0.0 for length in lengths))


def amount(carriers: Sequence[Carrier]) -> str:
    """How many lengths, and how long together."""
    length = total_m(carriers)
    number = f"{len(carriers)} {'length' if len(carriers) == 1 else 'lengths'}"
    return f"{number} of unknown length" if length is None else f"{number}, {length:.2f} m"


def sides(width_mm: float | None, height_mm: float | None, bore_mm: float | None) -> str:
    """A size in mm."""
    if width_mm is None:
        return "" if bore_mm is None else f"bore {bore_mm:.1f} mm"
    if height_mm is None:
        return f"{width_mm:g} mm"
    return f"{width_mm:g} × {height_mm:g} mm"


def size_before(section: Section) -> str:
    """The size of a section."""
    if section.is_round:
        return sides(section.outside_diameter_mm, None, section.bore_mm)
    return sides(_tenths(section.width_mm), _tenths(section.height_mm), None)


def size_after(item: CarrierType) -> str:
    """The size of a standard carrier."""
    if item.width_mm is not None and item.width_mm == item.height_mm and item.kind == "conduit":
        return sides(item.width_mm, None, None)
    return sides(item.width_mm, item.height_mm, item.inside_diameter_mm)


def _tenths(size_mm: float | None) -> float | None:
    return None if size_mm is None else round(size_mm, 1)


def larger_text(
    carriers: Sequence[Carrier],
    item: CarrierType,
    lanes: Sequence[Lane],
    *,
    is_type_shared: bool = False,
    has_fittings: bool = False,
) -> str:
    """Carriers of a larger size, with what their inside hangs on besides.

    Args:
        carriers: Those that are to be larger.
        item: What they are to be.
        lanes: Their compartments then, where their widths change.
        is_type_shared: Whether others have the same type, which aren't to be larger.
        has_fittings: Whether there are fittings between them, which go with them.
    """
    before = " or ".join(dict.fromkeys(size_before(carrier.section) for carrier in carriers))
    size = ", ".join([size_after(item), *_inside(item)])
    fittings = " and the fittings between them" if has_fittings else ""
    told = f"make {labels(carriers)}{fittings} {item.key}, {size}, instead of {before} ({amount(carriers)})"
    counts = {len(carrier.section.lanes) for carrier in carriers}
    if lanes:
        widths = " / ".join(f"{lane.width_mm:g}" for lane in lanes)
        told += f", with compartments {widths} mm wide"
    elif counts != {1}:
        told += f", still with {' or '.join(map(str, sorted(counts)))} equal compartments"
    if is_type_shared:
        told += (
            ", as a type of their own, since others have theirs too, with what [[types]] in wayroom.toml says of that"
        )
    is_shut_in = any(it.laying.installed in BURIED or it.laying.can_be_reopened is False for it in carriers)
    return f"{told}, while that can still be done" if is_shut_in else told


def _inside(item: CarrierType) -> list[str]:
    """What of a carrier's inside a model may not show."""
    if item.width_mm is None:  # told by its bore
        return []
    sizes = (("wall", item.wall_mm), ("usable depth", item.usable_depth_mm))
    told = [f"{name} {size:g} mm" for name, size in sizes if size]
    return ["measured inside", *told] if item.wall_mm == 0.0 else told


def longer(longer_mm: float | None) -> str:
    """How much longer a way is."""
    if longer_mm is None:
        return "how much longer isn't known"
    if abs(longer_mm) < 5.0:
        return "no longer"
    return f"{metres(abs(longer_mm)):.2f} m {'longer' if longer_mm > 0.0 else 'shorter'}"


def way_text(mark: str, text: str, longer_mm: float | None, more_drop_mm: float | None) -> str:
    """Another way of one circuit. Drops that differ by less than a hand's breadth aren't told."""
    outside = ""
    if more_drop_mm is not None and more_drop_mm > 100.0:
        outside = f" (with {metres(more_drop_mm):.2f} m more outside carriers)"
    return f"lead {mark} another way, {longer(longer_mm)}{outside}: route = {text}"


def lane_text(mark: str, number: int, carriers: Sequence[Carrier], text: str) -> str:
    """Another compartment for one circuit."""
    return f"lay {mark} in compartment {number} of {labels(carriers)}: route = {text}"


def divider_text(carriers: Sequence[Carrier], services: Iterable[str], through: Sequence[str]) -> str:
    """A divider, and the fittings that it is carried through."""
    told = listed(sorted(services), MOST_NAMED)
    kept = (
        f", and keep them apart through {listed(through, MOST_NAMED)} (partition = kept under [[fittings]])"
        if through
        else ""
    )
    return (
        f"divide {labels(carriers)} into two equal compartments ({amount(carriers)} of divider), the first for {told}, the second for all "
        f"else (compartments of a type of their own under [[types]] in wayroom.toml){kept}"
    )


def cable_text(
    mark: str, before: str, after: str, number: int | None, length_m: float | None, *, others_stay: bool
) -> str:
    """Other cables for a circuit: how many, if that is known, and on how long a way."""
    many = "cables" if number is None else f"{number} {'cable' if number == 1 else 'cables'}"
    long = "" if length_m is None else f" on {length_m:.2f} m of way"
    stay = "; its other cables stay as they are" if others_stay else ""
    given = "leave csa_mm2, awg_kcmil and mass_kg_per_km empty, or give those of that cable"
    return f"lay {after} instead of {before} for {mark} ({many}{long}): cable = {after} ({given}){stay}"


def box_text(fitting: str) -> str:
    """A box in place of a bend."""
    return f"put a box in place of the bend {fitting}"

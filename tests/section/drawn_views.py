"""Views made by hand for tests of drawings: cables in rows, so that it is plain that none lies on another."""

from collections.abc import Sequence

from checker.model import CarrierKind, Service
from checker.rule import Outcome, Verdict
from checker.section.parts import Asked, Bundle, LaneView, SectionView
from checker.section.shapes import Body, Box, Channel, Inside, Placed, Round

SERVICES: tuple[Service | None, ...] = (*Service, None)


def bundle(
    mark: str, count: int | None = 1, *, width_mm: float = 5.0, height_mm: float | None = None, service: Service | None = None,
    key: str = "h07v-u-2.5", cores: int | None = 1, metal_mm2: float | None = 2.5, why: str = "", is_possible: bool = False,
) -> Bundle:  # fmt: skip
    """Cables of one sort."""
    body = None if why else Body(width_mm, height_mm or width_mm)
    return Bundle(
        mark, service, key, count, body, cores, metal_mm2, size=f"{width_mm:g} mm", why=why, is_possible=is_possible
    )


def verdict(
    outcome: Outcome = Outcome.PASS, value: float | None = 0.3, limit: float | None = 0.45, reason: str = ""
) -> Verdict:
    """What a rule of fill answers."""
    return Verdict(outcome, reason, value, limit, "ratio", "area", "guidance", "a clause of a code")


def lane(
    number: int, width_mm: float, bundles: Sequence[Bundle], answer: Verdict | None = None, *, kind: str = "box"
) -> LaneView:
    """A compartment with its cables in rows from below, each row as high as the thickest of all."""
    drawn = [
        index
        for index, one in enumerate(bundles)
        if one.body is not None and not one.is_possible
        for _ in range(one.count or 0)
    ]
    bodies = [bundles[index].body or Body(1.0, 1.0) for index in drawn]
    across, high = (
        max((body.width_mm for body in bodies), default=1.0),
        max((body.height_mm for body in bodies), default=1.0),
    )
    width_mm = max(width_mm, across, across * len(bodies) * 1.2 if kind == "round" else 0.0)
    columns = max(int(width_mm / across), 1)
    rows = -(-len(bodies) // columns)
    middle = width_mm / 2.0 - high / 2.0 if kind == "round" else 0.0
    placed = tuple(
        Placed(index, (index % columns + 0.5) * across, middle + (index // columns + 0.5) * high)
        for index in range(len(bodies))
    )
    height = max(rows * high, width_mm / 4.0)
    inside: Inside = (
        Round(width_mm)
        if kind == "round"
        else Channel(width_mm, height)
        if kind == "channel"
        else Box(width_mm, height)
    )
    return LaneView(
        number, inside, bundles=tuple(bundles), drawn=tuple(drawn), placed=placed, way="Drawn as best found.",
        asked=(Asked("fill.compartment", answer or verdict()),), room="room left by the limit: 15 mm², 5 % of what it allows",
    )  # fmt: skip


def section(
    lanes: Sequence[LaneView], kind: CarrierKind = CarrierKind.TRUNKING, title: str = "Section of FT-01"
) -> SectionView:
    """A section of which the outside isn't known."""
    return SectionView(title, "steel trunking", kind, tuple(lanes), None, "A code")

"""Installations made in memory, for tests of what comes after reading."""

from checker.model import (
    Body,
    Cable,
    Carrier,
    CarrierKind,
    Circuit,
    Equipment,
    Fitting,
    FittingKind,
    Installation,
    Lane,
    Place,
    RouteStep,
    Section,
    Service,
    Vec,
)
from checker.model.geometry import distance

STEEL_50 = Section(width_mm=50.0, height_mm=50.0, wall_mm=1.0, source="test")


def carrier(
    key: str,
    start: Vec,
    end: Vec,
    section: Section = STEEL_50,
    kind: CarrierKind = CarrierKind.TRUNKING,
    storey: str = "L0",
    material: str = "",
) -> Carrier:
    place = Place(key, "test.ifc", tag=key, storey=storey)
    return Carrier(
        key,
        place,
        kind,
        section,
        start_mm=start,
        end_mm=end,
        length_mm=distance(start, end),
        across=(0.0, 0.0, 1.0),
        material=material,
        turn_deg=0.0,
    )


def fitting(key: str, centre: Vec, kind: FittingKind = FittingKind.BOX, size: float = 100.0) -> Fitting:
    half = size / 2.0
    body = Body(centre, ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (half, half, half))
    return Fitting(key, Place(key, "test.ifc", tag=key, storey="L0"), kind, centre, body)


def outlet(key: str, point: Vec, storey: str = "L0") -> Equipment:
    return Equipment(key, Place(key, "test.ifc", tag=key, storey=storey), "IfcOutlet", point)


def lanes(*services: Service | None, widths: tuple[float | None, ...] = ()) -> tuple[Lane, ...]:
    """A lane for each service; None takes any."""
    padded = widths or (None,) * len(services)
    pairs = zip(services, padded, strict=True)
    return tuple(
        Lane(n, width, None if service is None else frozenset({service}))
        for n, (service, width) in enumerate(pairs, start=1)
    )


def circuit(
    mark: str,
    origin: str,
    *calls: str,
    service: Service | None = Service.POWER,
    area_of: float | None = 10.0,
    count: int | None = 1,
    route: str = "",
    compartment: int | None = None,
    **more: object,
) -> Circuit:
    """A circuit of one kind of cable, ``area_of`` its diameter in mm."""
    steps = tuple(
        RouteStep(text, text.split("/")[0], int(text.split("/")[1]) if "/" in text else None)
        for text in route.split(";")
        if text
    )
    cable = Cable(row=2, count=count, diameter_mm=area_of, cores=1, csa_mm2=2.5, conductor="copper", insulation="PVC")
    return Circuit(mark, origin, calls, service, cables=(cable,), route=steps, compartment=compartment, **more)  # type: ignore[arg-type]


def installation(*items: Carrier | Fitting | Equipment | Circuit, **more: object) -> Installation:
    def of(kind: type) -> tuple:  # type: ignore[type-arg]
        return tuple(item for item in items if isinstance(item, kind))

    return Installation(
        "test",
        "Test",
        carriers=of(Carrier),
        fittings=of(Fitting),
        equipment=of(Equipment),
        circuits=of(Circuit),
        **more,  # type: ignore[arg-type]
    )

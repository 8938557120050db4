"""Subjects of rules with something given that wasn't known of them."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from checker.model import (
    CircuitLoad,
    DividedFitting,
    Enclosure,
    LoadedCompartment,
    Member,
    Partition,
    Passing,
    PlacedCable,
    RoutedCircuit,
    Service,
    cable_area_mm2,
)
from checker.rule.needs import SIZE, of_cable, of_type

#: No cable is thinner or thicker.
THINNEST_MM, THICKEST_MM = 0.001, 10_000.0


def _besides(service: Service, count: int) -> PlacedCable:
    return PlacedCable(
        "what lies besides",
        service,
        "",
        count,
        cable_area_mm2(3.0, None, None),
        diameter_mm=3.0,
        csa_mm2=1.5,
        awg_kcmil="14",
        cores=1,
        stranded=True,
        rated_voltage_v=1000.0,
        voltage_v=230.0,
    )


#: What may lie besides where that isn't known: nothing, a power cable, or a crowd of data cables. All of these is known.
BESIDES: tuple[tuple[PlacedCable, ...], ...] = (
    (),
    (_besides(Service.POWER, 1),),
    (_besides(Service.DATA, 1_000_000),),
)


def bounded(subject: LoadedCompartment, end: int) -> LoadedCompartment:
    """A compartment of which it is known what lies there besides."""
    return replace(subject, unbounded=False, cables=(*subject.cables, *(BESIDES[end] if subject.unbounded else ())))


def bounded_fitting(subject: DividedFitting, end: int) -> DividedFitting:
    """A fitting of which it is known what passes it besides."""
    more = BESIDES[end] if subject.unbounded else ()
    passing = (*subject.passing, Passing((), more)) if more else subject.passing
    return replace(subject, unbounded=False, passing=passing)


def counted(subject: LoadedCompartment, mark: str, count: int) -> LoadedCompartment:
    """A compartment with that many cables of a circuit of which it isn't known how many there are."""

    def of(cable: PlacedCable) -> PlacedCable:
        is_open = cable.circuit == mark and (cable.count is None or cable.is_several)
        return replace(cable, count=count, is_several=False) if is_open else cable

    return _each_cable(subject, of)


def sized(subject: LoadedCompartment, need: str, share: float) -> LoadedCompartment:
    """The cables that an answer is about, at a share of the way from the least to the most that they can measure."""

    def of(cable: PlacedCable) -> PlacedCable:
        is_open = cable.is_ranged or cable.area_mm2 is None
        return _at(cable, share) if is_open and of_cable(SIZE, cable) == need else cable

    return _each_cable(subject, of)


def _at(cable: PlacedCable, share: float) -> PlacedCable:
    if cable.is_ranged:
        ends = (
            (cable.diameter_least_mm, cable.diameter_mm),
            (cable.width_least_mm, cable.width_mm),
            (cable.height_least_mm, cable.height_mm),
        )
        diameter, width, height = (
            most if least is None or most is None else least + share * (most - least) for least, most in ends
        )
    else:
        diameter, width, height = THINNEST_MM + share * (THICKEST_MM - THINNEST_MM), None, None
    return replace(
        cable,
        diameter_mm=diameter,
        width_mm=width,
        height_mm=height,
        area_mm2=cable_area_mm2(diameter, width, height),
        area_least_mm2=None,
        diameter_least_mm=None,
        width_least_mm=None,
        height_least_mm=None,
    )


def _each_cable(subject: LoadedCompartment, of: Callable[[PlacedCable], PlacedCable]) -> LoadedCompartment:
    return replace(subject, cables=tuple(map(of, subject.cables)), possible=tuple(map(of, subject.possible)))


def placed(subject: LoadedCompartment, marks: frozenset[str], is_here: bool) -> LoadedCompartment:  # noqa: FBT001 - see Open.placing
    """The compartment with circuits that may lie there lying there, or not."""
    here, others = _parted_by(subject.possible, marks)
    doubts = subject.possible_doubts if others or subject.unbounded else ()
    cables = (*subject.cables, *here) if is_here else subject.cables
    return replace(subject, cables=cables, possible=others, possible_doubts=doubts)


def parted(subject: DividedFitting, partition: Partition) -> DividedFitting:
    """A fitting that is declared to keep compartments apart, or not."""
    assert subject.fitting is not None  # noqa: S101 - it alone is asked about
    return replace(subject, fitting=replace(subject.fitting, partition=partition))


def passed(subject: DividedFitting, marks: frozenset[str], is_here: bool) -> DividedFitting:  # noqa: FBT001 - see Open.placing
    """A fitting with circuits that may pass it passing it, or not."""
    here, others = _parted_by(subject.possible, marks)
    passing = (*subject.passing, Passing((), here)) if is_here else subject.passing
    return replace(subject, passing=passing, possible=others)


def _parted_by(
    cables: tuple[PlacedCable, ...], marks: frozenset[str]
) -> tuple[tuple[PlacedCable, ...], tuple[PlacedCable, ...]]:
    here = tuple(cable for cable in cables if cable.circuit in marks)
    return here, tuple(cable for cable in cables if cable.circuit not in marks)


def beside(subject: RoutedCircuit, marks: frozenset[str], is_here: bool) -> RoutedCircuit:  # noqa: FBT001 - see Open.placing
    """The circuit with others lying beside it wherever they may, or nowhere."""
    enclosures = []
    for enclosure in subject.enclosures:
        here = tuple(member for member in enclosure.possible if member.load.mark in marks)
        others = tuple(member for member in enclosure.possible if member.load.mark not in marks)
        members = (*enclosure.members, *here) if is_here else enclosure.members
        enclosures.append(replace(enclosure, members=members, possible=others) if here else enclosure)
    return replace(subject, enclosures=tuple(enclosures))


def has_open_layers(enclosure: Enclosure) -> bool:
    """Whether it isn't known if all its cables go into one layer."""
    return enclosure.fits_one_layer is None or (not enclosure.fits_one_layer and enclosure.may_fit_one_layer)


def layered(subject: RoutedCircuit, *, goes_in: bool) -> RoutedCircuit:
    """A circuit on whose way the cables of trays go into one layer, or don't, where that isn't known."""
    enclosures = tuple(
        replace(enclosure, fits_one_layer=goes_in, may_fit_one_layer=goes_in)
        if has_open_layers(enclosure)
        else enclosure
        for enclosure in subject.enclosures
    )
    return replace(subject, enclosures=enclosures)


def declared(subject: RoutedCircuit) -> RoutedCircuit:
    """A circuit on whose way cables are declared to lie in one layer."""
    enclosures = tuple(
        replace(one, carrier=replace(one.carrier, laying=replace(one.carrier.laying, single_layer=True)))
        for one in subject.enclosures
    )
    return replace(subject, enclosures=enclosures)


def with_load(subject: RoutedCircuit, mark: str, given: Mapping[str, Any]) -> RoutedCircuit:
    """A circuit, or one that lies beside it, with something of its load given."""
    own = replace(subject.load, **given) if subject.load.mark == mark else subject.load
    others: dict[CircuitLoad, CircuitLoad] = {subject.load: own}

    def of(members: tuple[Member, ...]) -> tuple[Member, ...]:
        if not any(member.load.mark == mark for member in members):
            return members
        for member in members:
            if member.load.mark == mark and member.load not in others:
                others[member.load] = replace(member.load, **given)
        return tuple(replace(member, load=others.get(member.load, member.load)) for member in members)

    enclosures = tuple(
        replace(enclosure, members=of(enclosure.members), possible=of(enclosure.possible))
        for enclosure in subject.enclosures
    )
    return replace(subject, load=own, enclosures=enclosures)


def laid(subject: RoutedCircuit, need: str, what: str, field: str, *, value: bool) -> RoutedCircuit:
    """The circuit with the trays of a type on its way laid in one manner."""
    enclosures = []
    given: dict[str, Any] = {field: value}
    for enclosure in subject.enclosures:
        carrier = enclosure.carrier
        if getattr(carrier.laying, field) is None and of_type(what, carrier) == need:
            laying = replace(carrier.laying, **given)
            enclosures.append(replace(enclosure, carrier=replace(carrier, laying=laying)))
        else:
            enclosures.append(enclosure)
    return replace(subject, enclosures=tuple(enclosures))

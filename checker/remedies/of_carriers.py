"""What can be tried with carriers themselves: a larger size, a divider, a box in place of a bend."""

from collections.abc import Iterator
from dataclasses import replace

from checker.model import Carrier, CarrierKind, Fitting, Lane, Service
from checker.remedies import texts
from checker.remedies.fittings import bends_between, keep_apart, put_box
from checker.remedies.means import Means, Seen, Stretch, Try
from checker.remedies.sizes import larger_sizes, with_size
from checker.result.remedy_tables import LaneRow, RemedyKind, RemedyRow
from checker.rule.catalogue import CarrierType
from checker.trial import Divide, Resize

THERE = "what is existing isn't changed"
#: What a divider is to part from all else, in the order in which it is tried: first what may share with nothing, then low voltage.
PARTED = (
    frozenset({Service.FIRE_ALARM}),
    frozenset({Service.EMERGENCY_CENTRAL}),
    frozenset({Service.DATA, Service.ELV}),
    frozenset({Service.DATA, Service.ELV, Service.CONTROL}),
    *(frozenset({service}) for service in Service if service not in {Service.FIRE_ALARM, Service.EMERGENCY_CENTRAL}),
)


def larger(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """The next sizes, all along a stretch.

    Args:
        means: What there is.
        stretch: What is to be mended.
        seen: Each size that is ruled out at a glance is added.
    """
    carriers = [means.carriers[key] for key in stretch.keys]
    if not means.is_new(stretch.keys):
        seen.bar(THERE)
        return
    if any(carrier.laying.safe_load_kg_per_m is not None for carrier in carriers):
        seen.bar("what a larger one bears at its span isn't declared")
        return
    is_type_shared, has_fittings = means.shares_type(carriers), _joins_lengths(means, stretch)
    for item in _larger_for_all(means, carriers):
        sections = {
            carrier.key: section
            for carrier in carriers
            if (section := with_size(carrier.section, item, stretch.compartment)) is not None
        }
        if len(sections) < len(carriers) or len({section.lanes for section in sections.values()}) > 1:
            continue  # what is told of compartments is told once for all
        sized = {carrier.key: replace(carrier, section=sections[carrier.key]) for carrier in carriers}
        if not means.fits(stretch, sized) or not means.keeps_joins(sized) or not means.has_room(sized):
            seen.note(texts.size_after(item))
            continue
        lanes = sections[carriers[0].key].lanes
        is_widened = lanes != carriers[0].section.lanes
        yield Try(
            (Resize(tuple(sections.items())),),
            RemedyRow(
                RemedyKind.CARRIER,
                stretch.ids,
                texts.larger_text(
                    carriers,
                    item,
                    lanes if is_widened else (),
                    is_type_shared=is_type_shared,
                    has_fittings=has_fittings,
                ),
                carriers=stretch.keys,
                before=texts.size_before(carriers[0].section),
                after=item.key,
                lengths=len(carriers),
                length_m=texts.total_m(carriers),
                lanes=tuple(map(_row, lanes)) if is_widened else (),
            ),
            texts.size_after(item),
        )


def _larger_for_all(means: Means, carriers: list[Carrier]) -> list[CarrierType]:
    """The sizes that are larger for each of some carriers, and of what it is made of, the smallest first."""
    first, *others = [larger_sizes(carrier, means.plugins.carriers.values()) for carrier in carriers]
    return [item for item in first if all(item in sizes for sizes in others)]


def _row(lane: Lane) -> LaneRow:
    return LaneRow(lane.width_mm, () if lane.services is None else tuple(sorted(lane.services)))


def divider(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """A divider all along a stretch that has none. ``seen`` is told where that can't be."""
    carriers = [means.carriers[key] for key in stretch.keys]
    sections = [carrier.section for carrier in carriers]
    bases = {section.lanes[0].services for section in sections}
    is_whole = all(len(section.lanes) == 1 and not section.is_round for section in sections)
    is_conduit = any(carrier.kind in {CarrierKind.CONDUIT, CarrierKind.UNKNOWN} for carrier in carriers)
    if not means.is_new(stretch.keys):
        seen.bar(THERE)
        return
    if not is_whole or is_conduit or len(bases) > 1:
        return
    base = bases.pop() or frozenset(Service)
    lying = means.lying(stretch.keys, None)
    here = {means.circuits[mark].service for mark in lying if mark in means.circuits} - {None}
    tried = set()
    for parted in PARTED:
        first, second = parted & base, base - parted
        # what isn't there is told apart by nothing
        split = (frozenset(here & first), frozenset(here & second))
        if not all(split) or split in tried:
            continue
        tried.add(split)
        lanes = (Lane(1, None, first), Lane(2, None, second))
        for through in _through(means, stretch):
            fittings = tuple(fitting.key for fitting in through)
            labels = sorted(fitting.place.label for fitting in through)
            yield Try(
                (Divide(stretch.keys, lanes), *((keep_apart(through, stretch.keys),) if through else ())),
                RemedyRow(
                    RemedyKind.DIVIDER,
                    stretch.ids,
                    texts.divider_text(carriers, [str(service) for service in first], labels),
                    carriers=stretch.keys,
                    before="not divided",
                    after="two compartments",
                    lengths=len(carriers),
                    length_m=texts.total_m(carriers),
                    lanes=tuple(map(_row, lanes)),
                    fittings=fittings,
                ),
                ", ".join(sorted(first)),
            )


def _through(means: Means, stretch: Stretch) -> Iterator[tuple[Fitting, ...]]:
    """The fittings that a divider is carried through, where nothing is declared of them: those within a stretch; those at its ends too."""
    keys = set(stretch.keys)
    open_ones = [fitting for fitting in _met(means, stretch) if fitting.partition is None]
    within = tuple(fitting for fitting in open_ones if means.meets[fitting.key] <= keys)
    yield within
    if len(open_ones) > len(within):
        yield tuple(open_ones)


def _joins_lengths(means: Means, stretch: Stretch) -> bool:
    """Whether a fitting joins carriers of a stretch to each other and to nothing else."""
    joined = (means.meets[fitting.key] for fitting in _met(means, stretch))
    return any(len(elements) > 1 and elements <= set(stretch.keys) for elements in joined)


def _met(means: Means, stretch: Stretch) -> list[Fitting]:
    """The fittings that meet carriers of a stretch."""
    fittings = means.situation.routing.network.fittings
    met = {key for own in stretch.keys for key in means.meets.get(own, ()) if key in fittings}
    return [fittings[key] for key in sorted(met)]


def box(means: Means, stretch: Stretch, seen: Seen) -> Iterator[Try]:
    """A box in place of a bend of a run. ``seen`` is told where that can't be."""
    for row in stretch.findings:
        if not means.is_new(row.carriers):
            seen.bar(THERE, row.id)
            continue
        for key in bends_between(means.situation.routing.network, means.meets, row.carriers):
            fitting = means.situation.routing.network.fittings[key]
            yield Try(
                (put_box(fitting, row.carriers),),
                RemedyRow(
                    RemedyKind.BOX,
                    (row.id,),
                    texts.box_text(fitting.place.label),
                    carriers=row.carriers,
                    before="bend",
                    after="box",
                    fittings=(key,),
                ),
                fitting.place.label,
            )

"""Carriers that run side by side, of which one holds data cables and the other power cables, or could."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from networkx.utils import UnionFind

from checker.model import Carrier, CarrierPair, Enclosure, Service, Side
from checker.model.pairs import NEIGHBOURS_MM
from checker.network.beside import Beside, beside
from checker.network.straights import is_size_known, is_turn_known

#: What certainly disturbs no data cable.
QUIET = {Service.DATA, Service.ELV}


def carrier_pairs(enclosures: Mapping[str, Enclosure], near: Mapping[str, set[str]]) -> Iterator[CarrierPair]:
    """The pairs, in the order of their keys.

    One of the two holds data cables, or power cables, for certain; the other the counterpart, or it could. Of pairs in which neither is
    certain there is no question: anything could lie anywhere.

    Args:
        enclosures: All segments with what lies in them, by key.
        near: The carriers that each meets.
    """
    keys = sorted(enclosures)
    holding = [enclosures[key] for key in keys]
    carriers = [item.carrier for item in holding]
    data = [number for number, item in enumerate(holding) if _holds_data(item, is_certain=True)]
    power = [number for number, item in enumerate(holding) if _holds_power(item, is_certain=True)]
    maybe_data = [number for number, item in enumerate(holding) if _holds_data(item, is_certain=False)]
    maybe_power = [number for number, item in enumerate(holding) if _holds_power(item, is_certain=False)]
    found = {(item.one, item.other): item for item in beside(carriers, data, maybe_power, NEIGHBOURS_MM)}
    found |= {(item.one, item.other): item for item in beside(carriers, power, maybe_data, NEIGHBOURS_MM)}
    ordered = [found[pair] for pair in sorted(found)]
    along = _along_mm(ordered, keys, near)
    for item, length in zip(ordered, along, strict=True):
        one, other = holding[item.one], holding[item.other]
        yield CarrierPair(
            Side.of(one),
            Side.of(other),
            item.clear_mm,
            item.beside_mm / 1000.0,
            length / 1000.0,
            _size_doubt([one.carrier, other.carrier]),
            "so much lies beside them that not all of it was looked at" if item.is_crowded else "",
        )


def _size_doubt(carriers: list[Carrier]) -> str:
    """Why two carriers may be nearer to each other than what is known of their outsides says; empty where all is known."""
    unsized = [carrier.place.label for carrier in carriers if not is_size_known(carrier.section)]
    unturned = [carrier.place.label for carrier in carriers if not is_turn_known(carrier)]
    doubts = [f"the outside size isn't known of {' and '.join(unsized)}"] if unsized else []
    doubts += [f"towards which side its width lies isn't known of {' and '.join(unturned)}"] if unturned else []
    return "; ".join(doubts)


def _holds_data(enclosure: Enclosure, *, is_certain: bool) -> bool:
    cables = enclosure.cables if is_certain else (*enclosure.cables, *enclosure.possible_cables)
    services = {Service.DATA} if is_certain else {Service.DATA, None}
    return any(cable.service in services for cable in cables)


def _holds_power(enclosure: Enclosure, *, is_certain: bool) -> bool:
    members = enclosure.members if is_certain else (*enclosure.members, *enclosure.possible)
    quiet = {*QUIET, None} if is_certain else QUIET
    return any(member.load.is_loaded and member.load.service not in quiet for member in members)


def _along_mm(found: list[Beside], keys: list[str], near: Mapping[str, set[str]]) -> list[float]:
    """How long each pair runs side by side with those that it goes on in: both carriers are the same or joined."""
    places = {(keys[item.one], keys[item.other]): place for place, item in enumerate(found)}
    chains = UnionFind(range(len(found)))
    for (one, other), place in places.items():
        for next_one in _with_near(one, near):
            for next_other in _with_near(other, near):
                onward = places.get((next_one, next_other), places.get((next_other, next_one)))
                if onward is not None:
                    chains.union(place, onward)
    total: dict[object, float] = defaultdict(float)
    for place, item in enumerate(found):
        total[chains[place]] += item.beside_mm
    return [total[chains[place]] for place in range(len(found))]


def _with_near(key: str, near: Mapping[str, set[str]]) -> Iterable[str]:
    return (key, *sorted(near.get(key, ())))

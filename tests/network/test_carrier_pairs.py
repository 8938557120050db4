"""Which pairs of carriers are held against each other: data in one, power in the other, one of them for certain."""

from dataclasses import replace

from checker.model import Carrier, CarrierPair, CircuitLoad, Enclosure, Member, PlacedCable, Section, Service, State
from checker.network.carrier_pairs import carrier_pairs
from tests.installations import carrier


def conduit(key: str, y: float, x: tuple[float, float] = (0.0, 3000.0), section: Section | None = None) -> Carrier:
    return carrier(key, (x[0], y, 0.0), (x[1], y, 0.0), section or Section(width_mm=100.0, height_mm=100.0))


def member(mark: str, service: Service | None, *, is_loaded: bool = True) -> Member:
    return Member(CircuitLoad(mark, service, State.NEW, is_loaded=is_loaded))


def cable(mark: str, service: Service | None) -> PlacedCable:
    return PlacedCable(mark, service, "", 1, None)


def holding(one: Carrier, service: Service | None = None, possible: Service | None = None) -> Enclosure:
    """A carrier with a circuit of a service for certain, and one that may lie there."""
    return Enclosure(
        one,
        members=(member(f"{one.key}1", service),) if service else (),
        cables=(cable(f"{one.key}1", service),) if service else (),
        possible=(member(f"{one.key}2", possible),) if possible else (),
        possible_cables=(cable(f"{one.key}2", possible),) if possible else (),
        doubts=("it isn't routed",) if possible else (),
    )


def pairs(*enclosures: Enclosure, near: dict[str, set[str]] | None = None) -> list[CarrierPair]:
    return list(carrier_pairs({item.carrier.key: item for item in enclosures}, near or {}))


def names(found: list[CarrierPair]) -> list[tuple[str, str]]:
    return [(pair.one.carrier.key, pair.other.carrier.key) for pair in found]


def test_data_beside_power_is_a_pair_and_two_of_a_kind_arent() -> None:
    data, power = holding(conduit("D", 0.0), Service.DATA), holding(conduit("P", 400.0), Service.POWER)
    (found,) = pairs(power, data)
    assert (found.one.carrier.key, found.other.carrier.key) == ("D", "P")
    # 400 less 50 and 50
    assert (found.clear_mm, found.beside_m, found.along_m) == (300.0, 3.0, 3.0)
    assert not pairs(data, holding(conduit("E", 400.0), Service.DATA))
    assert not pairs(power, holding(conduit("Q", 800.0), Service.POWER))
    assert not pairs(data, holding(conduit("L", 400.0), Service.ELV))


def test_one_of_the_two_must_be_certain() -> None:
    certain, maybe = holding(conduit("D", 0.0), Service.DATA), holding(conduit("P", 400.0), possible=Service.POWER)
    assert names(pairs(certain, maybe)) == [("D", "P")]
    maybe_data = holding(conduit("E", 800.0), possible=Service.DATA)
    assert names(pairs(holding(conduit("Q", 400.0), Service.POWER), maybe_data)) == [("E", "Q")]
    assert not pairs(maybe, maybe_data)


def test_a_circuit_that_carries_no_load_disturbs_nothing() -> None:
    data = holding(conduit("D", 0.0), Service.DATA)
    spare = Enclosure(conduit("P", 400.0), members=(member("S1", Service.POWER, is_loaded=False),))
    assert not pairs(data, spare)


def test_a_size_that_isnt_known_is_a_doubt() -> None:
    unsized = holding(conduit("P", 400.0, section=Section(width_mm=100.0)), Service.POWER)
    (found,) = pairs(holding(conduit("D", 0.0), Service.DATA), unsized)
    assert found.size_doubt == "the outside size isn't known of P"
    assert found.most_loaded().clear_mm == 0.0
    # its width stands upright, so what is level isn't known: 400 less 50 and nothing
    assert found.least_loaded().clear_mm == 350.0


def test_of_an_upright_one_that_may_be_turned_either_way_only_the_smaller_side_is_sure() -> None:
    def riser(key: str, y: float) -> Carrier:
        made = carrier(key, (0.0, y, 0.0), (0.0, y, 3000.0), Section(width_mm=600.0, height_mm=100.0))
        return replace(made, across=None)

    (found,) = pairs(holding(riser("D", 0.0), Service.DATA), holding(riser("P", 700.0), Service.POWER))
    # 700 less 50 and 50 if their widths lie across the line between them, less 300 and 300 if along it
    assert found.least_loaded().clear_mm == 600.0
    assert found.size_doubt == "towards which side its width lies isn't known of D and P"
    assert found.most_loaded().clear_mm == 0.0


def test_what_goes_on_in_joined_carriers_is_one_length() -> None:
    def two(x: tuple[float, float], number: int) -> list[Enclosure]:
        return [
            holding(conduit(f"D{number}", 0.0, x), Service.DATA),
            holding(conduit(f"P{number}", 400.0, x), Service.POWER),
        ]

    both = [*two((0.0, 3000.0), 1), *two((3100.0, 5100.0), 2)]
    near = {"D1": {"D2"}, "D2": {"D1"}, "P1": {"P2"}, "P2": {"P1"}}
    assert [(pair.beside_m, pair.along_m) for pair in pairs(*both, near=near)] == [(3.0, 5.0), (2.0, 5.0)]
    assert [pair.along_m for pair in pairs(*both)] == [3.0, 2.0]

"""Places where what lies apart may mix: boxes, undivided crosses, and what could pass besides."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import Carrier, Circuit, Condition, DividedFitting, Fitting, FittingKind, Port, Service
from checker.network.loading import load
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
HERE = (1000.0, 0.0, 0.0)
FAR = {"W": (0.0, 0.0, 0.0), "E": (2000.0, 0.0, 0.0), "N": (1000.0, 1000.0, 0.0), "S": (1000.0, -1000.0, 0.0)}
FOR_TWO = lanes(Service.POWER, Service.DATA)
TEE, CROSS, BOX = (fitting("X", HERE, kind, 60.0) for kind in (FittingKind.TEE, FittingKind.CROSS, FittingKind.BOX))


def of(key: str, *services: Service | None) -> Carrier:
    section = replace(STEEL_50, lanes=lanes(*services)) if services else STEEL_50
    return replace(carrier(key, FAR[key], HERE, section), across=(0.0, 0.0, 1.0))


def divided(key: str) -> Carrier:
    return of(key, Service.POWER, Service.DATA)


def data(mark: str, *ends: str, **more: object) -> Circuit:
    return circuit(mark, *ends, service=Service.DATA, **more)  # type: ignore[arg-type]


def met(*items: Carrier | Fitting | Circuit, **more: object) -> list[DividedFitting]:
    inst = installation(*items, **more)
    return list(load(inst, route_all(inst), CODE.sizes).fittings)


@pytest.mark.parametrize("kind", [CROSS, BOX, None])
def test_circuits_that_share_no_carrier_of_an_undivided_place_lie_together_inside_it(kind: Fitting | None) -> None:
    """Power goes from west to east, data from north to south."""
    parts = [of(key) for key in "WENS"]
    (found,) = met(*parts, *([kind] if kind else []), circuit("P", "W", "E"), data("D", "N", "S"))
    assert [item.key for item in found.carriers] == ["E", "N", "S", "W"]
    assert [{cable.circuit for cable in item.cables} for item in found.passing] == [{"P"}, {"D"}]  # E, W before N, S


@pytest.mark.parametrize("fitting_", [CROSS, BOX])
def test_circuits_that_share_a_carrier_of_an_undivided_place_are_judged_in_it(fitting_: Fitting) -> None:
    parts = [of(key) for key in "WENS"]
    assert met(*parts, fitting_, circuit("P", "W", "E"), data("D", "W", "S")) == []
    assert met(*parts, fitting_, circuit("P", "W", "E")) == []


def test_at_an_undivided_tee_any_two_that_pass_share_a_carrier() -> None:
    """Each passes two of three, and 2 + 2 > 3; so do those that could."""
    parts = [of(key) for key in "WEN"]
    assert met(*parts, TEE, circuit("P", "W", "E"), data("D", "N", "E"), data("L", "N", "nowhere")) == []


def test_a_box_between_two_divided_carriers_is_asked_since_nothing_holds_compartments_in_it() -> None:
    (found,) = met(divided("W"), divided("E"), BOX, circuit("P", "W", "E"), data("D", "W", "E"))
    assert found.label == "X"
    assert [item.compartments for item in found.passing] == [(("E", 1), ("W", 1)), (("E", 2), ("W", 2))]
    assert met(divided("W"), divided("E"), BOX, circuit("P", "W", "E"), circuit("Q", "W", "E")) == []


def test_what_could_pass_in_another_compartment_makes_a_place_asked() -> None:
    """Were D led from W to N, both would be asked; that its end isn't known can't make it better."""
    parts = [divided(key) for key in "WEN"]
    assert len(met(*parts, TEE, circuit("P", "W", "E"), data("D", "W", "N"))) == 1
    (found,) = met(*parts, TEE, circuit("P", "W", "E"), data("D", "W", "nowhere"))
    assert [cable.circuit for item in found.passing for cable in item.cables] == ["P"]
    assert [cable.circuit for cable in found.possible] == ["D"]
    assert found.possible_doubts == ("circuit D isn't routed and could lie here",)
    (found,) = met(*parts, TEE, circuit("P", "W", "nowhere"), data("D", "W", "nowhere"))
    assert (found.passing, [cable.circuit for cable in found.possible]) == ((), ["D", "P"])


def test_what_could_pass_only_beside_what_passes_is_judged_there() -> None:
    """Q is power as P is: of three carriers it passes two, so one with P, in the only compartment for power."""
    parts = [divided(key) for key in "WEN"]
    assert met(*parts, TEE, circuit("P", "W", "E"), circuit("Q", "W", "nowhere")) == []
    four = [divided(key) for key in "WENS"]
    assert len(met(*four, CROSS, circuit("P", "W", "E"), circuit("Q", "W", "nowhere"))) == 1  # from N to S it needn't


def test_a_circuit_whose_way_has_a_gap_is_not_apart_from_itself() -> None:
    """It passes from W to E, goes on elsewhere, and there may be data only in N and E."""
    parts = [of("W"), of("E", None, None), of("N", None, None)]
    far = carrier("F", (9000.0, 0.0, 0.0), (9500.0, 0.0, 0.0))
    gap = circuit("P", "W", "F", route="W;E/1;F")
    assert met(*parts, far, TEE, gap) == []
    (found,) = met(*parts, far, TEE, gap, circuit("Q", "W", "F", route="W;E/1;F"))
    assert [cable.circuit for cable in found.possible] == ["P", "Q"]


def test_rows_without_a_circuit_could_be_of_any_that_passes() -> None:
    parts = [divided(key) for key in "WEN"]
    (found,) = met(*parts, TEE, circuit("P", "W", "E"), lost_rows=(7,))
    assert found.unbounded
    assert met(*parts, TEE, lost_rows=(7,)) == []


def test_what_an_existing_carrier_holds_stays_in_it_unless_more_is_known_to_pass() -> None:
    parts = [divided("W"), divided("E"), replace(divided("N"), condition=Condition.EXISTING)]
    assert met(*parts, TEE, circuit("P", "W", "E")) == []
    assert met(*parts, TEE, circuit("P", "W", "E"), data("D", "W", "E"))[0].unbounded


def test_what_comes_from_a_box_beside_a_tee_needs_one_carrier_of_the_tee_only() -> None:
    """Data could come from the box and go into E, the only one of the three that has a compartment for it."""
    parts = [of("W", Service.POWER), divided("E"), of("N", Service.POWER)]
    tee = replace(TEE, body=None)
    box = replace(fitting("BOX", (1000.0, -100.0, 0.0)), body=None)
    passing = (circuit("P", "W", "E"), data("D", "W", "nowhere"))
    ports = [(Port(f"p{key}", key, HERE, (f"t{key}",)), Port(f"t{key}", "X", HERE, (f"p{key}",))) for key in "WEN"]
    joined = tuple(port for pair in ports for port in pair)
    assert met(*parts, tee, *passing, ports=joined) == []
    beside = (Port("a", "BOX", None, ("b",)), Port("b", "X", None, ("a",)))
    asked = met(*parts, tee, box, *passing, ports=(*joined, *beside))
    assert [cable.circuit for cable in asked[0].possible] == ["D"]


ABOVE = (outlet("DB", (0.0, 0.0, 200.0)), outlet("S1", (1000.0, 0.0, 200.0)), outlet("S2", (2000.0, 0.0, 200.0)))


@pytest.mark.parametrize("place", [BOX, TEE, None])
def test_a_call_above_a_place_is_passed_as_without_it(place: Fitting | None) -> None:
    """The cables to and from S1 come out at the place where W, E and N meet, and lie in it."""
    parts = (divided("W"), divided("E"), divided("N"), *([place] if place else []), *ABOVE)
    passes = met(*parts, circuit("P", "DB", "S2"), data("D", "DB", "S2"))
    calls = met(*parts, circuit("P", "DB", "S1", "S2"), data("D", "DB", "S2"))
    both = met(*parts, circuit("P", "DB", "S1", "S2"), data("D", "DB", "S1", "S2"))
    assert [[item.compartments for item in found.passing] for found in passes] == [
        [(("E", 1), ("W", 1)), (("E", 2), ("W", 2))]
    ]
    assert passes == calls == both


def of_voltage(made: Circuit, voltage_v: float, rated_v: float) -> Circuit:
    return replace(made, voltage_v=voltage_v, cables=tuple(replace(c, rated_voltage_v=rated_v) for c in made.cables))


SECTIONS = st.sampled_from([(Service.POWER, Service.DATA), (Service.DATA, Service.POWER), (None, None), (None,)])
KINDS = st.sampled_from([None, FittingKind.BOX, FittingKind.TEE, FittingKind.BEND, FittingKind.CONNECTOR])


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(SECTIONS, KINDS, st.booleans()), min_size=2, max_size=4),
    st.integers(1, 7),
    st.sampled_from([None, 1, 2]),
)
def test_one_more_call_never_makes_a_pass_of_what_is_none(
    pieces: list[tuple[tuple[Service | None, ...], FittingKind | None, bool]], halves: int, compartment: int | None
) -> None:
    """Lengths of 1 m in a row with something between them, and a call above their middles and ends."""
    items: list[Carrier | Fitting] = []
    for n, (services, kind, is_turned) in enumerate(pieces):
        start, end = (1000.0 * n, 0.0, 0.0), (1000.0 * (n + 1), 0.0, 0.0)
        own = carrier(f"T{n}", start, end, replace(STEEL_50, lanes=lanes(*services)))
        items.append(replace(own, across=(0.0, -1.0 if is_turned else 1.0, 0.0)))
        if n and kind is not None:
            items.append(fitting(f"F{n}", start, kind, 60.0))
    end_mm = 1000.0 * len(pieces)
    devices = [outlet("DB", (0.0, 0.0, 200.0)), outlet("S2", (end_mm, 0.0, 200.0))]
    call = outlet("S1", (min(500.0 * halves, end_mm), 0.0, 200.0))
    lies_with = of_voltage(data("D", "DB", "S2", area_of=6), 5.0, 125.0)

    def not_passed(*calls: str) -> set[tuple[str, int | None]]:
        led = of_voltage(circuit("P", "DB", *calls, area_of=6, compartment=compartment), 230.0, 750.0)
        found = check_installation(installation(*items, *devices, call, led, lies_with), CODE, PLUGINS)
        return {(row.carrier, row.number) for row in found.compartments if row.worst_verdict != "pass"}

    assert not_passed("S2") <= not_passed("S1", "S2")

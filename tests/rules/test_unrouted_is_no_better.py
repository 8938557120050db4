"""Around one tee, cross or box: what must be apart and isn't declared to be never passes, and not knowing a way makes nothing better."""

import itertools
from collections.abc import Iterable
from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from checker.judging import judge_all, judge_subjects
from checker.model import Carrier, Circuit, Fitting, FittingKind, Lane, Partition, Service
from checker.network.loading import load
from checker.network.route import RoutedBy
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
HERE = (1000.0, 0.0, 0.0)
FAR = {
    "A": (0.0, 0.0, 0.0),
    "B": (2000.0, 0.0, 0.0),
    "C": (1000.0, 1000.0, 0.0),
    "D": (1000.0, -1000.0, 0.0),
    "E": (1000.0, 0.0, 1000.0),
}
DIVISIONS = [
    lanes(None), lanes(None, None), lanes(Service.POWER, Service.DATA), lanes(Service.DATA, Service.POWER), lanes(Service.POWER, None),
]  # fmt: skip


@st.composite
def places(draw: st.DrawFn) -> tuple[list[Carrier | Fitting], list[Circuit]]:
    """A fitting with two to five carriers, and two or three circuits that pass it; data cables aren't insulated for 230 V."""
    keys = list("ABCDE")[: draw(st.integers(2, 5))]
    divisions: list[tuple[Lane, ...]] = [draw(st.sampled_from(DIVISIONS)) for _ in keys]
    parts: list[Carrier | Fitting] = [
        carrier(key, FAR[key], HERE, replace(STEEL_50, lanes=own)) for key, own in zip(keys, divisions, strict=True)
    ]
    kind = draw(st.sampled_from([FittingKind.TEE, FittingKind.CROSS, FittingKind.BOX]))
    partition = draw(st.sampled_from([None, Partition.OPEN]))
    parts.append(replace(fitting("X", HERE, kind, 60.0), partition=partition, partition_why="cut away"))
    circuits = []
    for number in range(draw(st.integers(2, 3))):
        ends = draw(st.permutations(keys))[:2]
        service = draw(st.sampled_from([Service.POWER, Service.DATA]))
        is_power = service is Service.POWER
        found = circuit(
            f"{service}-{number}",
            *ends,
            service=service,
            compartment=draw(st.sampled_from([None, 1, 2])),
            voltage_v=230.0 if is_power else 5.0,
        )
        circuits.append(
            replace(found, cables=(replace(found.cables[0], rated_voltage_v=750.0 if is_power else 125.0),))
        )
    return parts, circuits


def is_all_passed(parts: Iterable[Carrier | Fitting], circuits: Iterable[Circuit]) -> bool:
    """Whether everything that is asked of segregation passes."""
    inst = installation(*parts, *circuits)
    loading = load(inst, route_all(inst), CODE.sizes)
    asked = [item for item in judge_all(loading, PLUGINS.rules, CODE) if item.rule == "segregation.compartment"]
    verdicts = [item.verdict for item in (*asked, *judge_subjects(loading.fittings, PLUGINS.rules, CODE))]
    return all(verdict.outcome.value == "pass" for verdict in verdicts)


@given(places())
def test_power_and_data_through_one_place_pass_only_where_it_is_declared_that_they_are_kept_apart(
    place: tuple[list[Carrier | Fitting], list[Circuit]],
) -> None:
    """All circuits come to where the carriers meet, and nothing keeps them apart there for certain."""
    parts, circuits = place
    inst = installation(*parts, *circuits)
    assume(all(route.routed_by is not RoutedBy.NONE for route in route_all(inst).routes))
    services = {item.service for item in circuits}
    assert is_all_passed(parts, circuits) is (len(services) == 1)
    for some in itertools.product([False, True], repeat=len(circuits)):
        lost = [
            replace(item, calls=("nowhere",)) if is_lost else item for item, is_lost in zip(circuits, some, strict=True)
        ]
        if len(services) > 1:
            assert not is_all_passed(parts, lost)

"""Everything read is accounted for, over random installations; and what must never happen doesn't."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import (
    Carrier,
    CarrierKind,
    Circuit,
    Confidence,
    Installation,
    LoadedCompartment,
    Place,
    RoutedCircuit,
    Section,
    Service,
    State,
)
from checker.result.accounting import count, exit_status
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, lanes, outlet

SIZES = st.sampled_from([None, 25.0, 50.0, 100.0, 300.0])
LANES = st.lists(st.sampled_from([None, Service.POWER, Service.DATA]), min_size=1, max_size=3).map(
    lambda found: lanes(*found)
)
SECTIONS = st.builds(
    Section,
    width_mm=SIZES,
    height_mm=SIZES,
    outside_diameter_mm=st.sampled_from([None, None, 20.0, 25.0]),
    wall_mm=st.sampled_from([None, 1.0, 1.6]),
    lanes=LANES,
    confidence=st.sampled_from(Confidence),
)
ENDS = st.sampled_from(["DB", "S1", "S2", "nowhere", "", "K0", "K1"])
#: What a schedule gives of loads: nothing, all, a light one, too much, and one that isn't loaded.
LOADS: list[dict[str, float | str]] = [
    {},
    {"design_current_a": 8.0, "device_rating_a": 10.0, "loaded_conductors": 2},
    {"design_current_a": 1.0, "device_rating_a": 10.0, "loaded_conductors": 2},
    {"design_current_a": 28.0, "device_rating_a": 32.0, "loaded_conductors": 2},
    {"loaded_conductors": 0},
]


@st.composite
def installations(draw: st.DrawFn) -> Installation:
    corners = [(x * 1000.0, y * 1000.0, 0.0) for x in range(3) for y in range(3)]
    carriers: list[Carrier] = []
    for number in range(draw(st.integers(0, 6))):
        start, end = draw(st.lists(st.sampled_from(corners), min_size=2, max_size=2, unique=True))
        made = carrier(f"K{number}", start, end, draw(SECTIONS), draw(st.sampled_from(CarrierKind)))
        nowhere = draw(st.integers(0, 5)) == 0
        made = replace(made, kind_confidence=draw(st.sampled_from(Confidence)))
        carriers.append(replace(made, start_mm=None, end_mm=None, length_mm=None) if nowhere else made)
    circuits: list[Circuit] = []
    for number in range(draw(st.integers(0, 6))):
        made_circuit = circuit(
            f"C{number}", draw(ENDS), *draw(st.lists(ENDS, max_size=2)),
            service=draw(st.sampled_from([None, *Service])), area_of=draw(st.sampled_from([None, 4.0, 20.0])),
            count=draw(st.sampled_from([None, 0, 1, 5])), route=draw(st.sampled_from(["", "", "K0;K1", "K0/2", "K9"])),
            compartment=draw(st.sampled_from([None, 1, 2, 9])), state=draw(st.sampled_from(State)),
            electrical=draw(st.sampled_from(LOADS)),
        )  # fmt: skip
        circuits.append(made_circuit)
    outlets = [outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (2000.0, 1900.0, 0.0)), outlet("S2", (9000.0, 0.0, 0.0))]
    lost = draw(st.sampled_from([(), (), (4,)]))
    gone = tuple(Place(f"X{number}", "test.ifc") for number in range(draw(st.integers(0, 2))))
    return installation(*carriers, *circuits, *outlets, lost_rows=lost, demolished=gone)


@settings(max_examples=300, deadline=None)
@given(installations())
def test_everything_read_is_accounted_for(inst: Installation) -> None:
    plugins = load_plugins()
    result = check_installation(inst, plugins.codes["bs-7671"], plugins)
    counts = count(result)
    # the counts, against what was put in
    assert counts.carriers_read == len(inst.carriers)
    assert (counts.carriers_demolished, result.demolished) == (len(inst.demolished), inst.demolished)
    kinds = (counts.problems_gap, counts.problems_correction, counts.problems_assumption, counts.problems_inference)
    assert sum(kinds) == counts.problems == len(result.problems)
    assert counts.carriers_checked + counts.carriers_unknown == counts.carriers_read
    assert counts.circuits_read == len(inst.circuits)
    assert counts.circuits_routed + counts.circuits_unrouted == counts.circuits_read
    assert {row.key for row in result.carriers} == {made.key for made in inst.carriers}
    assert [row.circuit for row in result.circuits] == [made.mark for made in inst.circuits]
    lanes_read = {(made.key, lane.number) for made in inst.carriers for lane in made.section.lanes}
    assert {(row.carrier, row.number) for row in result.compartments} == lanes_read
    assert len(result.compartments) == len(lanes_read)
    # a reason for all that isn't known
    assert all(row.reason for row in result.compartments)
    assert all(row.reason for row in result.circuits if not row.is_routed)
    # every circuit's cables lie, or may lie, somewhere that can take them, or are removed
    here = {row.circuit for row in result.cables}
    for made in inst.circuits:
        could = any(made_carrier.takes(made.service) for made_carrier in inst.carriers)
        if made.state is not State.REMOVED and could and made.cables[0].count != 0:
            assert made.mark in here
        if made.state is State.REMOVED:
            assert made.mark not in here
    # never a pass where something isn't known
    for row in result.compartments:
        if row.verdict == "pass":
            assert row.internal_area_mm2
            assert row.cables is not None
            assert row.occupied_mm2 is not None
            assert not inst.lost_rows
            assert inst.circuits
    # never a verdict of fill on a guess that doesn't say so, there and in its finding
    guessed = {made.key for made in inst.carriers if Confidence.LOW in {made.kind_confidence, made.section.confidence}}
    fills = [finding for finding in result.findings if finding.rule.startswith("fill.")]
    for told in (
        *((row.carrier, row.verdict, row.reason) for row in result.compartments),
        *((finding.carriers[0], finding.verdict, finding.reason) for finding in fills),
    ):
        if told[0] in guessed and told[1] in {"pass", "fail"}:
            assert "low confidence" in told[2]
    # every circuit has a rating, or isn't loaded
    assert counts.circuits_rated + counts.circuits_rating_unknown + counts.circuits_without_load == counts.circuits_read
    assert {row.circuit for row in result.ratings} == {row.circuit for row in result.circuits if row.is_loaded}
    assert all(row.reason for row in result.ratings)
    assert all(row.capacity_a and row.required_a for row in result.ratings if row.verdict == "pass")
    assert (exit_status(result) == 1) == any(finding.verdict == "fail" for finding in result.findings)
    if exit_status(result) == 0:
        assert counts.carriers_unknown == 0
        assert not any(finding.verdict == "unknown" for finding in result.findings)


@settings(max_examples=100, deadline=None)
@given(installations(), st.randoms())
def test_the_order_of_what_is_read_changes_nothing(inst: Installation, dice: object) -> None:
    plugins = load_plugins()
    shuffled = list(inst.circuits)
    dice.shuffle(shuffled)  # type: ignore[attr-defined]
    one = check_installation(inst, plugins.codes["bs-7671"], plugins)
    other = check_installation(replace(inst, circuits=tuple(shuffled)), plugins.codes["bs-7671"], plugins)
    assert _told(one) == _told(other)


def _told(result: Result) -> list[tuple[str, str, float | None]]:
    """What is found; sums of floats depend on their order in the last digits."""
    return [(f.id, f.verdict, None if f.value is None else round(f.value, 9)) for f in result.findings]


@settings(max_examples=100, deadline=None)
@given(installations())
def test_one_cable_more_never_turns_a_fail_into_a_pass(inst: Installation) -> None:
    plugins = load_plugins()
    more = replace(inst, circuits=(*inst.circuits, circuit("more", "DB", "S1", area_of=12.0, count=2)))
    before = {f.id: f for f in check_installation(inst, plugins.codes["bs-7671"], plugins).findings}
    after = {f.id: f for f in check_installation(more, plugins.codes["bs-7671"], plugins).findings}
    # of compartments and circuits something is always asked, of other subjects only what they give a question to
    always = {key for key, rule in plugins.rules.items() if rule.subject in {LoadedCompartment, RoutedCircuit}}
    assert all(after[key].circuits == ("more",) for key in after.keys() - before.keys() if after[key].rule in always)
    gone = {before[key].rule: before[key].verdict for key in before.keys() - after.keys()}
    # where a circuit comes in at an open end the run ends there, and if it has no bend there is no question to it
    assert gone in ({}, {"pulling.bends": "unknown"})
    for key in before.keys() & after.keys():
        if before[key].verdict == "fail":
            assert after[key].verdict == "fail"
        values = (before[key].value, after[key].value)
        if None not in values and before[key].measure == after[key].measure and before[key].rule.startswith("fill."):
            assert after[key].value >= before[key].value - 1e-12  # type: ignore[operator]

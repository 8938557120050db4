"""What is only known to lie in a range is asked at both ends: an answer is the answer of every value in it, and no wider range has more."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Cable, Carrier, CarrierKind, Circuit, LoadedCompartment, Place, Run, Section, Service
from checker.network.placing import placed
from checker.network.sizing import empty_compartment, insides
from checker.rule import Basis, Limit, Outcome, Verdict, judge
from checker.rule.plugins import load_plugins

PLUGINS = load_plugins()
#: Code, rule of fill, and kind of carrier.
ASKED = [
    ("bs-7671", "fill.compartment", "trunking"), ("bs-7671", "fill.conduit", "conduit"), ("iec-60364", "fill.tray", "tray"),
    ("iec-60364", "fill.area", "conduit"), ("nfpa-70", "fill.count", "conduit"), ("nfpa-70", "fill.layer", "tray"),
    ("nfpa-70", "fill.layer", "ladder"), ("nfpa-70", "fill.compartment", "trunking"),
]  # fmt: skip
OWN = Limit(value=0.4, basis=Basis.PROJECT, source="the test", confidence="given")
Span = tuple[float, float]


def compartment(kind: str, size: float, wall: Span, cables: list[tuple[Span, int]], code: str) -> LoadedCompartment:
    """A compartment whose wall and cables lie in ranges; a range of one figure is that figure."""
    walls: dict[str, Any] = {"wall_mm": wall[0]} if wall[0] == wall[1] else {"wall_range_mm": wall}
    if kind == "conduit":
        section = Section(outside_diameter_mm=size, **walls)
    elif kind == "trunking":
        section = Section(width_mm=size, height_mm=size, **walls)
    else:
        section = Section(width_mm=4 * size, height_mm=size, usable_depth_mm=40.0, **walls)
    carrier = Carrier("K", Place("K", "m", tag="K"), CarrierKind(kind), section, length_mm=2000.0)
    rows = [
        Cable(
            2, count=count, diameter_mm=most, diameter_least_mm=None if least == most else least, cores=1, csa_mm2=6.0
        )
        for (least, most), count in cables
    ]
    circuits = [Circuit(f"C{number}", "A", ("B",), Service.POWER, cables=(row,)) for number, row in enumerate(rows)]
    lying = tuple(placed(circuit, circuit.cables[0]) for circuit in circuits)
    sizes = PLUGINS.codes[code].sizes
    empty = empty_compartment(carrier, 1, insides(carrier, sizes)[0])
    fields = {name: getattr(empty, name) for name in LoadedCompartment.__slots__}
    return LoadedCompartment(**fields | {"cables": lying, "run": Run(1, ("K",), 2.0, 90.0, False)})


def ask(asked: tuple[str, str, str], size: float, wall: Span, cables: list[tuple[Span, int]]) -> Verdict:
    code, rule_id, kind = asked
    limits = PLUGINS.codes[code].limits[rule_id]
    if "space_factor" in type(limits).model_fields and limits.space_factor is None:  # type: ignore[attr-defined]
        limits = limits.model_copy(update={"space_factor": OWN})
    return judge(PLUGINS.rules[rule_id], compartment(kind, size, wall, cables, code), limits)


# steel trunking 50 x 50, of which 45 % may be taken: with a wall of 1.0 mm 0.45 x 48² = 1036.8 mm², with 2.0 mm 0.45 x 46² = 952.2 mm²
@pytest.mark.parametrize(
    ("number", "diameter", "wall", "outcome", "words"),
    [
        (19, (7.8, 7.8), (1.0, 2.0), "pass", "the wall is given as 1 to 2 mm"),  # 907.9
        (20, (7.8, 7.8), (1.0, 2.0), "unknown", "the wall is given as 1 to 2 mm"),  # 955.7
        (22, (7.8, 7.8), (1.0, 2.0), "fail", "over 45 %"),  # 1051.2
        (20, (7.0, 7.8), (1.0, 1.0), "pass", "holds even so: cables of C0 measure 7 to 7.8 mm"),  # 769.7 to 955.7
        (22, (7.0, 7.8), (1.0, 1.0), "unknown", "cables of C0 measure 7 to 7.8 mm"),  # 846.7 to 1051.2
        (27, (7.0, 7.8), (1.0, 1.0), "fail", "even so: cables of C0 measure 7 to 7.8 mm"),  # 1039.1 to 1290.2
    ],
)
def test_the_answer_is_that_of_both_ends_and_says_the_range(
    number: int, diameter: Span, wall: Span, outcome: str, words: str
) -> None:
    verdict = ask(("bs-7671", "fill.compartment", "trunking"), 50.0, wall, [(diameter, number)])
    assert verdict.outcome.value == outcome
    assert words in verdict.reason


def spans(least: float, most: float) -> st.SearchStrategy[tuple[float, float, float, float]]:
    """A range within a wider one, in its order: outer least, inner least, inner most, outer most; to a tenth of a millimetre."""
    ends = st.integers(round(least * 10), round(most * 10))
    return st.tuples(ends, ends, ends, ends).map(lambda four: tuple(end / 10.0 for end in sorted(four)))  # type: ignore[arg-type,return-value]


ROWS = st.lists(st.tuples(spans(3.0, 30.0), st.integers(1, 12)), min_size=1, max_size=3)
SIZES = st.sampled_from([20.0, 25.0, 32.0, 50.0, 100.0])


@given(st.sampled_from(ASKED), SIZES, spans(0.0, 4.0), ROWS)
def test_a_wider_range_answers_nothing_that_a_narrower_one_leaves_open(
    asked: tuple[str, str, str], size: float, wall: tuple[float, ...], rows: list[tuple[tuple[float, ...], int]]
) -> None:
    wide = ask(asked, size, (wall[0], wall[3]), [((ends[0], ends[3]), count) for ends, count in rows])
    narrow = ask(asked, size, (wall[1], wall[2]), [((ends[1], ends[2]), count) for ends, count in rows])
    if wide.outcome is not Outcome.UNKNOWN:
        assert narrow.outcome is wide.outcome


@given(st.sampled_from(ASKED), SIZES, spans(0.0, 4.0), ROWS)
def test_the_answer_of_a_range_is_that_of_every_value_in_it(
    asked: tuple[str, str, str], size: float, wall: tuple[float, ...], rows: list[tuple[tuple[float, ...], int]]
) -> None:
    whole = ask(asked, size, (wall[0], wall[3]), [((ends[0], ends[3]), count) for ends, count in rows])
    for at in (0, 1, 2, 3):
        one = ask(asked, size, (wall[at], wall[at]), [((ends[3 - at], ends[3 - at]), count) for ends, count in rows])
        if whole.outcome is not Outcome.UNKNOWN:
            assert one.outcome is whole.outcome


def test_sizes_that_may_be_alike_are_not_failed_for_being_unlike() -> None:
    # NFPA 70 lets counts of one size round up from 0.8: a bore of 28 mm has 615.75 mm², of which 40 % is 246.30 mm²; of
    # cables of 9.1 mm (65.04 mm²) 3.787 go in, which isn't rounded up, of 9.05 mm (64.33 mm²) 3.829, which is: 4
    asked = ("nfpa-70", "fill.count", "conduit")
    one, other = (9.05, 9.05), (9.0, 9.1)
    assert ask(asked, 30.0, (1.0, 1.0), [(one, 4)]).outcome is Outcome.PASS
    # with 9.0 mm two and two take 255.9 mm², too much for unlike ones, and with 9.1 mm 258.7 mm²; only with 9.05 mm are all of one size
    assert ask(asked, 30.0, (1.0, 1.0), [(one, 2), ((9.0, 9.0), 2)]).outcome is Outcome.FAIL
    assert ask(asked, 30.0, (1.0, 1.0), [(one, 2), ((9.1, 9.1), 2)]).outcome is Outcome.FAIL
    assert ask(asked, 30.0, (1.0, 1.0), [(one, 2), (other, 2)]).outcome is Outcome.UNKNOWN
    # nor passed for being alike at one end
    assert ask(asked, 30.0, (1.0, 1.0), [(one, 2), ((9.0, 9.05), 2)]).outcome is Outcome.UNKNOWN

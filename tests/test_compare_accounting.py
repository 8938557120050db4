"""Everything of both results is in one class, in whatever order it comes."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from checker.compare.comparing import compare
from checker.compare.tables import CircuitChange
from checker.compare.words import sums
from checker.result.tables import CableRow, Result
from tests.compared import shifted, way, with_carrier
from tests.report.html_pages import circuit
from tests.report.results import FILLS, global_id, small_result

SOME_FILLS = st.tuples(*[st.sampled_from([None, 0.1, 0.44, 0.46, 0.5])] * 6)
SOME_WAYS = st.lists(
    st.tuples(st.sampled_from(["C1", "C2", "C3", "C4"]), st.integers(1, 5)), max_size=4, unique_by=lambda one: one[0]
)


@given(
    SOME_FILLS, SOME_FILLS, st.sets(st.integers(1, 5)), st.sets(st.integers(1, 5)), SOME_WAYS, SOME_WAYS, st.booleans()
)
def test_everything_of_both_is_in_one_class_and_the_counts_add_up(
    fills_old: tuple[float | None, ...], fills_new: tuple[float | None, ...], without_old: set[int], without_new: set[int],
    ways_old: list[tuple[str, int]], ways_new: list[tuple[str, int]], anew: int | None,
) -> None:  # fmt: skip
    old, new = small_result(fills_old, without=without_old), small_result(fills_new, without=without_new)
    old = replace(old, circuits=tuple(circuit(mark, carriers=way(number)) for mark, number in ways_old))
    new = replace(new, circuits=tuple(circuit(mark, carriers=way(number)) for mark, number in ways_new))
    if anew is not None and new.carriers:
        new = with_carrier(new, 0, shifted(new.carriers[0], 1.0, number=anew))

    comparison = compare(old, new)
    counts = comparison.counts()

    for side, ids in (
        (old, [row.id_old for row in comparison.findings]),
        (new, [row.id_new for row in comparison.findings]),
    ):
        assert sorted(filter(None, ids)) == sorted(row.id for row in side.findings)
    for side, keys in (
        (old, [row.key_old for row in comparison.carriers]),
        (new, [row.key_new for row in comparison.carriers]),
    ):
        assert sorted(filter(None, keys)) == sorted(row.key for row in side.carriers)
    for side, without in ((old, CircuitChange.ADDED), (new, CircuitChange.REMOVED)):
        marks = sorted(row.circuit for row in comparison.circuits if row.change is not without)
        assert marks == sorted(row.circuit for row in side.circuits)
    only_old = counts.findings["gone"] + counts.findings["not checked again"]
    only_new = sum(not row.id_old for row in comparison.findings)
    assert sum(counts.findings.values()) - only_new == len(old.findings)
    assert sum(counts.findings.values()) - only_old == len(new.findings)
    assert sum(counts.carriers.values()) - counts.carriers["added"] == len(old.carriers)
    assert sum(counts.carriers.values()) - counts.carriers["removed"] == len(new.carriers)
    assert sum(counts.circuits.values()) - counts.circuits["added"] == len(old.circuits)
    assert sum(counts.circuits.values()) - counts.circuits["removed"] == len(new.circuits)
    assert f"{len(old.findings)} in OLD = " in sums(comparison)[0]


@given(st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(random: object) -> None:
    old, new = small_result(FILLS), small_result((0.4, 0.6, 0.5, None, 0.5, 0.1), without=(5,))
    cable = CableRow(global_id(1), 1, "C1", "single 2.5", 3, 3.9, 11.9, "power", certain=True)
    new = replace(new, cables=(cable, replace(cable, circuit="C2")))

    def mixed(result: Result) -> Result:
        tables = {}
        for table in ("carriers", "compartments", "findings", "circuits", "cables"):
            rows = list(getattr(result, table))
            random.shuffle(rows)  # type: ignore[attr-defined]
            tables[table] = tuple(rows)
        return replace(result, **tables)

    assert compare(mixed(old), mixed(new)) == compare(old, new)

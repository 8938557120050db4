"""Catalogues of cables and carriers: what can't be read of them is told with its column, its line and what may stand there."""

import pytest

from checker.errors import PluginError
from checker.model.tolerance import Tolerance
from checker.rule.catalogue import check_name, read_cables, read_carriers
from checker.rule.table import Table

CABLE = {
    "key": "odd-4", "family": "lead", "csa_mm2": "4", "cores": "1", "conductor": "copper", "strands": "stranded", "diameter_mm": "10",
    "width_mm": "", "height_mm": "", "insulation": "EPR", "rated_voltage_v": "750", "planning": "", "source": "house guide (invented)",
    "confidence": "high",
}  # fmt: skip
CARRIER = {
    "key": "duct-50", "kind": "trunking", "family": "duct", "material": "steel", "trade_size": "50x50", "width_mm": "50", "height_mm": "50",
    "wall_mm": "1", "inside_diameter_mm": "", "source": "house guide (invented)", "confidence": "high",
}  # fmt: skip


def table(cells: dict[str, str]) -> Table:
    return Table.parse("t.csv", f"{','.join(cells)}\n{','.join(cells.values())}\n", distribution="theirs")


@pytest.mark.parametrize(
    ("other", "what", "hint"),
    [
        ({"strands": "strand"}, "strands = 'strand' is none of its words", "strands is one of: solid, stranded, nothing"),
        ({"planning": "true"}, "planning = 'true' is none of its words", "planning is one of: yes, no, nothing"),
        ({"diameter_mm": "10 mm"}, "diameter_mm = '10 mm' isn't a number", "no unit"),
        ({"diameter_mm": "nan"}, "diameter_mm = 'nan' isn't a number", "no unit"),
        ({"diameter_mm": "-10"}, "diameter_mm = -10 is less than 0", "empty"),
        ({"diameter_mm": "0"}, "diameter_mm = 0, which nothing has", "empty"),
        ({"cores": "2.5"}, "cores = 2.5 isn't a whole number", "empty"),
        ({"csa_mm2": "four"}, "csa_mm2 = 'four' isn't a number", "no unit"),
        ({"area_mm2": "-80"}, "area_mm2 = -80 is less than 0", "empty"),
        ({"mass_kg_per_km": "0"}, "mass_kg_per_km = 0, which nothing has", "empty"),
        ({"key": " "}, "key is empty", "one of its own"),
        ({"diameter_mm": ""}, "the cable odd-4 has no size", "diameter_mm"),
        ({"diameter_mm": "", "width_mm": "12"}, "the cable odd-4 has no size", "of a flat one width_mm and height_mm"),
    ],
)  # fmt: skip
def test_a_cable_that_can_not_be_is_refused_with_its_column(other: dict[str, str], what: str, hint: str) -> None:
    with pytest.raises(PluginError) as caught:
        list(read_cables(table({**CABLE, **other}), "theirs"))
    assert caught.value.where == "table t.csv, line 2 (from theirs)"
    assert caught.value.what == what
    assert hint in caught.value.hint


LIMITS = {
    "diameter_lower_mm": "", "diameter_upper_mm": "", "width_lower_mm": "", "width_upper_mm": "", "height_lower_mm": "",
    "height_upper_mm": "", "limits_source": "house guide (invented)", "limits_confidence": "medium",
}  # fmt: skip
ROUND = {"diameter_lower_mm": "9", "diameter_upper_mm": "10.5"}
FLAT = {
    "diameter_mm": "", "width_mm": "12", "height_mm": "6", "width_lower_mm": "11", "width_upper_mm": "12", "height_lower_mm": "6",
    "height_upper_mm": "6.5",
}  # fmt: skip


@pytest.mark.parametrize(
    ("other", "tolerance"),
    [
        (ROUND, Tolerance(9.0, 10.5)),
        (ROUND | {"diameter_lower_mm": "10", "diameter_upper_mm": "10"}, Tolerance(10.0, 10.0)),
        (FLAT, Tolerance(None, None, 11.0, 12.0, 6.0, 6.5)),
        ({}, None),
    ],
    ids=["round", "at both of its limits", "flat", "without"],
)
def test_a_cable_has_the_limits_of_its_size_that_its_table_has(
    other: dict[str, str], tolerance: Tolerance | None
) -> None:
    (cable,) = read_cables(table({**CABLE, **LIMITS, **other}), "theirs")
    assert cable.tolerance == tolerance
    assert cable.limits_source == "house guide (invented)"
    (bare,) = read_cables(table(CABLE), "theirs")
    assert (bare.tolerance, bare.limits_source) == (None, "")


@pytest.mark.parametrize(
    ("other", "what"),
    [
        ({"diameter_lower_mm": "9"}, "diameter_lower_mm and diameter_upper_mm don't both go with diameter_mm"),
        ({"diameter_upper_mm": "11"}, "diameter_lower_mm and diameter_upper_mm don't both go with diameter_mm"),
        (ROUND | {"height_lower_mm": "5", "height_upper_mm": "6"}, "height_lower_mm and height_upper_mm don't both go with height_mm"),
        (FLAT | {"height_lower_mm": "", "height_upper_mm": ""}, "height_lower_mm and height_upper_mm don't both go with height_mm"),
        (ROUND | {"diameter_lower_mm": "10.1"}, "diameter_mm = 10 isn't between 10.1 and 10.5"),
        (ROUND | {"diameter_upper_mm": "9.9"}, "diameter_mm = 10 isn't between 9 and 9.9"),
        (FLAT | {"width_upper_mm": "11.9"}, "width_mm = 12 isn't between 11 and 11.9"),
        (ROUND | {"area_mm2": "80"}, "it has limits of its size beside a printed area"),
        (ROUND | {"limits_source": " "}, "limits_source is empty"),
        (ROUND | {"limits_confidence": ""}, "limits_confidence is empty"),
        (ROUND | {"diameter_lower_mm": "0"}, "diameter_lower_mm = 0, which nothing has"),
    ],
)  # fmt: skip
def test_limits_of_a_size_that_can_not_be_are_refused(other: dict[str, str], what: str) -> None:
    with pytest.raises(PluginError) as caught:
        list(read_cables(table({**CABLE, **LIMITS, **other}), "theirs"))
    assert (caught.value.where, caught.value.what) == ("table t.csv, line 2 (from theirs)", what)
    assert caught.value.hint


@pytest.mark.parametrize(
    "other",
    [{}, {"diameter_mm": "", "width_mm": "12", "height_mm": "6"}, {"diameter_mm": "", "area_mm2": "80"}],
    ids=["round", "flat", "of an area"],
)
def test_a_cable_has_a_diameter_two_sides_or_an_area(other: dict[str, str]) -> None:
    (cable,) = read_cables(table({**CABLE, **other}), "theirs")
    sizes = (cable.diameter_mm, cable.width_mm, cable.height_mm, cable.area_mm2)
    wanted = {**CABLE, "area_mm2": "", **other}
    told = [
        float(wanted[name]) if wanted[name] else None for name in ("diameter_mm", "width_mm", "height_mm", "area_mm2")
    ]
    assert list(sizes) == told
    assert (cable.stranded, cable.cores, cable.planning) == (True, 1, False)


@pytest.mark.parametrize(
    ("other", "what", "hint"),
    [
        ({"kind": "duct"}, "kind = 'duct' is none of its words", "kind is one of: trunking, conduit, tray, ladder"),
        ({"kind": ""}, "kind = '' is none of its words", "trunking"),
        ({"width_mm": "-50"}, "width_mm = -50 is less than 0", "empty"),
        ({"height_mm": "0"}, "height_mm = 0, which nothing has", "empty"),
        ({"wall_mm": "-1"}, "wall_mm = -1 is less than 0", "empty"),
        ({"wall_tolerance_mm": "0"}, "wall_tolerance_mm = 0, which nothing has", "empty"),
        ({"perforated": "holes"}, "perforated = 'holes' is none of its words", "yes, no, nothing"),
    ],
)
def test_a_carrier_that_can_not_be_is_refused_with_its_column(other: dict[str, str], what: str, hint: str) -> None:
    with pytest.raises(PluginError) as caught:
        list(read_carriers(table({**CARRIER, **other}), "theirs"))
    assert caught.value.what == what
    assert hint in caught.value.hint


def test_a_carrier_whose_sizes_are_inside_has_a_wall_of_0() -> None:
    (carrier,) = read_carriers(table({**CARRIER, "wall_mm": "0"}), "theirs")
    assert carrier.wall_mm == 0.0
    assert carrier.wall_tolerance_mm is None


def test_a_carrier_has_the_tolerance_of_its_wall_that_its_table_has() -> None:
    (carrier,) = read_carriers(table({**CARRIER, "wall_tolerance_mm": "0.15"}), "theirs")
    assert carrier.wall_tolerance_mm == 0.15


def test_all_columns_that_are_lacking_are_told_at_once() -> None:
    few = {name: text for name, text in CABLE.items() if name not in {"family", "planning", "strands"}}
    with pytest.raises(PluginError) as caught:
        list(read_cables(table(few), "theirs"))
    assert caught.value.where == "table t.csv (from theirs)"
    assert caught.value.what == "it lacks the columns family, strands, planning"
    assert f"needed are: {', '.join(CABLE)}" in caught.value.hint
    with pytest.raises(PluginError, match="it lacks the column kind"):
        list(read_carriers(table({name: text for name, text in CARRIER.items() if name != "kind"}), "theirs"))


@pytest.mark.parametrize(
    ("text", "where", "what"),
    [
        ("a,source\n1,here\n", "table t.csv (from theirs)", "it lacks the column confidence"),
        ("a\n1\n", "table t.csv (from theirs)", "it lacks the column source and confidence"),
        ("a,source,confidence\n1,here,high\n2,here, \n", "table t.csv, line 3 (from theirs)", "the row names no confidence"),
        ("a,source,confidence\n", "table t.csv (from theirs)", "it has no rows"),
        ("", "table t.csv (from theirs)", "it has no rows"),
    ],
)  # fmt: skip
def test_every_row_of_a_table_says_where_it_is_from_and_how_sure_it_is(text: str, where: str, what: str) -> None:
    with pytest.raises(PluginError) as caught:
        Table.parse("t.csv", text, distribution="theirs")
    assert (caught.value.where, caught.value.what) == (where, what)


@pytest.mark.parametrize(("cells", "word"), [(CABLE, "cables"), (CARRIER, "carriers")])
def test_a_catalogue_by_another_name_is_told_how_it_is_named(cells: dict[str, str], word: str) -> None:
    """It would be a table that nothing reads."""
    text = f"{','.join(cells)}\n{','.join(cells.values())}\n"
    check_name(Table.parse(f"{word}_ours.csv", text), "theirs")
    with pytest.raises(PluginError, match=f"the columns of a catalogue of {word}") as caught:
        check_name(Table.parse(f"our_{word}.csv", text), "theirs")
    assert caught.value.hint == f"name it {word}….csv"

import re
from dataclasses import replace

import pytest
from lxml import html

from checker.model import Problem
from checker.network.joins import FoundBy
from checker.report import plan_sheets
from checker.report.plan_marks import JOINS
from checker.result.network_tables import HAS_GAP, BreakRow, ComingIn, EquipmentRow, JoinRow
from checker.result.tables import Box, Result
from tests.report.html_pages import circuit, mapped, on_storey, page, said, two_storeys
from tests.report.results import box_mm, carrier, small_result

HOSTILE = "</svg></template><script>window.ran = 1</script><img src=x onerror='window.ran = 1'>"
KEPT = frozenset({"verdict", "worst_verdict", "unit", "created", "state"})


def plans_of(result: Result) -> list[html.HtmlElement]:
    return list(page(result).xpath("//section[@id='plans']//figure"))


def named(tree: html.HtmlElement, label: str) -> html.HtmlElement:
    """The path of a carrier."""
    (found,) = (path for path in tree.xpath(".//path[@id]") if said(path.find("title")).startswith(f"{label}:"))
    return found


def corners(path: html.HtmlElement) -> set[tuple[float, float]]:
    """The corners of its first outline."""
    numbers = [float(text) for text in re.findall(r"-?[\d.]+", path.get("d").split("z")[0])]
    return set(zip(numbers[::2], numbers[1::2], strict=True))


def not_drawn(result: Result) -> list[str]:
    section = page(result).xpath("//section[@id='plans']")[0]
    return [said(line) for line in section.xpath(".//p[starts-with(., 'Not drawn:')]/following-sibling::ul[1]/li")]


def test_a_carrier_stands_on_the_page_where_it_is_in_the_building_and_north_is_up() -> None:
    ground = plans_of(two_storeys())[0]

    # 10 m by 5 m on 1200 px less two margins of 40: 1120 / 10 = 112 px a metre; high is 5 · 112 + 80 = 640, and y = 0 is at 600
    assert ground.find(".//svg").get("viewbox") == "0 0 1200 640"
    # 10 m by 0.1 m: 1120 by 11.2 px
    assert corners(named(ground, "T-001")) == {(40.0, 600.0), (1160.0, 600.0), (1160.0, 588.8), (40.0, 588.8)}
    # x from 9.9 to 10 m, y from 0.1 to 5 m: 40 + 9.9 · 112 = 1148.8; 600 − 0.1 · 112 = 588.8 up to 600 − 5 · 112 = 40
    assert corners(named(ground, "T-002")) == {(1148.8, 588.8), (1160.0, 588.8), (1160.0, 40.0), (1148.8, 40.0)}


def test_all_plans_have_one_scale_and_show_the_same_ground() -> None:
    first = plans_of(two_storeys())[1]

    assert first.find(".//svg").get("viewbox") == "0 0 1200 640"
    # x from 5 to 9 m, y from 2 to 2.3 m: 40 + 560 = 600 to 600 + 448; 600 − 224 = 376 to 600 − 257.6 = 342.4
    assert corners(named(first, "T-004")) == {(600.0, 376.0), (1048.0, 376.0), (1048.0, 342.4), (600.0, 342.4)}


def test_an_upright_carrier_is_a_square_of_ten_px_with_a_cross() -> None:
    path = named(plans_of(two_storeys())[0], "T-003")

    # 25 mm are 2.8 px, so it is widened; its middle is at x 5.0125 m, y 1.0125 m: 40 + 561.4 = 601.4, 600 − 113.4 = 486.6
    assert corners(path) == {(596.4, 491.6), (606.4, 491.6), (606.4, 481.6), (596.4, 481.6)}
    assert path.get("d").count("M") == 3  # the square, and two diagonals
    assert named(plans_of(two_storeys())[0], "T-001").get("d").count("M") == 1


def test_a_carrier_that_would_hardly_be_seen_is_drawn_three_px_wide_around_its_middle() -> None:
    result = two_storeys()
    thin = carrier(1, box_mm((0.0, 0.0, 0.0), (10_000.0, 0.0, 0.0), 10.0, 10.0))
    path = named(plans_of(replace(result, carriers=(on_storey(thin, "Ground"), *result.carriers[1:])))[0], "T-001")

    # 10 mm are 1.12 px about y = 600 − 0.56 = 599.44: from 597.94 to 600.94
    assert {y for _, y in corners(path)} == {597.9, 600.9}


def test_a_bent_carrier_is_one_path_with_an_outline_for_each_straight_piece() -> None:
    result = two_storeys()
    bent = replace(result.carriers[0], boxes=result.carriers[0].boxes + result.carriers[1].boxes)

    assert named(plans_of(replace(result, carriers=(bent, *result.carriers[1:])))[0], "T-001").get("d").count("M") == 2


def test_the_scale_bar_is_drawn_to_scale_and_named() -> None:
    bar = plans_of(two_storeys())[0].xpath(".//g[@class='bar-m']")[0]

    assert said(bar.find("text")) == "2 m"
    assert bar.find("path").get("d") == "M20 622L20 628 244 628 244 622"  # 2 · 112 = 224 px


def test_plans_are_in_order_of_height_and_a_storey_without_a_name_says_so() -> None:
    low = on_storey(carrier(9, box_mm((0.0, 0.0, -2000.0), (5000.0, 0.0, 0.0), 100.0, 50.0)), "")
    high = on_storey(
        carrier(8, box_mm((0.0, 0.0, 3500.0), (5000.0, 0.0, 0.0), 100.0, 50.0)), "Ground"
    )  # in a tall hall
    result = two_storeys()

    headings = [said(plan.find(".//h3")) for plan in plans_of(replace(result, carriers=(*result.carriers, high, low)))]

    assert headings == ["no storey", "Ground", "First"]  # −2, 0 and 3 m


def test_kinds_differ_in_pattern_and_verdicts_in_outline_and_no_verdict_is_not_a_pass() -> None:
    result = two_storeys()
    bare = on_storey(carrier(9, box_mm((0.0, 900.0, 0.0), (5000.0, 0.0, 0.0), 100.0, 50.0), "duct"), "Ground", "")
    ground = plans_of(replace(result, carriers=(*result.carriers, bare)))[0]

    drawn = {label: (path.getparent().get("class"), path.getparent().get("fill"), path.get("class"))
             for label in ("T-001", "T-002", "T-003", "T-009") for path in [named(ground, label)]}  # fmt: skip
    assert drawn == {
        "T-001": ("trunking", None, "pass"),
        "T-002": ("tray", "url(#fill-tray)", "fail"),
        "T-003": ("conduit", None, "unknown"),
        "T-009": ("unknown", "url(#fill-unknown)", "unknown"),
    }
    assert said(named(ground, "T-009").find("title")) == "T-009: duct 100 × 50, not judged"
    assert said(named(ground, "T-002").find("title")) == "T-002: tray 100 × 50, fail"
    tree = page(replace(result, carriers=(*result.carriers, bare)))
    fills = {path.getparent().get("fill") for path in tree.xpath("//figure//path[@id]")} - {None}
    assert {fill[len("url(#") : -1] for fill in fills} <= set(tree.xpath("//pattern/@id"))


def test_every_way_of_finding_a_join_has_a_shape_of_its_own() -> None:
    assert set(JOINS) == {way.value for way in FoundBy}
    assert len({shape for shape, _ in JOINS.values()}) == 6


def test_joins_are_drawn_at_their_place_by_how_they_were_found_and_the_legend_says_how() -> None:
    tree = page(two_storeys())
    ground, first = tree.xpath("//section[@id='plans']//figure")

    # at (9.95 m, 0.05 m): 40 + 1114.4 and 600 − 5.6; the riser's upper end at (5.0125 m, 1.0125 m) is on both storeys' plans
    assert {said(path): path.get("d") for path in ground.xpath(".//g[@class='joins']/path")} == {
        "joins: ends that meet": f"M1154.4 594.4{JOINS['ends that meet'][0]}",
        "joins: connected ports": f"M601.4 486.6{JOINS['connected ports'][0]}",
    }
    assert [said(path) for path in first.xpath(".//g[@class='joins']/path")] == ["joins: connected ports"]
    legend = [said(entry) for entry in tree.xpath("//ul[@class='legend']/li")]
    assert "join: ends that meet" in legend
    assert "join: an end in a fitting" not in legend  # it isn't known where that one is, so no sign of it is drawn
    assert not_drawn(two_storeys()) == ["1 join: it isn't known where"]


def test_a_join_of_two_fittings_is_on_the_plan_of_the_carriers_that_they_join() -> None:
    result = two_storeys()
    above = (JoinRow("a bend", "a tee", "fittings that touch", 1.0, (6000.0, 2000.0, 3000.0)),
             JoinRow(result.carriers[3].key, "a tee", "connected ports", 0.0))  # fmt: skip
    ground, first = plans_of(replace(result, joins=above))

    assert said(first.xpath(".//g[@class='joins']")[0]) == "joins: fittings that touch"
    assert said(ground.xpath(".//g[@class='joins']")[0]) == ""


def test_open_ends_and_breaks_are_drawn_with_words() -> None:
    ground, first = plans_of(two_storeys())

    (end,) = ground.xpath(".//g[@class='ends']/path")
    assert said(end) == "open end: T-002, its end"
    assert end.get("d").startswith("M1154.4 40m")  # 40 + 9.95 · 112, 600 − 560
    for plan in (ground, first):  # it is between the two
        (gap,) = plan.xpath(".//g[@class='breaks']/g")
        # from (5.0125, 1.0125) to (5.0125, 2): 486.6 up to 600 − 224 = 376
        assert gap.findall("path")[0].get("d") == "M601.4 486.6L601.4 376"
        assert said(gap.find("text")) == "988 mm"
        assert said(gap.find("title")) == "break between T-003 and T-004: gap 988 mm; needed by C3"


def test_an_open_end_where_circuits_come_in_has_a_shape_of_its_own_and_says_how_many() -> None:
    result = two_storeys()
    entries = (*result.open_ends, replace(result.open_ends[0], end="start", point_mm=(9950.0, 100.0, 25.0), comes_in=2))
    tree = page(replace(result, open_ends=entries))

    closed, entry = tree.xpath("//figure//g[@class='ends']/path")
    assert said(closed) == "open end: T-002, its end"
    assert said(entry) == "open end: T-002, its start; 2 circuits in or out there"
    assert entry.get("d").split("m", 1)[1] != closed.get("d").split("m", 1)[1]
    legend = [said(line) for line in tree.xpath("//ul[@class='legend']/li")]
    assert {"open end where circuits come in", "open end: nothing is joined to it"} <= set(legend)
    assert "open end where circuits come in" not in said(page(result).xpath("//ul[@class='legend']")[0])


def test_each_picture_has_a_name_and_says_what_is_on_it() -> None:
    ground = plans_of(two_storeys())[0]
    svg = ground.find(".//svg")

    assert svg.get("role") == "img"
    assert said(ground.xpath(f".//*[@id='{svg.get('aria-labelledby')}']")[0]) == "Plan of Ground"
    assert said(ground.xpath(f".//*[@id='{svg.get('aria-describedby')}']")[0]) == (
        "3 carriers drawn: 1 tray, 1 trunking, 1 conduit; 1 fail, 1 unknown, 1 pass; 2 joins, 1 open end, 1 break"
    )


def test_what_is_nowhere_or_at_no_number_is_not_drawn_and_is_named() -> None:
    result = two_storeys()
    nowhere = carrier(7, None)
    no_number = carrier(8, Box((float("nan"), 0.0, 0.0), ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))))
    endless = carrier(9, box_mm((0.0, 0.0, 0.0), (1e300, 0.0, 0.0), 100.0, 50.0))
    far = carrier(10, box_mm((5e9, 0.0, 0.0), (1000.0, 0.0, 0.0), 100.0, 50.0))
    wild = replace(result, carriers=(*result.carriers, nowhere, no_number, endless, far))

    assert not_drawn(wild)[:2] == [
        "3 carriers: the model doesn't say where (T-007, T-008, T-009)",
        "1 carrier: too far away from all others (T-010)",
    ]
    assert plans_of(wild)[0].find(".//svg").get("viewbox") == "0 0 1200 640"  # as without them
    assert not [path for plan in plans_of(wild) for path in plan.xpath(".//path/@d") if re.search("nan|inf|e", path)]


def test_without_any_place_there_is_no_plan_and_the_page_says_so() -> None:
    result = small_result()
    section = page(replace(result, carriers=tuple(replace(row, boxes=()) for row in result.carriers))).xpath(
        "//section[@id='plans']"
    )[0]

    assert section.xpath(".//figure | .//fieldset | .//svg") == []
    assert "No plan can be drawn" in said(section)
    assert "5 carriers: the model doesn't say where (T-001, T-002, T-003, T-004, T-005)" in said(section)


def test_what_has_no_room_in_the_count_is_counted_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plan_sheets, "MOST_CARRIERS", 3)
    ground, first = plans_of(two_storeys())

    # First has 1; for Ground 2 are left: the first by name
    assert [said(path.find("title"))[:5] for path in ground.xpath(".//path[@id]")] == ["T-002", "T-001"]
    assert "Not drawn: 1 further carrier of this storey." in said(ground.find("figcaption"))
    assert "Not drawn" not in said(first.find("figcaption"))


def test_more_joins_than_can_be_seen_are_counted_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(plan_sheets.MOST_MARKS, "join", 1)

    assert "1 join: more than 1 would hide the carriers" in not_drawn(two_storeys())


def test_the_order_of_rows_changes_nothing_on_the_plans() -> None:
    result = equipped(DB, replace(DB, key="other", point_mm=(2000.0, 3000.0, 0.0), circuits=("C2",)))
    turned = replace(result, carriers=result.carriers[::-1], joins=result.joins[::-1], circuits=result.circuits[::-1],
                     equipment=result.equipment[::-1])  # fmt: skip

    def written(one: Result) -> bytes:
        return html.tostring(page(one).xpath("//section[@id='plans']")[0])

    assert written(turned) == written(result)


def test_every_circuit_can_be_chosen_and_carries_its_way_by_number_and_in_words() -> None:
    tree = page(two_storeys())
    options = tree.xpath("//select[@id='plan-circuit']/option")
    titles = {path.get("id"): said(path.find("title"))[:5] for path in tree.xpath("//figure//path[@id]")}
    names = {one.get("value"): said(one) for one in tree.xpath("//template[@id='plan-names']/data")}

    assert [said(option) for option in options] == ["none", "C1", "C2", "C3"]
    ways = [option.get("data-way").split() for option in options[1:]]
    assert [[names[number] for number in way] for way in ways] == [["T-001", "T-002"], ["T-001", "T-003", "T-004"], []]
    assert [[titles[f"n{number}"] for number in way] for way in ways] == [
        ["T-001", "T-002"],
        ["T-001", "T-003", "T-004"],
        [],
    ]
    assert [option.get("data-said") for option in options[1:]] == [
        "from DB-1 to S-1; routed by shortest way, 12.50 m long, drops of 0.50 + 0.25 m.",
        "from DB-1 to S-1; routed by shortest way, 12.50 m long, drops of 0.50 + not known m.",
        "from DB-1 to S-1: no way is known (nothing leads there). The network breaks between T-003 and T-004: gap 988 mm.",
    ]
    assert tree.xpath("//fieldset/@hidden")  # without a script no control shows
    assert tree.xpath("//input[@id='plan-find']") == []


def test_many_circuits_come_with_a_field_that_finds_them() -> None:
    many = tuple(circuit(f"C{number}") for number in range(1, 21))

    tree = page(replace(two_storeys(), circuits=many))

    assert len(tree.xpath("//input[@id='plan-find']")) == 1
    assert [said(option) for option in tree.xpath("//select[@id='plan-circuit']/option")][1:4] == ["C1", "C2", "C3"]


def test_a_way_with_a_gap_says_so_and_why() -> None:
    result = two_storeys()
    gap = Problem(
        "circuit C1", "its route goes from T-001 to T-002, which aren't joined", "they are 500 mm apart", "join them"
    )
    other = Problem("circuit C2", "no service is given", "so it may lie anywhere", "give it")
    cables = (replace(result.take_off[0], length_m=None, reason=HAS_GAP), *result.take_off[1:])

    options = page(replace(result, take_off=cables, problems=(gap, other))).xpath("//select[@id='plan-circuit']/option")

    assert (
        options[1]
        .get("data-said")
        .endswith(
            " Its way has a gap: its route goes from T-001 to T-002, which aren't joined (they are 500 mm apart)."
        )
    )
    assert "gap" not in options[2].get("data-said")


def test_a_break_is_drawn_above_all_else_and_its_circuits_name_it_by_number() -> None:
    tree = page(two_storeys())
    options = tree.xpath("//select[@id='plan-circuit']/option")

    for plan in tree.xpath("//figure//svg"):
        drawn = [group.get("class") for group in plan.findall("g")]
        assert drawn.index("breaks") > max(drawn.index("labels"), drawn.index("ends"))
    assert [group.get("data-break") for group in tree.xpath("//figure//g[@data-break]")] == [
        "1",
        "1",
    ]  # on both storeys
    assert [option.get("data-breaks") for option in options[1:]] == [None, None, "1"]


def test_no_name_covers_the_gap_of_a_break() -> None:
    result = two_storeys()
    # a name would stand above the middle of T-001, at x 5 m; the words of this gap stand there: 40 + 560 = 600; 9 px above y = 588.8
    line = BreakRow(
        result.carriers[0].key, result.carriers[1].key, 200.0, (4900.0, 100.0, 0.0), (5100.0, 100.0, 0.0), 1, 1, ("C3",)
    )

    def label(one: Result) -> html.HtmlElement:
        (found,) = plans_of(one)[0].xpath(".//g[@class='labels']/text[.='T-001']")
        return found

    free, beside = label(replace(result, breaks=())), label(replace(result, breaks=(line,)))

    # the body's upper side is at 588.8; between are 2 px, and half a letter is 5.5
    assert (free.get("x"), free.get("y")) == ("600", "581.3")
    (gap,) = plans_of(replace(result, breaks=(line,)))[0].xpath(".//g[@class='breaks']//text")
    assert (gap.get("x"), gap.get("y")) == ("600", "579.8")
    away = abs(float(beside.get("x")) - 600.0), abs(float(beside.get("y")) - 579.8)
    assert away[0] >= 24.0 + 17.0 or away[1] >= 11.0  # half of each text across, or a letter's height


def equipped(*rows: EquipmentRow) -> Result:
    return replace(two_storeys(), equipment=rows)


DB = EquipmentRow("db", "DB-1", "Ground", (5000.0, 3000.0, 1500.0), ("C1", "C2", "C3"))


def test_equipment_stands_where_it_is_with_its_name_and_its_circuits_name_it() -> None:
    tree = page(equipped(DB, EquipmentRow("s", "A-1", "First", (1000.0, 1000.0, 3500.0), ("C2",))))
    ground, first = tree.xpath("//section[@id='plans']//figure")
    (mark,) = ground.xpath(".//g[@class='equipment']/path")

    # 40 + 5 · 112 = 600; 600 − 3 · 112 = 264
    assert mark.get("d").startswith("M600 264m")
    assert said(mark.find("title")) == "DB-1: equipment; 3 circuits from or to it"
    assert "DB-1" in [said(one) for one in ground.xpath(".//g[@class='labels']/text")]
    assert [said(one) for one in first.xpath(".//g[@class='equipment']/path/title")] == [
        "A-1: equipment; 1 circuit from or to it"
    ]
    assert "1 equipment mark" in said(ground.find("figcaption"))
    assert [one.get("data-number") for one in tree.xpath("//select[@id='plan-circuit']/option")[1:]] == ["1", "2", "3"]
    assert [one.get("data-for") for one in tree.xpath("//figure//g[@class='equipment']/path")] == ["1 2 3", "2"]
    assert "equipment that circuits begin or end at" in [said(one) for one in tree.xpath("//ul[@class='legend']/li")]
    assert "equipment that" not in said(page(two_storeys()).xpath("//ul[@class='legend']")[0])


def test_drops_lead_from_equipment_to_where_circuits_come_in_each_place_once() -> None:
    below = (5000.0, 50.0, 25.0)
    coming = (ComingIn("C1", "a", below), ComingIn("C2", "a", below), ComingIn("C3", "b", (10_000.0, 3000.0, 0.0)))
    off = ComingIn("C1", "a", (5000.0, 1e9, 0.0))
    nowhere = ComingIn("C1", "a", (float("nan"), 0.0, 0.0))

    lines = plans_of(equipped(replace(DB, comes_in=(*coming, off, nowhere))))[0].xpath(".//g[@class='drops']/path")

    # from 600, 264 down to y = 600 − 0.05 · 112 = 594.4, and right to x = 40 + 10 · 112 = 1160
    assert [(one.get("d"), one.get("data-for")) for one in lines] == [
        ("M600 264L1160 264", "3"),
        ("M600 264L600 594.4", "1 2"),
    ]


def test_equipment_beside_the_carriers_makes_the_sheet_larger_and_what_is_far_off_is_counted() -> None:
    # 2 m below the lowest carrier: 10 m by 7 m at 112 px a metre, 784 + 80 px
    beside = replace(DB, point_mm=(5000.0, -2000.0, 0.0))
    assert plans_of(equipped(beside))[0].find(".//svg").get("viewbox") == "0 0 1200 864"

    far = replace(DB, key="far", point_mm=(5000.0, -20_000.0, 0.0))
    nowhere = replace(DB, key="nowhere", point_mm=None)
    roof = replace(DB, key="roof", storey="Roof")
    result = equipped(DB, far, nowhere, roof)

    assert plans_of(result)[0].find(".//svg").get("viewbox") == "0 0 1200 640"
    assert {line for line in not_drawn(result) if "equipment" in line} == {
        "1 equipment mark: it isn't known where",
        "1 equipment mark: its storey has no plan",
        "1 equipment mark: that is off the sheet",
    }


def test_the_legend_says_how_a_chosen_way_is_shown_where_one_can_be_chosen() -> None:
    told = "the way chosen above: a wide band, its carriers numbered in order"

    assert told in said(page(two_storeys()).xpath("//ul[@class='legend']")[0])
    assert told not in said(page(replace(two_storeys(), circuits=())).xpath("//ul[@class='legend']")[0])


def test_names_of_the_data_cannot_break_out_of_the_picture() -> None:
    harmless = "x" * len(HOSTILE)
    tame = page(mapped(two_storeys(), lambda text: text + harmless, KEPT))
    wild = page(mapped(two_storeys(), lambda text: text + HOSTILE, KEPT))

    assert [element.tag for element in wild.iter()] == [element.tag for element in tame.iter()]
    assert len(wild.xpath("//script")) == 1
    for attribute in ("title", "desc"):
        told = [said(one) for one in wild.xpath(f"//figure//{attribute}")]
        assert told
        assert any(HOSTILE in text for text in told) == (attribute == "title")


def test_the_drawing_of_a_carrier_is_short() -> None:
    paths = [path.get("d") for plan in plans_of(two_storeys()) for path in plan.xpath(".//path[@id]")]

    assert all(len(number.partition(".")[2]) <= 1 for path in paths for number in re.findall(r"[\d.]+", path))
    # a whole outline: 8 numbers of up to 6 letters, and what is between them
    assert max(map(len, paths)) <= 120

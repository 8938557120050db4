from dataclasses import replace
from typing import Any

import pytest

from checker.result.network_tables import ComingIn, EquipmentRow
from checker.result.tables import Result
from tests.browser.opened import Opened
from tests.report.html_pages import circuit, mapped, two_storeys

pytestmark = pytest.mark.browser

HOSTILE = "</svg></template><script>window.ran = 1</script><img src=x onerror='window.ran = 1'>"
KEPT = frozenset({"verdict", "worst_verdict", "unit", "created", "state"})


def choose(opened: Opened, select: str, word: str) -> None:
    from selenium.webdriver.support.ui import Select

    Select(opened.one(f"#plan-{select}")).select_by_visible_text(word)


def lit(opened: Opened) -> dict[str, str]:
    """The carriers that stand out, with the number that stands on each."""
    script = """
      const on = (path, text) => {
        const {x, y, width, height} = path.getBBox();
        const [left, top] = [text.getAttribute('x') - x, text.getAttribute('y') - y];
        return left >= 0 && left <= width && top >= 0 && top <= height;
      };
      return [...document.querySelectorAll('.plan path[id].on')].map((path) => [
        path.firstChild.textContent.split(':')[0],
        [...path.ownerSVGElement.querySelectorAll('.steps text')].filter((text) => on(path, text)).map((one) => one.textContent).join()])"""
    return dict(opened.run(script))


def bands(opened: Opened) -> list[int]:
    """How many bands lie on each plan."""
    return list(
        opened.run(
            "return [...document.querySelectorAll('.plan')].map((one) => one.querySelectorAll('.around path').length)"
        )
    )


def way(opened: Opened) -> list[str]:
    return list(
        opened.run("return [...document.querySelectorAll('#plan-way > p, #plan-way li')].map((one) => one.textContent)")
    )


def shown(opened: Opened, selector: str) -> list[bool]:
    found = opened.driver.find_elements("css selector", selector)
    assert found
    return [one.is_displayed() for one in found]


def test_choosing_a_circuit_makes_its_carriers_stand_out_on_every_plan_and_says_its_way(opened: Opened) -> None:
    opened.open(two_storeys())
    assert not opened.one("#plan-way").is_displayed()

    choose(opened, "circuit", "C2")

    assert lit(opened) == {"T-001": "1", "T-003": "2", "T-004": "3"}
    assert way(opened) == [
        "C2: from DB-1 to S-1; routed by shortest way, 12.50 m long, drops of 0.50 + not known m.", "T-001", "T-003", "T-004",
    ]  # fmt: skip
    thick, dashes = opened.run(
        "const s = getComputedStyle(document.querySelector('.around path')); return [s.strokeWidth, s.strokeDasharray]"
    )
    assert float(thick.removesuffix("px")) >= 10.0
    assert dashes == "none"  # dashes are for what isn't known
    assert bands(opened) == [2, 1]
    # T-003 isn't known, and its outline goes on saying so within the band
    assert opened.run("return getComputedStyle(document.querySelector('.on.unknown')).strokeDasharray") == "5px, 3px"
    choose(opened, "circuit", "C1")
    assert lit(opened) == {"T-001": "1", "T-002": "2"}
    choose(opened, "circuit", "none")
    assert lit(opened) == {}
    assert bands(opened) == [0, 0]
    assert not opened.one("#plan-way").is_displayed()
    assert opened.driver.get_log("browser") == []


def test_a_circuit_without_a_way_says_why_and_the_break_stands_out(opened: Opened) -> None:
    opened.open(two_storeys())

    choose(opened, "circuit", "C3")

    assert lit(opened) == {}
    assert way(opened) == [
        "C3: from DB-1 to S-1: no way is known (nothing leads there). The network breaks between T-003 and T-004: gap 988 mm."
    ]
    broken = "return [...document.querySelectorAll('.plan [data-break]')].map((one) => one.classList.contains('on'))"
    assert opened.run(broken) == [True, True]
    choose(opened, "circuit", "C1")
    assert opened.run(broken) == [False, False]


def test_the_equipment_at_the_ends_of_a_circuit_stands_out(opened: Opened) -> None:
    rows = (
        EquipmentRow(
            "db", "DB-1", "Ground", (5000.0, 3000.0, 1500.0), ("C1", "C2"), (ComingIn("C1", "a", (5000.0, 50.0, 25.0)),)
        ),
        EquipmentRow("s", "S-1", "Ground", (7000.0, 3000.0, 1500.0), ("C2",)),
    )
    opened.open(replace(two_storeys(), equipment=rows))
    on = "return [...document.querySelectorAll('.plan .equipment .on title')].map((one) => one.textContent.split(':')[0])"

    choose(opened, "circuit", "C2")
    assert opened.run(on) == ["DB-1", "S-1"]
    assert not any(shown(opened, ".plan .drops path"))
    choose(opened, "circuit", "C1")
    assert opened.run(on) == ["DB-1"]
    assert opened.run("return getComputedStyle(document.querySelector('.plan .drops path')).display") == "inline"


def test_a_carrier_that_is_passed_twice_has_both_its_numbers_and_one_that_is_not_drawn_is_named(opened: Opened) -> None:
    result = two_storeys()
    one, two, three, _ = (row.key for row in result.carriers)
    rows = (*result.carriers[:2], replace(result.carriers[2], boxes=()), result.carriers[3])
    opened.open(replace(result, carriers=rows, circuits=(circuit("C1", carriers=(one, two, one, three)),)))

    choose(opened, "circuit", "C1")

    assert lit(opened) == {"T-001": "1, 3", "T-002": "2"}
    assert way(opened)[1:] == ["T-001", "T-002", "T-001", "T-003 (not drawn)"]


def test_a_row_of_the_circuits_leads_to_its_way_or_break_and_one_without_either_has_no_button(opened: Opened) -> None:
    result = two_storeys()
    nothing = replace(result.circuits[2], circuit="C4")
    opened.open(replace(result, circuits=(*result.circuits, nothing)))
    buttons = opened.driver.find_elements("css selector", "#circuits-table .on-plans")
    assert [button.get_attribute("aria-label") for button in buttons] == [
        "On the plans: the way of C1",
        "On the plans: the way of C2",
        "On the plans: what breaks the way of C3",
    ]

    buttons[1].click()

    assert set(lit(opened)) == {"T-001", "T-003", "T-004"}
    assert opened.run("return document.activeElement.id") == "plan-circuit"
    top, bottom = opened.run(
        "const b = document.querySelector('#plan-way').getBoundingClientRect(); return [b.top, b.bottom]"
    )
    assert 0 <= top < bottom <= 800
    # a search in the table doesn't find the words of the buttons
    opened.part("circuits", "input[type=search]").send_keys("plans")
    opened.until(lambda: opened.count("circuits").startswith("0 of 4 rows"))


def test_a_row_leads_to_its_way_also_where_the_field_has_hidden_its_circuit(opened: Opened) -> None:
    result = two_storeys()
    keys = tuple(row.key for row in result.carriers)
    opened.open(replace(result, circuits=tuple(circuit(f"C{n}", carriers=keys[:2]) for n in range(1, 31))))
    opened.one("#plan-find").send_keys("c3")

    def offered() -> list[str]:
        return list(opened.run("return [...document.querySelector('#plan-circuit').options].map((o) => o.textContent)"))

    assert offered() == ["none", "C3", "C30"]
    opened.one("#circuits-table .on-plans[aria-label$=' C7']").click()
    assert way(opened)[0].startswith("C7: ")
    opened.one("#plan-find").send_keys("0")
    assert offered() == ["none", "C7", "C30"]  # what is chosen stays


def test_keyboard_alone_chooses_a_circuit_a_storey_and_hides_names(opened: Opened) -> None:
    from selenium.webdriver.common.keys import Keys

    opened.open(two_storeys())
    reached = []
    for _ in range(60):
        opened.keys(Keys.TAB)
        here = opened.run("return document.activeElement.id || document.activeElement.dataset.shows || ''")
        reached.append(here)
        if here == "plan-circuit":
            opened.keys(Keys.DOWN)
            assert lit(opened) == {"T-001": "1", "T-002": "2"}
        elif here == "plan-storey":
            opened.keys("F")
            assert shown(opened, "figure") == [False, True]
        elif here == "labels":
            opened.keys(Keys.SPACE)
            break
    assert reached[-1] == "labels"
    assert not any(shown(opened, "#plan-2 .labels text"))


def test_a_storey_can_be_shown_alone_and_signs_and_names_hidden(opened: Opened) -> None:
    opened.open(two_storeys())
    assert shown(opened, "figure") == [True, True]
    assert all(shown(opened, ".plan .labels text, .plan .joins path"))

    choose(opened, "storey", "Ground")
    opened.one("[data-shows=joins]").click()

    assert shown(opened, "figure") == [True, False]
    assert not any(shown(opened, "#plan-1 .joins path"))
    assert all(shown(opened, "#plan-1 .labels text"))
    assert all(shown(opened, "#plan-1 .ends path"))  # what wants doing can't be hidden


def test_a_plan_can_be_made_larger_within_its_own_box(opened: Opened) -> None:
    opened.open(two_storeys())
    width = "return document.querySelector('.plan').getBoundingClientRect().width"
    before = opened.run(width)

    choose(opened, "size", "four times as wide")

    assert opened.run(width) == pytest.approx(4.0 * before, rel=0.02)  # its box may need a bar to scroll by
    assert opened.run("return document.documentElement.scrollWidth") <= 1280


@pytest.mark.parametrize("length", [1, 200])
def test_nothing_is_wider_than_a_screen_of_360_px(opened: Opened, length: int) -> None:
    opened.look(360)
    opened.open(mapped(two_storeys(), lambda text: text + "M" * length, KEPT))
    opened.run(
        "const s = document.querySelector('#plan-circuit'); s.selectedIndex = 2; s.dispatchEvent(new Event('change'))"
    )

    assert opened.run("return document.documentElement.scrollWidth") <= 360
    assert 250 <= opened.run("return document.querySelector('.plan').getBoundingClientRect().width") <= 360
    # however small the plan is, a carrier's outline is a px thick, with one on either side of it
    assert (
        opened.run("return getComputedStyle(document.querySelector('.plan .pass')).vectorEffect")
        == "non-scaling-stroke"
    )


def test_without_scripts_every_plan_is_there_and_no_control(opened: Opened) -> None:
    opened.command("Emulation.setScriptExecutionDisabled", value=True)
    opened.open(two_storeys())

    opened.until(lambda: len(opened.driver.find_elements("css selector", "figure")) == 2)
    opened.until(lambda: len(opened.driver.find_elements("css selector", "#cautions")) == 1)
    assert shown(opened, "figure") == [True, True]
    assert not any(shown(opened, "fieldset, #plan-circuit, #plan-storey, [data-shows]"))
    assert not any(shown(opened, "#plan-way"))
    assert opened.driver.find_elements("css selector", ".on-plans") == []


def test_names_of_the_data_do_not_run_in_the_picture_or_in_the_words_of_a_way(opened: Opened) -> None:
    # what is empty stays so: a mark that all carriers share would stand for their tags
    opened.open(mapped(two_storeys(), lambda text: text and text + HOSTILE, KEPT))

    choose(opened, "circuit", f"C2{HOSTILE}")

    assert way(opened)[1] == f"T-001{HOSTILE}"
    assert len(lit(opened)) == 3
    assert opened.run("return [window.ran ?? null, document.images.length]") == [None, 0]
    assert opened.driver.get_log("browser") == []


def test_a_screen_reader_finds_each_plan_with_what_is_on_it(opened: Opened) -> None:
    opened.open(two_storeys())

    def pictures() -> list[tuple[Any, Any]]:
        nodes = opened.command("Accessibility.getFullAXTree")["nodes"]
        return [(node["name"]["value"], node.get("description", {}).get("value"))
                for node in nodes if not node.get("ignored") and node["role"]["value"] in {"image", "img"}]  # fmt: skip

    opened.until(lambda: len(pictures()) == 2)
    assert pictures() == [
        (
            "Plan of Ground",
            "3 carriers drawn: 1 tray, 1 trunking, 1 conduit; 1 fail, 1 unknown, 1 pass; 2 joins, 1 open end, 1 break",
        ),
        ("Plan of First", "1 carrier drawn: 1 ladder; 1 pass; 1 join, 0 open ends, 1 break"),
    ]


def test_patterns_are_drawn_in_the_dark_too(opened: Opened) -> None:
    def filled() -> Any:
        return opened.run(
            "return ['tray', 'ladder'].map((kind) => getComputedStyle(document.querySelector(`.plan .${kind} > path`)).fill)"
            ".concat(getComputedStyle(document.querySelector('#fill-tray path')).stroke)"
        )

    opened.open(two_storeys())
    light = filled()
    opened.look(1280, features=[{"name": "prefers-color-scheme", "value": "dark"}])
    dark = filled()

    assert light[:2] == dark[:2] == ['url("#fill-tray")', 'url("#fill-ladder")']
    assert (light[2], dark[2]) == ("rgb(27, 31, 36)", "rgb(233, 236, 239)")  # the page's ink: #1b1f24, #e9ecef


def test_a_plan_fits_on_a_sheet_of_paper_with_the_way_that_is_shown(opened: Opened) -> None:
    opened.look(1032, media="print")  # A4 across less margins: (297 − 24) mm × 96 / 25.4
    opened.open(two_storeys())
    opened.run(
        "const s = document.querySelector('#plan-circuit'); s.selectedIndex = 2; s.dispatchEvent(new Event('change'))"
    )

    assert not any(shown(opened, "fieldset, .on-plans"))
    assert all(shown(opened, "#plan-way"))
    heights = opened.run(
        "return [...document.querySelectorAll('figure')].map((one) => one.getBoundingClientRect().height)"
    )
    assert max(heights) <= 703  # (210 − 24) mm × 96 / 25.4
    assert opened.run("return document.documentElement.scrollWidth") <= 1032


def test_four_thousand_carriers_do_not_weigh_too_much(opened: Opened) -> None:
    result = crowd(5000)
    opened.open(result)

    size = (opened.folder / "report.html").stat().st_size
    section = opened.run("return document.querySelector('#plans').outerHTML.length")
    assert opened.run("return document.querySelectorAll('.plan path[id]').length") == 4000
    assert section <= 1_300_000  # 4000 of about 200 letters each, their names, and the circuits' ways
    assert section < size


def crowd(number: int) -> Result:
    from tests.report.results import box_mm, carrier

    rows = tuple(
        carrier(n, box_mm((n % 50 * 3000.0, n // 50 * 1000.0, 0.0), (2900.0, 0.0, 0.0), 100.0, 50.0))
        for n in range(1, number + 1)
    )
    ways = tuple(circuit(f"C{n}", carriers=tuple(row.key for row in rows[n : n + 40])) for n in range(0, number, 50))
    return replace(two_storeys(), carriers=rows, circuits=ways, joins=(), open_ends=(), breaks=(), take_off=())

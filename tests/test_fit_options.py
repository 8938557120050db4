"""How ``wayroom fit`` reads its options: sizes as ranges, flat cables, shares, spare, and what is mixed up."""

import json
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.errors import InputError
from checker.fit import Question, answer
from checker.fit.by_code import by_code
from checker.fit.cables import cable_of, kind_of
from checker.fit.carriers import carrier_of_type
from checker.fit.room import most_by_code
from checker.fit.subject import compartment_of
from checker.fit_text import as_object, as_text
from checker.model import CarrierKind
from checker.rule import Outcome
from checker.rule.plugins import load_plugins
from tests.test_cli import wayroom

PLUGINS = load_plugins()
UK, NFPA, IEC = (PLUGINS.codes[key] for key in ("bs-7671", "nfpa-70", "iec-60364"))


def fit(code: object = UK, **asked: object) -> dict[str, object]:
    found = answer(Question(code, **asked), PLUGINS)  # type: ignore[arg-type]
    return {"status": found.exit_status, **as_object(found, code)}  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("count", "verdict"),
    [
        # 48 × 48 = 2304 mm², of which 45 % is 1036.8. One of 12 mm takes 113.10, one of 13 mm 132.73
        (7, "pass"),  # 791.7 to 929.1
        (8, "unknown"),  # 904.8 to 1061.9
        (9, "unknown"),  # 1017.9 to 1194.6
        (10, "fail"),  # 1131.0 at the least
    ],
)
def test_a_range_is_asked_at_both_ends(count: int, verdict: str) -> None:
    found = fit(inside="48x48", cables=(f"12-13mm={count}",))
    assert found["verdict"] == verdict
    assert found["occupied_least_mm2"] == pytest.approx(count * math.pi / 4 * 12**2)
    assert found["occupied_mm2"] == pytest.approx(count * math.pi / 4 * 13**2)


def test_a_range_may_be_written_from_either_end_and_of_one_size_is_none() -> None:
    assert fit(inside="48x48", cables=("13-12mm=8",))["verdict"] == "unknown"
    assert fit(inside="48x48", cables=("12-12mm=8",))["verdict"] == "pass"


@pytest.mark.parametrize(
    ("number", "told"),
    [
        # one of 12 mm is 113.1 mm², one of 13 mm 132.7; 2304 · 0.45 = 1036.8: six are 678.6 to 796.4, eight 904.8 to 1061.9,
        # ten 1131.0 to 1327.3
        (6, ["with the largest cables, which decides:", "fill 796.4 / 2304.0 = 0.3457",
             "with the smallest cables: fill 678.6 / 2304.0 = 0.2945"]),
        (8, ["with the smallest cables:", "fill 904.8 / 2304.0 = 0.3927", "with the largest cables:", "fill 1061.9 / 2304.0 = 0.4609"]),
        (10, ["with the smallest cables, which decides:", "fill 1131.0 / 2304.0 = 0.4909",
              "with the largest cables: fill 1327.3 / 2304.0 = 0.5761"]),
    ],
)  # fmt: skip
def test_of_a_range_the_arithmetic_is_shown_at_the_end_that_decides(number: int, told: list[str]) -> None:
    found = answer(Question(UK, inside="48x48", cables=(f"12-13mm={number}",)), PLUGINS)
    lines = [line.strip() for line in as_text(found, UK).split("\n")]
    assert [line for line in lines if line.startswith(("with the", "fill "))] == told


def test_of_a_wall_that_isnt_known_the_arithmetic_is_shown_with_the_least_inside() -> None:
    """A tray of 100 mm with sides of 0 to 3 mm: 94 to 100 mm inside. Two of 12 mm lie side by side on 24 mm."""
    found = answer(Question(NFPA, carrier="tray-medium-100x25", cables=("12mm=2",)), PLUGINS)
    text = as_text(found, NFPA)
    assert "with the least inside, which decides:\n" in text
    assert "    fill 24.0 / 94.0 = 0.2553\n  with the most inside: fill 24.0 / 100.0 = 0.2400\n" in text


@pytest.mark.parametrize("size", ["8.6x5.4mm", "5.4x8.6mm", "8.6 × 5.4 mm"])
def test_a_flat_cable_is_the_same_whichever_side_is_named_first(size: str) -> None:
    """π/4 · 5.4² + (8.6 − 5.4) · 5.4 = 22.902 + 17.28 = 40.182; as a circle on its major axis π/4 · 8.6² = 58.088 of 196.1286."""
    assert fit(inside="48x48", cables=(f"{size}=3",))["occupied_mm2"] == pytest.approx(3 * 40.182, rel=1e-4)
    assert fit(NFPA, carrier="emt-1/2", cables=(f"{size}=1",))["fill"] == pytest.approx(58.088 / 196.1286, rel=1e-4)


def test_a_flat_cable_of_a_range_is_asked_at_both_ends() -> None:
    """20 × 10: π/4 · 100 + 100 = 178.54; 22 × 11: 95.03 + 121 = 216.03. Five of 1036.8: 892.7 to 1080.2."""
    assert fit(inside="48x48", cables=("20-22x10-11mm=5",))["verdict"] == "unknown"
    assert fit(inside="48x48", cables=("20-22x10-11mm=4",))["verdict"] == "pass"


@pytest.mark.parametrize("factor", ["40%", "40 %", "0.40", ".4", "0.4"])
def test_a_share_may_be_written_in_per_cent(factor: str) -> None:
    assert fit(IEC, inside="48x48", cables=("10mm=2",), space_factor=factor)["limit"] == pytest.approx(0.4)


@pytest.mark.parametrize("factor", ["40", "1", "140%", "-3%", "two fifths", "", "nan", "1e-1", "0", "0%"])
def test_what_is_no_share_is_told_with_how_to_write_it(factor: str) -> None:
    with pytest.raises(InputError) as caught:
        fit(IEC, inside="48x48", cables=("10mm=2",), space_factor=factor)
    assert caught.value.where == "--space-factor"
    assert "%" in caught.value.hint


def test_what_is_there_may_be_a_share_too() -> None:
    assert fit(inside="96x46", cables=("11.3mm=4",), occupied="0.30")["fill"] == pytest.approx(
        0.30 + 4 * math.pi / 4 * 11.3**2 / (96 * 46)
    )


@pytest.mark.parametrize(
    ("asked", "hint"),
    [
        (
            {"carrier": "trunking-steel-50x50", "cables": ("trunking-steel-50x50=3",)},
            "that is a carrier: say --carrier",
        ),
        ({"carrier": "h07v-u-2.5", "cables": ("h07v-u-2.5=3",)}, "that is a cable: say --cable h07v-u-2.5=1"),
        ({"carrier": "trunking-stel-50x50", "cables": ("h07v-u-2.5=3",)}, "did you mean trunking-steel-50x50"),
        ({"inside": "48x48", "cables": ("h07v-u-25=3",)}, "did you mean h07v-u-2.5"),
        ({"inside": "48x48", "cables": ("11.3=3",)}, "for a size write it in mm"),
        ({"inside": "48x48", "cables": ("1.13cm=3",)}, "for a size write it in mm"),
        ({"inside": "48x48", "cables": ("h07v-u-2.5",)}, "write as h07v-u-2.5=6"),
        ({"inside": "48x48", "most": "h07v-u-2.5=3"}, "--most wants the key or size alone"),
        ({"carrier": "trunking-steel-50x50", "kind": CarrierKind.TRAY, "cables": ("h07v-u-2.5=3",)}, "leave it out"),
        ({"bore": "16.8", "kind": CarrierKind.LADDER, "cables": ("h07v-u-2.5=3",)}, "leave it out"),
    ],
)
def test_what_is_mixed_up_is_told_with_what_to_write(asked: dict[str, object], hint: str) -> None:
    with pytest.raises(InputError) as caught:
        fit(**asked)
    assert hint in caught.value.hint


@given(st.text("0123456789.-x×mm=h07v %,–", max_size=24) | st.text(max_size=12))
def test_any_text_is_cables_of_a_size_or_told_with_a_hint(text: str) -> None:
    hint, cable = "", None
    try:
        cable = cable_of("--cable", text, PLUGINS.cables, PLUGINS.carriers)
    except InputError as error:
        hint = error.hint
    if cable is None:
        assert hint
        return
    assert cable.count is not None
    assert cable.count > 0
    assert cable.area_mm2 is not None
    assert math.isfinite(cable.area_mm2)
    assert 0.0 < (cable.at_least().area_mm2 or 0.0) <= cable.area_mm2


def test_hints_name_the_options_of_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (
        ("--code", "iec-60364", "--inside", "96x46"),
        ("--code", "bs-7671", "--inside", "300x50", "--kind", "tray"),
        ("--code", "bs-7671", "--inside", "96x46", "--space-factor", "60%"),
        ("--code", "iec-60364", "--inside", "96x46", "--spare", "25%"),
    ):
        _, out, err = wayroom(capsys, "fit", *arguments, "--cable", "h07v-r-16=3")
        assert "--space-factor" in out + err
        assert "toml" not in out + err


def test_room_left_is_for_one_kind_at_a_time() -> None:
    """1036.8 − 12 · 47.784 − 4 · 34.212 = 326.5 mm²: six of 47.784 (6.8), or nine of 34.212 (9.5)."""
    found = fit(inside="48x48", cables=("h07v-r-16=12", "cat6-u-utp=4"))
    assert found["room_left"] == [{"cable": "h07v-r-16", "count": 6}, {"cable": "cat6-u-utp", "count": 9}]
    text = as_text(answer(Question(UK, inside="48x48", cables=("h07v-r-16=12", "cat6-u-utp=4")), PLUGINS), UK)
    assert "Room left by bs-7671 for: 6 more h07v-r-16, or 9 more cat6-u-utp." in text


def test_room_left_by_terms() -> None:
    """Term 30 each; the conduit's 196: 196 − 4 · 30 = 76, two more."""
    found = fit(carrier="conduit-steel-20", cables=("h07v-u-2.5=4",), length_m=5.0, bends=2.0)
    assert found["room_left"] == [{"cable": "h07v-u-2.5", "count": 2}]


def test_no_room_is_left_where_it_doesnt_fit_or_cant_be_said() -> None:
    assert fit(inside="48x48", cables=("h07v-r-16=22",))["room_left"] == []
    assert fit(carrier="conduit-steel-20", cables=("h07v-u-2.5=3",))["room_left"] == []
    full = answer(Question(UK, inside="48x48", cables=("h07v-r-16=21",)), PLUGINS)
    assert "No room left for another cable of these kinds." in as_text(full, UK)


def test_a_spare_is_held_against_the_codes_limit() -> None:
    """15 · 47.784 = 716.8, with 25 % more 896.0 of 2304: 38.9 %. 18: 860.1, 1075.1: 46.7 %, over 45 % only with the spare."""
    assert fit(inside="48x48", cables=("h07v-r-16=15",), spare="25%")["verdict"] == "pass"
    found = fit(inside="48x48", cables=("h07v-r-16=18",), spare="25%")
    assert (found["status"], found["verdict"]) == (1, "fail")
    assert found["fill"] == pytest.approx(18 * math.pi / 4 * 7.8**2 / 2304)
    assert found["spare"]["fill"] == pytest.approx(1.25 * 18 * math.pi / 4 * 7.8**2 / 2304)  # type: ignore[index]
    assert fit(inside="48x48", cables=("h07v-r-16=18",))["verdict"] == "pass"


def test_how_many_go_in_leaves_the_spare_free() -> None:
    """1036.8 / 1.25 = 829.4; over 47.784: 17.36."""
    assert fit(inside="48x48", most="h07v-r-16", spare="25%")["most"] == 17


def test_more_of_them_may_pass_where_fewer_dont() -> None:
    """One of 13.3 mm takes 138.9 of 557.4 mm²; with one of 6.8 mm 31.4 %, over 31 % for two; with two 38.0 %, within 40 % for three."""
    found = fit(NFPA, carrier="emt-1", cables=("13.3mm=1",), most="6.8mm", length_m=3.0)
    assert (found["most"], found["verdict"]) == (2, "pass")


def test_counting_in_great_steps_is_counting_one_by_one() -> None:
    for code, carriers in ((UK, ("trunking-steel-75x50", "conduit-steel-32")), (NFPA, ("emt-2", "ladder-nema-12x4"))):
        asked = by_code(code, PLUGINS, list(CarrierKind))
        for key in carriers:
            empty = compartment_of(carrier_of_type(PLUGINS.carriers[key]), code, ())
            for cable in ("h07v-r-4", "cat6-u-utp", "thhn-12", "6242y-2.5"):
                most = most_by_code(asked, empty, kind_of("--most", cable, PLUGINS.cables))
                passing = [
                    count
                    for count in range(1, 400)
                    if asked.judged(
                        compartment_of(empty.carrier, code, (kind_of("", cable, PLUGINS.cables, count=count),))
                    ).outcome
                    is Outcome.PASS
                ]
                assert most in {max(passing, default=0), None}, (key, cable)
                assert most is not None or not passing


def test_the_command_says_what_is_geometry_alone(capsys: pytest.CaptureFixture[str]) -> None:
    """Of circles of 30 mm one goes into a square of 48 mm: two need a side of 30 + 30/√2 = 51.2."""
    arguments = ("fit", "--code", "bs-7671", "--inside", "48x48", "--most", "30mm")
    status, out, _ = wayroom(capsys, *arguments, "--json")
    found = json.loads(out)
    assert (status, found["most"], found["geometry_only_count"]) == (0, 1, 1)
    _, out, _ = wayroom(capsys, *arguments)
    assert "A place was found for 1 in a drawing: geometry only, not an allowance." in out


def test_the_count_by_geometry_cant_be_said_where_what_lies_there_isnt_known(
    capsys: pytest.CaptureFixture[str],
) -> None:
    arguments = ("fit", "--code", "bs-7671", "--inside", "48x48", "--most", "10mm", "--occupied", "20%", "--json")
    assert json.loads(wayroom(capsys, *arguments)[1])["geometry_only_count"] is None


@pytest.mark.parametrize(
    ("code", "more", "least", "most", "words"),
    [
        # 22 of 6.4 to 7.8 mm in 48 × 48 = 2304 mm²: 22 · 32.170 = 707.7, 22 · 47.784 = 1051.2
        ("bs-7671", {"inside": "48x48", "cables": ("h07v-r-16=22",)}, 0.307178, 0.456268,
         "30.7 to 45.6 %, the limit lies between"),
        # six of 3.2 to 3.9 mm in 16.8 mm, whose wall may be 0.15 mm thinner or thicker: 6 · (3.2 / 17.1)², 6 · (3.9 / 16.5)²
        ("iec-60364", {"carrier": "conduit-steel-20", "cables": ("h07v-u-2.5=6",), "space_factor": "40%"}, 0.210116, 0.335207,
         "21.0 to 33.5 %"),
    ],
)  # fmt: skip
def test_the_fill_is_told_between_what_standards_let_sizes_be(
    code: str, more: dict[str, object], least: float, most: float, words: str
) -> None:
    asked = PLUGINS.codes[code]
    found = answer(Question(asked, **more), PLUGINS)
    assert found.ends == (pytest.approx(least, abs=5e-6), pytest.approx(most, abs=5e-6))
    said = as_object(found, asked)
    assert (said["fill_least"], said["fill_most"]) == found.ends
    assert f"as their standards let them be: {words}" in as_text(found, asked)
    # by terms there is none, nor where nothing says how much a size may be off
    assert answer(Question(asked, inside="48x48", cables=("10mm=2",)), PLUGINS).ends is None


def test_a_spare_may_be_more_than_all_that_lies_there() -> None:
    """Six of 47.784 are 286.7; with 150 % more 716.8 of 2304, 31.1 %; with 300 % more 1146.8, 49.8 %."""
    assert fit(inside="48x48", cables=("h07v-r-16=6",), spare="150%")["verdict"] == "pass"
    assert fit(inside="48x48", cables=("h07v-r-16=6",), spare="300%")["verdict"] == "fail"
    assert fit(inside="48x48", cables=("h07v-r-16=1",), spare="1000%")["status"] in {0, 1}
    with pytest.raises(InputError, match="more than 1000 %"):
        fit(inside="48x48", cables=("h07v-r-16=1",), spare="1001%")


@pytest.mark.parametrize(
    ("command", "option"),
    [
        (("fit", "--carrier", "conduit-steel-20", "--carrier", "conduit-steel-25", "--code", "bs-7671"), "--carrier"),
        (("fit", "--code", "bs-7671", "--length", "3", "--bore", "16", "--length", "3"), "--length"),
        (("size", "--code", "bs-7671", "--code", "nfpa-70"), "--code"),
        (("draw", "--bore", "16", "--bore", "20"), "--bore"),
        (("room", "a.ifc", "A", "B", "--times", "1", "--times=2"), "--times"),
        (("check", "a.ifc", "--circuits", "a.csv", "--circuits", "b.csv"), "--circuits"),
        (("explain", "fill.area", "--code", "iec-60364", "--code", "nfpa-70"), "--code"),
    ],
)
def test_an_option_for_one_value_isnt_taken_twice(
    capsys: pytest.CaptureFixture[str], command: tuple[str, ...], option: str
) -> None:
    status, out, err = wayroom(
        capsys, *command, *(() if command[0] in {"check", "explain"} else ("--cable", "11.3mm=1"))
    )
    assert (status, out) == (2, "")
    assert err.startswith(f"{option}: it is given 2 times")


def test_cables_and_flags_may_be_given_several_times(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("--inside", "48x48", "--code", "bs-7671", "--cable", "11.3mm=1", "--cable", "12mm=1", "--json", "--json")
    assert wayroom(capsys, "fit", *asked)[0] == 0


def test_what_is_used_isnt_told_where_no_term_is_known_and_only_what_lacks_is_asked_for() -> None:
    question = Question(UK, carrier="conduit-steel-20", cables=("11.3mm=1",), length_m=3.0, bends=1.0)
    text = as_text(answer(question, PLUGINS), UK)
    assert "1 × term not known" in text
    assert "used" not in text
    assert "together" not in text
    assert "--length" not in text
    # of a run of 2 m its bends lack; of one with bends its length
    text = as_text(answer(replace(question, length_m=2.0, bends=None), PLUGINS), UK)
    assert "on its run: say --bends." in text
    text = as_text(answer(replace(question, length_m=None, bends=1.0), PLUGINS), UK)
    assert "on its run: say --length." in text
    text = as_text(answer(replace(question, length_m=None, bends=None), PLUGINS), UK)
    assert "on its run: say --length, and --bends." in text


def test_what_is_used_is_told_at_both_ends_where_a_term_lies_between_two() -> None:
    """A term of 3 mm² isn't tabled: between 30 of 2.5 and 105 of 10, the next one. The conduit's for 5 m with 2 bends is 196."""
    cable = replace(PLUGINS.cables["h07v-u-2.5"], key="own-3", csa_mm2=3.0)
    plugins = replace(PLUGINS, cables={**PLUGINS.cables, "own-3": cable})
    question = Question(UK, carrier="conduit-steel-20", cables=("own-3=4",), length_m=5.0, bends=2.0)
    text = as_text(answer(question, plugins), UK)
    # 4 · 30 = 120, 4 · 105 = 420; 120 / 196 = 0.6122, 420 / 196 = 2.1429
    assert "used 120 to 420 / 196 = 0.6122 to 2.1429" in text


def test_an_outside_that_nobody_gave_is_called_inferred() -> None:
    text = as_text(answer(Question(UK, bore="16.8", cables=("h07v-u-2.5=3",), length_m=3.0, bends=0.0), PLUGINS), UK)
    assert "size: the bore that was given; outside 20 mm, inferred from the code's table of bores\n" in text
    text = as_text(answer(Question(UK, bore="17", cables=("h07v-u-2.5=3",), length_m=3.0, bends=0.0), PLUGINS), UK)
    assert "inferred" not in text

"""``wayroom fit`` against arithmetic by hand and published terms."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker import cli
from checker.errors import InputError
from checker.fit import Question, answer
from checker.model import CarrierKind
from checker.rule import Outcome
from checker.rule.plugins import load_plugins
from tests.test_cli import wayroom

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]


def fit(**asked: object) -> tuple[int, dict[str, object]]:
    from checker.fit_text import as_object

    found = answer(Question(CODE, **asked), PLUGINS)  # type: ignore[arg-type]
    return found.exit_status, as_object(found, CODE)


def test_a_trunking_and_its_cables_by_area() -> None:
    status, found = fit(carrier="trunking-steel-50x50", cables=("h07v-r-16=20",))
    assert status == 0
    assert found["fill"] == pytest.approx(20 * math.pi / 4 * 7.8**2 / 48.0**2)
    assert (found["limit"], found["internal_mm2"], found["verdict"]) == (0.45, pytest.approx(2304.0), "pass")
    assert fit(carrier="trunking-steel-50x50", cables=("h07v-r-16=22",))[0] == 1


@pytest.mark.parametrize(
    ("carrier", "key", "run", "most"),
    [
        # UK guidance: trunking 50 × 50 has 1037, the cable 47.8 (4 mm²: 15.2; Cat 6 has no term: 45 % of 2304 over π/4 · 6.6²)
        ("trunking-steel-50x50", "h07v-r-16", {}, 21),
        ("trunking-steel-50x50", "h07v-u-4", {}, 68),
        ("trunking-steel-50x50", "cat6-u-utp", {}, 30),
        # UK guidance: 20 mm, 5 m, two bends 196; 10 m, two bends 141; 32 mm, 3.5 m straight 911; 25 mm up to 3 m 800, 6 mm² 88
        ("conduit-steel-20", "h07v-u-2.5", {"length_m": 5.0, "bends": 2.0}, 6),
        ("conduit-steel-20", "h07v-r-10", {"length_m": 10.0, "bends": 2.0}, 1),
        ("conduit-steel-32", "h07v-u-2.5", {"length_m": 3.5, "bends": 0.0}, 30),
        ("conduit-steel-25", "h07v-r-6", {"length_m": 2.0, "bends": 0.0}, 9),
    ],
)
def test_how_many_go_in_is_what_the_published_terms_give(
    carrier: str, key: str, run: dict[str, float], most: int
) -> None:
    status, found = fit(carrier=carrier, most=key, **run)
    assert (status, found["most"], found["geometry_only_count"]) == (0, most, None)


def test_sizes_an_inside_and_what_is_there_already() -> None:
    status, found = fit(inside="96x46", cables=("11.3mm=4",), occupied="30%")
    assert status == 0
    assert found["fill"] == pytest.approx(0.30 + 4 * math.pi / 4 * 11.3**2 / (96 * 46))
    assert fit(inside="96x46", cables=("11.3mm=7",), occupied="30%")[0] == 1


def test_a_conduit_without_its_run_cannot_be_said() -> None:
    status, found = fit(carrier="conduit-steel-20", cables=("h07v-u-2.5=3",))
    assert (status, found["verdict"]) == (3, "unknown")
    status, found = fit(carrier="conduit-steel-20", cables=("h07v-u-2.5=6",), length_m=5.0)
    assert status == 3
    assert "2: pass, 3: fail" in str(found["reason"])


def test_a_bore_of_the_codes_table_tells_the_conduit() -> None:
    assert fit(bore="16.8", cables=("h07v-u-2.5=6",), length_m=5.0, bends=2.0)[1]["fill"] == pytest.approx(180 / 196)
    assert fit(bore="17", cables=("h07v-u-2.5=6",), length_m=5.0, bends=2.0)[0] == 3


def test_a_tray_has_no_limit_under_this_code() -> None:
    assert fit(inside="300x50", kind=CarrierKind.TRAY, cables=("bs5467-4x16=2",))[0] == 3


@pytest.mark.parametrize(
    "asked",
    [
        {}, {"carrier": "trunking-steel-50x50"}, {"carrier": "x", "cables": ("h07v-u-4=1",)}, {"inside": "50", "cables": ("h07v-u-4=1",)},
        {"inside": "50x0", "cables": ("h07v-u-4=1",)}, {"bore": "wide", "cables": ("h07v-u-4=1",)}, {"bore": "20", "inside": "5x5"},
        {"inside": "50x50", "cables": ("h07v-u-4",)}, {"inside": "50x50", "cables": ("h07v-u-5=1",)},
        {"inside": "50x50", "cables": ("h07v-u-4=0",)}, {"inside": "50x50", "cables": ("h07v-u-4=-3",)},
        {"inside": "50x50", "cables": ("0mm=3",)}, {"inside": "50x50", "cables": ("h07v-u-4=1",), "occupied": "half"},
        {"carrier": "conduit-steel-20", "cables": ("h07v-u-4=1",), "length_m": -1.0},
        {"inside": "50x50", "cables": ("h07v-u-4=1",), "bends": 1.0},
        {"carrier": "conduit-steel-20", "cables": ("h07v-u-4=1",), "length_m": 2.0, "bends": math.nan},
        {"carrier": "conduit-steel-20", "cables": ("h07v-u-4=1",), "length_m": math.inf, "bends": 0.0},
        {"inside": "50x50", "cables": ("h07v-u-4=1",), "occupied": "130%"}, {"inside": "50x50", "cables": ("h07v-u-4=" + "9" * 400,)},
    ],
)  # fmt: skip
def test_what_is_asked_wrongly_is_told(asked: dict[str, object]) -> None:
    with pytest.raises(InputError) as caught:
        fit(**asked)
    assert caught.value.hint


@given(
    st.sampled_from([key for key, item in PLUGINS.carriers.items() if item.kind == "trunking"]),
    st.sampled_from([key for key, item in PLUGINS.cables.items() if item.diameter_mm]),
)
def test_the_most_fits_and_one_more_does_not(carrier: str, key: str) -> None:
    most = fit(carrier=carrier, most=key)[1]["most"]
    assert isinstance(most, int)
    if most:
        assert (
            answer(Question(CODE, carrier=carrier, cables=(f"{key}={most}",)), PLUGINS).verdict.outcome is Outcome.PASS
        )
    more = answer(Question(CODE, carrier=carrier, cables=(f"{key}={most + 1}",)), PLUGINS)
    # where no wall is known, one more may go in without one and not with the thickest plausible one
    beyond = {Outcome.FAIL, Outcome.UNKNOWN} if more.subject.size_doubt else {Outcome.FAIL}
    assert more.verdict.outcome in beyond


def test_the_command_prints_its_working_and_one_object(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["fit", "--code", "bs-7671", "--carrier", "trunking-steel-50x50", "--cable", "h07v-r-16=22"]
    with pytest.raises(SystemExit) as ended:
        cli.main(asked)
    shown = capsys.readouterr().out
    assert ended.value.code == 1
    for words in (
        "22 × π/4 · 7.8² = 1051.2 mm²",
        "inside 2304.0 mm²",
        "limit 45 % (guidance)",
        "FAIL",
        "Not current rating",
        "licensed",
    ):
        assert words in shown
    with pytest.raises(SystemExit):
        cli.main([*asked, "--json"])
    found = json.loads(capsys.readouterr().out)
    assert {"fill", "limit", "occupied_mm2", "internal_mm2", "verdict"} <= found.keys()


def test_no_code_is_never_guessed(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(["fit", "--carrier", "trunking-steel-50x50", "--cable", "h07v-r-16=2"])
    assert ended.value.code == 2
    assert "no code of practice" in capsys.readouterr().err


def test_a_cable_thicker_than_the_inside_does_not_go_in() -> None:
    assert fit(inside="100x25", cables=("30mm=1",))[0] == 1


def test_what_is_there_already_may_be_any_number_of_conductors() -> None:
    nfpa = PLUGINS.codes["nfpa-70"]
    asked = Question(nfpa, carrier="emt-1", occupied="37%", cables=("1mm=1",), length_m=3.0)
    assert answer(asked, PLUGINS).exit_status == 3  # with one there already two may take 31 %, with more 40 %
    few = Question(nfpa, carrier="emt-1", occupied="20%", cables=("1mm=1",), length_m=3.0)
    assert answer(few, PLUGINS).exit_status == 0


def test_more_than_can_be_counted_is_not_capped_without_a_word() -> None:
    assert fit(inside="3000x3000", most="1mm")[1]["most"] is None


def test_a_limit_of_ones_own_where_the_code_has_none(capsys: pytest.CaptureFixture[str]) -> None:
    # 12 · π/4 · 7.8² = 573.4; / (96 · 46 = 4416) = 0.1298
    arguments = ("fit", "--code", "iec-60364", "--inside", "96x46", "--cable", "h07v-r-16=12", "--json")
    status, out, _ = wayroom(capsys, *arguments)
    assert (status, json.loads(out)["limit"]) == (3, None)
    status, out, _ = wayroom(capsys, *arguments, "--space-factor", "0.12")
    found = json.loads(out)
    assert (status, found["verdict"], found["limit"], found["basis"]) == (1, "fail", 0.12, "project")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--code", "bs-7671", "--inside", "96x46", "--space-factor", "0.5"), "looser than the code's 0.45"),
        (("--code", "iec-60364", "--inside", "96x46", "--space-factor", "40"), "write 40% or 0.4"),
        (
            ("--code", "nfpa-70", "--carrier", "emt-1/2", "--space-factor", "0.2"),
            "no fill rule for conduit that goes by one",
        ),
        (("--code", "iec-60364", "--bore", "16.8", "--space-factor", "0"), "isn't a number above 0"),
    ],
)
def test_a_limit_of_ones_own_that_is_no_stricter_one_is_refused(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str
) -> None:
    status, _, err = wayroom(capsys, "fit", *arguments, "--cable", "h07v-r-16=2")
    assert status == 2
    assert words in err


def test_how_many_go_in_can_t_be_said_where_one_can_t() -> None:
    """30 mm is narrower than any width of the code's table of trays, and nothing tells whether the cable is a large one."""
    from checker.fit_text import as_text

    nfpa = PLUGINS.codes["nfpa-70"]
    found = answer(Question(nfpa, inside="30x100", kind=CarrierKind.LADDER, most="16mm"), PLUGINS)
    assert (found.most, found.verdict.outcome, found.exit_status) == (None, Outcome.UNKNOWN, 3)
    text = as_text(found, nfpa)
    assert "How many go in can't be said." in text
    assert "UNKNOWN under nfpa-70" in text
    assert "PASS" not in text


def test_more_than_can_be_counted_is_unknown() -> None:
    """9,000,000 mm² holds more than 100,000 cables of 1 mm."""
    status, found = fit(inside="3000x3000", most="1mm")
    assert (status, found["verdict"], found["most"]) == (3, "unknown", None)


def test_where_not_even_one_goes_in_the_answer_is_a_fail() -> None:
    """π/4 · 40² = 1256.6 of 2304 mm²: 54.5 %, over 45 %."""
    from checker.fit_text import as_text

    found = answer(Question(CODE, carrier="trunking-steel-50x50", most="40mm"), PLUGINS)
    assert (found.most, found.verdict.outcome, found.exit_status) == (0, Outcome.FAIL, 1)
    text = as_text(found, CODE)
    assert "Not even one goes in" in text
    assert "FAIL under bs-7671" in text
    assert "PASS" not in text

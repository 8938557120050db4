"""``wayroom draw`` of a list of cables, without a model."""

from pathlib import Path

import pytest

from tests.test_cli import wayroom
from tests.test_draw import VET, words


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "nothing to draw is named"),
        (("model.ifc",), "a model and a carrier in it are needed"),
        (("--bore", "16.8", "--cable", "h07v-u-2.5=4", "--code", "bs-7671", "--compartment", "1"), "is for a carrier of a model"),
        (("--inside", "50x50", "--kind", "pipe", "--cable", "h07v-u-2.5=4", "--code", "bs-7671"), "is no kind of carrier"),
        (("--bore", "16.8", "--cable", "nothing=4", "--code", "bs-7671"), "there is no cable"),
    ],
)  # fmt: skip
def test_what_is_asked_wrongly_without_a_model_is_told(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], told: str
) -> None:
    status, _, err = wayroom(capsys, "draw", *arguments)
    assert status == 2
    assert told in err


def test_a_bundle_is_drawn_without_a_model(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "bundle.svg"
    asked = (
        "draw",
        "--carrier",
        "trunking-steel-50x50",
        "--cable",
        "h07v-r-16=12",
        "--cable",
        "11.3mm=4",
        "--code",
        "bs-7671",
    )
    assert wayroom(capsys, *asked, "--out", out)[0] == 0
    shown = words(out)
    # 48 · 48 = 2304 mm²; 12 · π/4 · 7.8² = 573.4 and 4 · π/4 · 11.3² = 401.1: 974.5, which is 42.3 %
    assert "Its fill passes: 42.3 % of the area inside is used, the limit is 45 %." in shown
    assert "12 × h07v-r-16, 7.8 mm" in shown
    assert "4 × 11.3mm" in shown


def test_more_than_goes_in_is_said_and_as_many_as_go_in_are_drawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # 30 · π/4 · 11.3² = 3008.6 mm² and there are 2304
    out = tmp_path / "bundle.svg"
    assert (
        wayroom(capsys, "draw", "--inside", "48x48", "--cable", "11.3mm=30", "--code", "bs-7671", "--out", out)[0] == 0
    )
    told = " ".join(words(out))
    assert "All of them can't go into this trunking" in told
    # four rows of four stand within 45.2 mm; a fifth row would need 4 · 0.866 · 11.3 + 11.3 = 50.4
    assert "16 of 30 are drawn" in told


def test_cables_as_laid_say_so_with_their_seed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "laid.svg"
    asked = (
        "draw",
        "--inside",
        "48x48",
        "--cable",
        "7.8mm=12",
        "--code",
        "bs-7671",
        "--as-laid",
        "--seed",
        "3",
        "--out",
        out,
    )
    assert wayroom(capsys, *asked)[0] == 0
    assert "seed 3" in " ".join(words(out))
    first = out.read_bytes()
    assert wayroom(capsys, *asked)[0] == 0
    assert out.read_bytes() == first


def test_a_bundle_that_a_width_speaks_against_has_the_verdict_of_fit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # the ends' middles of a flat 40 × 5 are 35 apart; in 38 × 16 there is room for √(33² + 11²) = 34.8. 194.6 of 608 mm² is 32 %
    out = tmp_path / "bundle.svg"
    asked = ("--inside", "38x16", "--cable", "40x5mm=1", "--code", "bs-7671")
    status, told, _ = wayroom(capsys, "fit", *asked)
    assert (status, "FAIL" in told) == (1, True)
    assert wayroom(capsys, "draw", *asked, "--out", out)[0] == 0
    assert "Its fill fails" in " ".join(words(out))
    assert "0 of 1 are drawn" in " ".join(words(out))


def test_without_cables_only_options_of_draw_are_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = wayroom(
        capsys, "draw", "--carrier", "trunking-steel-50x50", "--code", "bs-7671", "--out", tmp_path / "a.svg"
    )
    assert status == 2
    assert "--cable KEY=COUNT" in err
    assert "--most" not in err


def test_a_limit_of_ones_own_is_drawn_as_its_hint_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "tray.svg"
    asked = ("draw", "--inside", "100x50", "--kind", "tray", "--cable", "20mm=5", "--code", "bs-7671", "--out", out)
    assert wayroom(capsys, *asked)[0] == 0
    assert "say one of your own with --space-factor" in " ".join(words(out))
    # 5 · π/4 · 20² = 1570.8 of 5000 mm²: 31.4 %
    assert wayroom(capsys, *asked, "--space-factor", "40%")[0] == 0
    assert "Its fill passes: 31.4 % of the area inside is used, the limit is 40 %." in " ".join(words(out))
    status, _, err = wayroom(capsys, "draw", VET, "FT-01", "--space-factor", "40%", "--out", out)
    assert status == 2
    assert "--space-factor is for drawing without a model" in err


@pytest.mark.parametrize("code", ["bs-7671", "iec-60364"])
def test_fit_draws_what_draw_draws(tmp_path: Path, capsys: pytest.CaptureFixture[str], code: str) -> None:
    asked = ("--inside", "48x48", "--cable", "h07v-r-16=12", "--code", code)
    wayroom(capsys, "fit", *asked, "--draw", tmp_path / "fit.svg")
    wayroom(capsys, "draw", *asked, "--out", tmp_path / "draw.svg")
    assert (tmp_path / "fit.svg").read_bytes() == (tmp_path / "draw.svg").read_bytes()


def test_of_a_bore_alone_no_outside_is_drawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # the code's table has 20 mm outside for 16.8, but nobody gave that
    for command in ("draw", "fit"):
        out = tmp_path / f"{command}.svg"
        asked = ("--bore", "16.8", "--cable", "h07v-u-2.5=3", "--length", "3", "--bends", "0", "--code", "bs-7671")
        assert wayroom(capsys, command, *asked, "--out" if command == "draw" else "--draw", out)[0] == 0
        shown = " ".join(words(out))
        assert "conduit, bore 16.8 mm" in shown
        assert "outside" not in shown

"""The command ``wayroom draw`` as a user meets it: what it draws, what it says, what it writes."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree
from PIL import Image

from checker.draw_file import safe_name
from checker.draw_model import find_carrier
from checker.errors import InputError
from checker.model import Installation, Place
from checker.result.tables import Result
from checker.rule import Outcome, Verdict
from checker.section.bars import sentence
from tests.small_models import two_trunkings
from tests.test_cli import wayroom

VET = Path(__file__).parent.parent / "sample_models" / "vet_practice"
SCHEDULE = "circuit,from,to,service,cable,count\nP1,DB,S1,power,h07v-u-2.5,{count}\n"


def words(path: Path) -> list[str]:
    root = etree.parse(path).getroot()
    return [element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text")]


@pytest.fixture
def site(tmp_path: Path) -> tuple[Path, Path]:
    schedule = tmp_path / "circuits.csv"
    schedule.write_text(SCHEDULE.format(count=100), encoding="utf-8")
    return two_trunkings(tmp_path / "model.ifc"), schedule


@pytest.mark.parametrize("ending", [".svg", ".PNG"])
def test_a_carrier_is_drawn_and_the_status_is_0_though_it_fails(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str], ending: str
) -> None:
    out = tmp_path / f"section{ending}"
    asked = ("draw", site[0], "T1", "--circuits", site[1], "--code", "bs-7671", "--out", out)
    status, said, _ = wayroom(capsys, *asked)
    assert (status, said) == (0, f"drawn: {out}\n")
    if ending == ".svg":
        # a 50 x 50 trunking with walls of 1 is 48 x 48 inside: 2304 mm²; 100 cables of 3.9 mm take 100 · π/4 · 3.9² = 1194.6: 51.8 %
        assert any(
            word.startswith("Its fill fails: 51.8 % of the area inside is used, the limit is 45 %")
            for word in words(out)
        )
        # beyond the limit by 1194.6 - 0.45 · 2304 = 157.8 mm², which is 15.2 % of 1036.8
        assert "Beyond the limit by 158 mm², 15.2 % of the limit." in words(out)
    else:
        assert out.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    first = out.read_bytes()
    wayroom(capsys, *asked)
    assert out.read_bytes() == first


def test_the_figures_are_those_of_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # FT-01/1 of the sample: 2097.5 of 4305.6 mm² by its worked answers, 48.7 % where 45 % is the limit
    with (VET / "expected.csv").open(encoding="utf-8") as stream:
        lines = [line for line in csv.reader(stream) if line[:2] == ["segment", "FT-01"]]
    out = tmp_path / "ft.svg"
    assert wayroom(capsys, "draw", VET, "FT-01", "--out", out)[0] == 0
    shown = words(out)
    for _, _, number, _, _, _, _, fill, limit, verdict, *_ in lines:
        told = f"The fill of compartment {number} {verdict}{'s' if verdict == 'fail' else 'es'}"
        figures = (
            f"{round(100.0 * float(fill), 1):g} % of the area inside is used, the limit is {100.0 * float(limit):g} %"
        )
        assert any(word.startswith(f"{told}: {figures}") for word in shown)


def test_one_compartment_alone_can_be_drawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "ft.svg"
    assert wayroom(capsys, "draw", VET, "FT-01", "--compartment", 2, "--out", out)[0] == 0
    shown = words(out)
    assert "Section of FT-01, compartment 2 of 3" in shown
    assert any("CT-04" in word for word in shown)
    assert not any("FP-05" in word for word in shown)


def test_circuits_that_a_carrier_governs_are_told_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # by the sample's worked ratings PP-01 carries 18.24 A in FT-07 where it needs 20 A
    out = tmp_path / "ft.svg"
    assert wayroom(capsys, "draw", VET, "FT-07", "--out", out)[0] == 0
    assert any(
        word.startswith("Compartment 1: grouping.rating (circuit PP-01) fails: carries 18.24 A") for word in words(out)
    )


def test_without_a_name_the_drawing_is_called_by_the_carrier(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert (
        wayroom(capsys, "draw", site[0], "T1", "--circuits", site[1], "--code", "bs-7671")[1]
        == "drawn: section-T1.svg\n"
    )
    assert (tmp_path / "section-T1.svg").is_file()


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("FT-01", "section-FT-01"),
        ("a/b\\c:d*?", "section-a-b-c-d"),
        ("../..", "section"),
        ("", "section"),
        ("x" * 90, f"section-{'x' * 60}"),
    ],
)
def test_names_of_files_are_safe(text: str, name: str) -> None:
    assert safe_name(text) == name


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("T9",), "did you mean T1, T2?"),
        (("Nowhere at all",), "name it by its GlobalId, Tag or Name"),
        (("DB",), "is no carrier segment"),
        (("T1", "--compartment", "2"), "T1 has no compartment 2"),
        (("T1", "--out", "x.pdf"), "a drawing is written as .svg or .png"),
        (("T1", "--seed", "4"), "say --as-laid too"),
        (("T1", "--as-laid", "--seed", "-1"), "write a whole number from 0"),
        (("T1", "--trials", "4"), "say --as-laid too"),
        (("T1", "--as-laid", "--trials", "0"), "write a whole number from 1 to 1000"),
        (("T1", "--carrier", "trunking-steel-50x50"), "is for drawing without a model"),
        (("T1", "--code", "no-such"), "no-such"),
    ],
)
def test_what_is_asked_wrongly_ends_with_2_and_says_what_to_do(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch,
    arguments: tuple[str, ...], told: str,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.iterdir())
    code = () if "--code" in arguments else ("--code", "bs-7671")
    status, out, err = wayroom(capsys, "draw", site[0], *arguments, *code, "--circuits", site[1])
    assert (status, out) == (2, "")
    assert told in err
    assert sorted(tmp_path.iterdir()) == before


def test_a_name_of_several_carriers_is_told_with_the_choice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import ifcopenshell

    model = ifcopenshell.open(str(two_trunkings(tmp_path / "model.ifc")))
    segments = model.by_type("IfcCableCarrierSegment")
    for segment in segments:
        segment.Name, segment.Tag = "Trunking", None
    model.write(str(tmp_path / "same.ifc"))
    status, _, err = wayroom(capsys, "draw", tmp_path / "same.ifc", "Trunking", "--code", "bs-7671")
    assert status == 2
    assert "'Trunking' is what 2 carriers are called" in err
    assert all(segment.GlobalId in err for segment in segments)


def test_a_drawing_never_takes_the_place_of_an_input(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "circuits.svg").symlink_to(site[1])
    before = site[1].read_bytes()
    status, _, err = wayroom(
        capsys, "draw", site[0], "T1", "--circuits", site[1], "--code", "bs-7671", "--out", tmp_path / "circuits.svg"
    )
    assert status == 2
    assert "written over an input" in err
    assert site[1].read_bytes() == before


def test_a_drawing_that_cant_be_written_leaves_nothing(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    out = tmp_path / "file" / "section.svg"
    status, _, err = wayroom(capsys, "draw", site[0], "T1", "--circuits", site[1], "--code", "bs-7671", "--out", out)
    assert status == 2
    assert "can't be written" in err


def test_a_picture_of_nothing_is_still_a_picture(
    tmp_path: Path, site: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    site[1].write_text(SCHEDULE.format(count=0).replace("P1,DB,S1,power,h07v-u-2.5,0\n", ""), encoding="utf-8")
    out = tmp_path / "empty.png"
    assert wayroom(capsys, "draw", site[0], "T1", "--circuits", site[1], "--code", "bs-7671", "--out", out)[0] == 0
    assert Image.open(io.BytesIO(out.read_bytes())).size[0] == 1920


def test_what_isnt_read_as_a_carrier_is_told_with_why() -> None:
    site = Installation("k", "n", left_out=((Place("guid", "m", tag="DU-1"), "it is a duct"),))
    with pytest.raises(InputError, match="'DU-1' isn't read as a carrier: it is a duct"):
        find_carrier(site, "DU-1")


@pytest.mark.parametrize("name", ["a" * 300 + ".svg", "loop/x.svg"])
def test_a_name_that_no_file_can_have_is_told_without_a_defect(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (tmp_path / "loop").symlink_to("loop")
    asked = ("--inside", "48x48", "--cable", "7.8mm=12", "--code", "bs-7671")
    for command in (("draw", *asked, "--out"), ("fit", *asked, "--draw"), ("draw", VET, "FT-01", "--out")):
        status, _, err = wayroom(capsys, *command, tmp_path / name)
        assert status == 2
        assert name in err
        assert "defect" not in err
    assert [path.name for path in tmp_path.iterdir()] == ["loop"]


def test_figures_are_said_once_and_a_limit_within_the_tolerances_as_check_says_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], vet_result: Result
) -> None:
    out = tmp_path / "ft.svg"
    assert wayroom(capsys, "draw", VET, "FT-01", "--out", out)[0] == 0
    shown = " ".join(words(out))
    # 37 cables of FT-01/1 take 2097.5 of 4305.6 mm², which is 48.7 %
    start = "The fill of compartment 1 fails: 48.7 % of the area inside is used, the limit is 45 %. 2097.5 mm² of 4305.6 mm²; "
    assert start in shown
    (key,) = [one.key for one in vet_result.carriers if one.place.tag == "FT-01"]
    (row,) = [one for one in vet_result.compartments if (one.carrier, one.number) == (key, 1)]
    tolerance = row.reason.partition("; ")[2]
    assert tolerance.startswith("within the tolerance of the cables' sizes: ")
    assert f"{start}{tolerance}." in shown


def test_a_pass_that_the_largest_sizes_would_fail_is_drawn_with_that() -> None:
    # of what passes nothing else is told: 99.3 of 221.7 mm² is 44.8 %
    verdict = Verdict(Outcome.PASS, "", 0.448, 0.45, measure="area", unit="ratio")
    reason = "99.3 mm² of 221.7 mm² is 44.8 %, within 45 %"
    within = "within the tolerance of the conduit's bore: fill lies between 43.2 and 46.5 %, limit 45 %"
    figures = "Its fill passes: 44.8 % of the area inside is used, the limit is 45 %."
    assert sentence(replace(verdict, reason=reason)) == figures
    assert sentence(replace(verdict, reason=f"{reason}; {within}")) == f"{figures} {within[0].upper()}{within[1:]}."


@pytest.mark.parametrize(
    ("reason", "rest"),
    [
        (
            "90.1 mm² of 200.0 mm² is 45.04 %, over 45 %",
            "90.1 mm² of 200.0 mm² is 45.04 %, over 45 %",
        ),  # finer than 45 %
        (
            "4 take 91 mm², 45.5 %, over 40 % for 4",
            "4 take 91 mm², 45.5 %, over 40 % for 4",
        ),  # the limit is of something
        ("91 mm² of 200 mm² is 45.5 %, over 35 %", "91 mm² of 200 mm² is 45.5 %, over 35 %"),  # another limit
        ("cable terms 180 over 159", "Cable terms 180 over 159"),
    ],
)
def test_figures_that_say_more_than_the_sentence_before_stay(reason: str, rest: str) -> None:
    value = 0.4504 if "45.04" in reason else 0.455
    told = sentence(Verdict(Outcome.FAIL, reason, value, 0.45, measure="area", unit="ratio"))
    assert told.endswith(f"the limit is 45 %. {rest}.")

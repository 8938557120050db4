"""``wayroom check --annotate`` as a user meets it: where annotated models go, and over what they never do."""

import errno
import gzip
import hashlib
import json
import os
import zipfile
from pathlib import Path

import ifcopenshell
import pytest

from checker.annotate import files
from checker.checking import Request, check
from checker.errors import OutputError
from checker.read.ifc_file import file_digest
from checker.read.sources import find_sources
from checker.report import publish
from tests import test_cli
from tests.small_models import SmallModel, two_trunkings
from tests.test_cli import SCHEDULE

#: As the standards' own, but no one's: a project that maps everything.
GREEDY = """[project]
models = ["model.ifc"]
schedule = "circuits.csv"
code = "bs-7671"
""" + "".join(
    f'[[properties]]\nquantity = "{what}"\nproperty = "*{word}*"\n'
    for what, word in (
        ("width", "Fill"), ("tag", "Code"), ("condition", "Verdict"), ("circuit", "Rule"), ("compartments", "Compartment"),
        ("material", "CheckedBy"),
    )
)  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Path:
    two_trunkings(tmp_path / "model.ifc")
    (tmp_path / "circuits.csv").write_text(SCHEDULE.format(count=100), encoding="utf-8")
    return tmp_path


def wayroom(
    capsys: pytest.CaptureFixture[str], site: Path, *more: object, models: tuple[str, ...] = ("model.ifc",)
) -> tuple[int, str, str]:
    given = [
        *(site / name for name in models),
        "--circuits",
        site / "circuits.csv",
        "--code",
        "bs-7671",
        "--out",
        site / "out",
        *more,
    ]
    return test_cli.wayroom(capsys, "check", *given)


def verdicts(path: Path) -> dict[str, str]:
    found = {}
    for rel in ifcopenshell.open(str(path)).by_type("IfcRelDefinesByProperties"):
        if rel.RelatingPropertyDefinition.Name == "Wayroom_Check":
            (value,) = (item for item in rel.RelatingPropertyDefinition.HasProperties if item.Name == "WorstVerdict")
            found.update({element.Tag: value.NominalValue.wrappedValue for element in rel.RelatedObjects})
    return found


def left(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if "unfinished" in path.name]


def test_the_model_is_written_with_its_verdicts_and_that_is_said(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (site / "new").mkdir()
    status, out, _ = wayroom(capsys, site, "--annotate", site / "new" / "made.ifc")
    assert status == 1  # 100 · 11.95 mm² of 2304 mm² is 51.9 %
    assert verdicts(site / "new" / "made.ifc") == {"T1": "fail", "T2": "fail"}
    assert "made.ifc, with a property set Wayroom_Check on 2 carriers" in " ".join(out.split())
    assert (site / "out" / "result.json").is_file()
    assert left(site) == []


def test_the_results_are_the_same_with_and_without_it(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wayroom(capsys, site)
    before = {path.name: path.read_bytes() for path in (site / "out").iterdir()}
    wayroom(capsys, site, "--annotate", site / "made.ifc")
    after = {path.name: path.read_bytes() for path in (site / "out").iterdir()}
    told = json.loads(after.pop("result.json")), json.loads(before.pop("result.json"))
    assert (after, told[0]["result"], told[0]["outputs"]) == (before, told[1]["result"], told[1]["outputs"])
    digest = hashlib.sha256((site / "made.ifc").read_bytes()).hexdigest()
    assert (told[0]["annotated"], told[1]["annotated"]) == ({"made.ifc": digest}, {})


def test_json_says_where_it_is(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = wayroom(capsys, site, "--annotate", site / "made.ifc", "--json")
    assert json.loads(out)["annotated"] == [
        {"path": str(site / "made.ifc"), "carriers": 2, "missed": [], "sha256": file_digest(site / "made.ifc")}
    ]
    _, out, _ = wayroom(capsys, site, "--json")
    assert "annotated" not in json.loads(out)


def test_checking_again_replaces_the_verdicts(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wayroom(capsys, site, "--annotate", site / "made.ifc")
    first = (site / "made.ifc").read_bytes()
    (site / "circuits.csv").write_text(SCHEDULE.format(count=3), encoding="utf-8")
    assert wayroom(capsys, site, "--annotate", site / "made.ifc")[0] == 0
    assert verdicts(site / "made.ifc") == {"T1": "pass", "T2": "pass"}
    wayroom(capsys, site, "--annotate", site / "again.ifc", models=("made.ifc",))
    assert (site / "again.ifc").read_bytes() == (site / "made.ifc").read_bytes()
    (site / "circuits.csv").write_text(SCHEDULE.format(count=100), encoding="utf-8")
    wayroom(capsys, site, "--annotate", site / "back.ifc", models=("again.ifc",))
    assert (site / "back.ifc").read_bytes() == first


def test_the_time_is_the_models_or_the_one_that_is_given(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wayroom(capsys, site, "--annotate", site / "made.ifc", "--now", "2027-01-02T03:04:05Z")
    assert (site / "made.ifc").read_bytes().count(b"IFCDATETIME('2027-01-02T03:04:05Z')") == 2


def test_zipped_in_and_out_go_by_their_names(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wayroom(capsys, site, "--annotate", site / "made.ifc")
    with zipfile.ZipFile(site / "model.ifczip", "w") as archive:
        archive.write(site / "model.ifc", "inner.ifc")
    (site / "packed.ifc").write_bytes(gzip.compress((site / "model.ifc").read_bytes()))
    for model in ("model.ifczip", "packed.ifc"):
        wayroom(capsys, site, "--annotate", site / "made.ifczip", models=(model,))
        wayroom(capsys, site, "--annotate", site / "plain.ifc", models=(model,))
        with zipfile.ZipFile(site / "made.ifczip") as archive:
            assert archive.namelist() == ["made.ifc"]
            assert archive.read("made.ifc") == (site / "plain.ifc").read_bytes()
        assert verdicts(site / "plain.ifc") == {"T1": "fail", "T2": "fail"}
    before = (site / "made.ifczip").read_bytes()
    wayroom(capsys, site, "--annotate", site / "made.ifczip", models=("packed.ifc",))
    assert (site / "made.ifczip").read_bytes() == before


def test_several_models_go_into_a_folder_under_their_names(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    more = SmallModel()
    more.file.by_type("IfcProject")[0].GlobalId = "0000000000000000000099"
    profile = more.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    more.carrier("T9", (0.0, 9000.0, 0.0), (4000.0, 9000.0, 0.0), profile, GlobalId="0000000000000000000T09")
    more.write(site / "more.ifc")
    both = ("model.ifc", "more.ifc")
    status, _, err = wayroom(capsys, site, "--annotate", site / "made.ifc", models=both)
    assert (status, "name a folder" in err) == (2, True)
    wayroom(capsys, site, "--annotate", site / "made", models=both)
    assert verdicts(site / "made" / "model.ifc") == {"T1": "fail", "T2": "fail"}
    assert verdicts(site / "made" / "more.ifc") == {"T9": "pass"}
    (site / "sub").mkdir()
    (site / "sub" / "model.ifc").write_bytes((site / "more.ifc").read_bytes())
    status, _, err = wayroom(capsys, site, "--annotate", site / "made", models=("model.ifc", "sub/model.ifc"))
    assert (status, "one file" in err) == (2, True)


def test_one_model_goes_into_a_folder_that_is_there(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (site / "made").mkdir()
    wayroom(capsys, site, "--annotate", site / "made")
    assert verdicts(site / "made" / "model.ifc") == {"T1": "fail", "T2": "fail"}


@pytest.mark.parametrize("name", ["model.ifc", "linked.ifc", "hard.ifc", "."])
def test_no_input_is_written_over(site: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    (site / "linked.ifc").symlink_to(site / "model.ifc")
    os.link(site / "model.ifc", site / "hard.ifc")
    before = (site / "model.ifc").read_bytes()
    status, _, err = wayroom(capsys, site, "--annotate", site / name)
    assert (status, "over an input" in err) == (2, True)
    assert (site / "model.ifc").read_bytes() == before
    assert not (site / "out").exists()


def test_no_other_file_is_written_over(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = SmallModel().write(site / "other.ifc")
    before = other.read_bytes()
    status, _, err = wayroom(capsys, site, "--annotate", other)
    assert (status, "nobody changed since" in err) == (2, True)
    assert other.read_bytes() == before
    other.write_bytes((site / "model.ifc").read_bytes())  # a plain copy is no loss
    wayroom(capsys, site, "--annotate", other)
    assert verdicts(other) == {"T1": "fail", "T2": "fail"}


@pytest.mark.parametrize("name", ["made.ifc", "made.ifczip"])
def test_what_somebody_went_on_working_on_is_not_written_over(
    site: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    wayroom(capsys, site, "--annotate", site / name)
    work = ifcopenshell.open(str(site / name))
    work.by_type("IfcBuildingStorey")[0].LongName = "as agreed on site"
    work.write(str(site / name))
    before = (site / name).read_bytes()
    status, _, err = wayroom(capsys, site, "--annotate", site / name)
    assert (status, "nobody changed since" in err) == (2, True)
    assert (site / name).read_bytes() == before
    (site / name).write_bytes(b"\xff" * 99)  # nor what is no model at all
    assert wayroom(capsys, site, "--annotate", site / name)[0] == 2


def test_no_file_goes_where_the_project_would_take_it_for_a_revision(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (site / "wayroom.toml").write_text('[project]\nmodels = ["Mod*.ifc"]\ncode = "bs-7671"\n', encoding="utf-8")
    (site / "linked").symlink_to(site)
    for out in (site / "model-checked.ifc", site / "linked" / "MODEL2.IFC", site / "new" / ".." / "model3.ifc"):
        status, _, err = wayroom(capsys, site, "--annotate", out, models=("wayroom.toml",))
        assert (status, "take it for a revision" in err) == (2, True)
        assert not out.exists()
    through_a_link = wayroom(capsys, site, "--annotate", site / "model4.ifc", models=("linked/wayroom.toml",))
    assert (through_a_link[0], "take it for a revision" in through_a_link[2]) == (2, True)
    (site / "new").mkdir()
    assert wayroom(capsys, site, "--annotate", site / "new" / "model.ifc", models=("wayroom.toml",))[0] == 1


def test_a_model_that_cannot_be_annotated_is_told_before_it_is_checked(
    site: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("checker.run.check", None)
    with (site / "model.ifc").open("ab") as stream:
        stream.write(b"SIGNATURE;\nMIIB\nENDSEC;\n")
    status, _, err = wayroom(capsys, site, "--annotate", site / "made.ifc")
    assert (status, "it is signed" in err) == (2, True)
    assert not (site / "made.ifc").exists()


def test_a_name_that_is_too_long_is_told(site: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = wayroom(capsys, site, "--annotate", site / f"{'n' * 300}.ifc")
    assert (status, "annotated model can't be written" in err) == (2, True)


@pytest.mark.parametrize("folder", ["made", "model.ifc"])
def test_a_file_in_a_folder_that_there_is_not_is_refused(
    site: Path, capsys: pytest.CaptureFixture[str], folder: str
) -> None:
    status, _, err = wayroom(capsys, site, "--annotate", site / folder / "x.ifc")
    assert (status, "there is no folder" in err, "make it first" in err) == (2, True, True)
    assert not (site / "made").exists()
    assert not (site / "out").exists()


@pytest.mark.parametrize("name", ["made.txt", "made", "made.ifcxml"])
def test_a_name_that_is_no_models_is_refused(site: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    status, _, err = wayroom(capsys, site, "--annotate", site / name)
    assert (status, ".ifczip" in err) == (2, True)


def test_where_results_cannot_be_written_no_model_is(
    site: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise OutputError("out", "the disk is full", "make room")

    wayroom(capsys, site, "--annotate", site / "made.ifc")
    first = (site / "made.ifc").read_bytes()
    (site / "circuits.csv").write_text(SCHEDULE.format(count=3), encoding="utf-8")
    monkeypatch.setattr("checker.run.publish", broken)
    status, _, err = wayroom(capsys, site, "--annotate", site / "made.ifc")
    assert (status, "the disk is full" in err) == (2, True)
    assert (site / "made.ifc").read_bytes() == first
    assert left(site) == []


def test_where_the_model_cannot_be_written_no_results_are(
    site: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, _: bytes) -> Path:
        raise OSError(errno.ENOSPC, "no space left", str(path))

    monkeypatch.setattr(files, "write_beside", full)
    status, _, err = wayroom(capsys, site, "--annotate", site / "made.ifc")
    assert (status, "annotated model can't be written" in err) == (2, True)
    assert publish.disagreeing(site / "out") == ()
    assert not (site / "out" / "result.json").exists()


def test_a_model_that_changes_meanwhile_is_not_annotated(
    site: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def checked(request: Request, *more: object) -> object:
        result = check(request, *more)  # type: ignore[arg-type]
        (site / "model.ifc").write_bytes((site / "model.ifc").read_bytes() + b"\n")
        return result

    monkeypatch.setattr("checker.run.check", checked)
    status, _, err = wayroom(capsys, site, "--annotate", site / "made.ifc")
    assert (status, "was changed while" in err) == (2, True)
    assert not (site / "made.ifc").exists()


def test_what_we_wrote_is_never_read_however_a_project_maps_properties(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wayroom(capsys, site, "--annotate", site / "made.ifc")
    (site / "wayroom.toml").write_text(GREEDY, encoding="utf-8")
    before = check(Request(find_sources([site], None)))
    (site / "model.ifc").write_bytes((site / "made.ifc").read_bytes())
    after = check(Request(find_sources([site], None)))
    assert (after.carriers, after.findings, after.problems) == (before.carriers, before.findings, before.problems)

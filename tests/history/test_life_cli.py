"""The life of notes as the command leads it: from run to run in one folder."""

import zipfile
from pathlib import Path

import pytest
from lxml import etree

from tests.history.people import edited, repacked, set_status, unpacked
from tests.test_cli import site, wayroom

SAMPLE = Path(__file__).parents[2] / "sample_models" / "vet_practice"


def test_what_people_closed_is_opened_only_where_the_run_is_asked_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    notes = tmp_path / "out" / "issues.bcf"

    def status() -> tuple[str, int]:
        with zipfile.ZipFile(notes) as archive:
            (path,) = [name for name in archive.namelist() if name.endswith("markup.bcf")]
            root = etree.fromstring(archive.read(path))
        return root.find("Topic").get("TopicStatus"), len(root.findall("Comment"))

    wayroom(capsys, *arguments)
    notes.write_bytes(edited(notes.read_bytes(), "full", set_status("Closed")))
    wayroom(capsys, *arguments)
    assert status() == ("Closed", 1)
    wayroom(capsys, *arguments, "--reopen")
    assert status() == ("Open", 2)
    before = notes.read_bytes()
    wayroom(capsys, *arguments, "--reopen")
    assert notes.read_bytes() == before


def test_to_begin_anew_and_to_open_what_was_closed_is_told_to_be_no_sense(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)

    status, _, err = wayroom(
        capsys,
        "check",
        model,
        "--circuits",
        schedule,
        "--code",
        "bs-7671",
        "--out",
        tmp_path / "out",
        "--fresh",
        "--reopen",
    )

    assert status == 2
    assert "--reopen" in err
    assert "give one of them" in err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("version", ["2.1", "3.0"])
def test_a_sample_that_another_code_judges_and_then_the_first_again_settles_after_each_run(
    version: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each run is repeated, on notes without entries for folders: it changes nothing, and no topic is lost."""
    notes = tmp_path / "out" / "issues.bcf"
    guids: set[str] = set()
    for code in ("bs-7671", "iec-60364", "bs-7671"):
        asked = ("check", SAMPLE / "model.ifc", "--circuits", SAMPLE / "circuits.csv", "--code", code, "--bcf", version)
        arguments = (*asked, "--out", tmp_path / "out")
        assert wayroom(capsys, *arguments)[0] == 1
        once = notes.read_bytes()
        wayroom(capsys, *arguments)
        assert notes.read_bytes() == once
        files = unpacked(once)
        found = {path.partition("/")[0] for path in files if path.endswith("/markup.bcf")}
        assert guids <= found
        guids = found
        notes.write_bytes(repacked(files))
    assert guids

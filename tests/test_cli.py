"""The command as a user meets it: exit status, files, messages."""

import csv
import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from typer.testing import CliRunner

from checker import cli
from checker.report import publish
from tests.small_models import two_trunkings

SCHEDULE = (
    "circuit,from,to,service,cable,count,loaded_conductors,design_current_a,device_rating_a\n"
    "P1,DB,S1,power,h07v-u-2.5,{count},2,8,10\n"
)


def wayroom(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        cli.main([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return int(ended.value.code or 0), out, err


def site(tmp_path: Path, count: object = 3) -> tuple[Path, Path]:
    model = two_trunkings(tmp_path / "model.ifc")
    schedule = tmp_path / "circuits.csv"
    schedule.write_text(SCHEDULE.format(count=count), encoding="utf-8")
    return model, schedule


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.mark.parametrize(
    ("count", "status"),
    [(3, 0), (100, 1), ("", 3)],  # 100 · 11.95 mm² of 2304 mm² is 51.9 %
)
def test_the_exit_status_says_how_it_went(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], count: object, status: int
) -> None:
    model, schedule = site(tmp_path, count)
    found, out, _ = wayroom(
        capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out"
    )
    assert found == status
    assert "2 read = " in out
    assert "bs-7671" in out
    assert "licensed" in out


def test_every_promised_file_and_column_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path, 100)
    wayroom(capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    promised = {
        "failing.csv": "finding segment tag name storey compartment rule value limit unit basis circuits reason advice source"
        " model space topic",
        "segments.csv": "segment tag name kind storey compartment width_mm height_mm internal_area_mm2 dimension_source cables occupied_mm2"
        " fill measure limit utilisation verdict worst_verdict reason model space",
        "routes.csv": "circuit from to routed_by length_m segments governing_segment grouping_factor capacity_a required_a verdict reason",
        "cables.csv": "cable circuit from to length_m carriers",
        "problems.csv": "where what why hint",
    }
    for name, columns in promised.items():
        with (tmp_path / "out" / name).open(encoding="utf-8", newline="") as stream:
            assert set(columns.split()) <= set(next(csv.reader(stream))), name
    failing = rows(tmp_path / "out" / "failing.csv")
    assert [(row["tag"], row["rule"], row["circuits"]) for row in failing] == [
        ("T1", "fill.compartment", "P1"),
        ("T2", "fill.compartment", "P1"),
    ]
    assert float(failing[0]["value"]) == pytest.approx(100 * 3.141592653589793 / 4 * 3.9**2 / 2304, abs=1e-6)
    assert len({row["topic"] for row in failing}) == 1


def test_result_json_fits_its_schema_and_vouches_for_the_files(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    wayroom(capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    document = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    _, schema, _ = wayroom(capsys, "schema")
    jsonschema.validate(document, json.loads(schema))
    counts = document["counts"]
    assert counts["carriers_checked"] + counts["carriers_unknown"] == counts["carriers_read"] == 2
    assert (counts["circuits_read"], counts["circuits_routed"], counts["circuits_unrouted"]) == (1, 1, 0)
    assert publish.disagreeing(tmp_path / "out") == ()
    roles = {file["role"] for file in document["result"]["files"]}
    assert {"model", "schedule", "code", "table"} <= roles
    assert all(len(file["sha256"]) == 64 for file in document["result"]["files"])


def test_the_same_input_gives_the_same_bytes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path, 100)
    for name in ("one", "two"):
        wayroom(capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / name)
    wayroom(
        capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "one"
    )  # over itself
    for path in sorted((tmp_path / "one").iterdir()):
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes(), path.name


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["check", "none.ifc", "--code", "bs-7671"], "no such file"),
        (["check", "model.ifc"], "no code of practice is given"),
        (["check", "model.ifc", "--code", "bs-0000"], "there is no code"),
        (["check", "model.ifc", "--code", "bs-7671", "--circuits", "none.csv"], "no such file"),
        (["check", "model.ifc", "--code", "bs-7671", "--bcf", "9"], "BCF 9"),
        (["check", "model.ifc", "--code", "bs-7671", "--previous", "none.bcf"], "can't be read"),
        (["check", "circuits.csv", "--code", "bs-7671"], "neither a model nor a project file"),
        (["list", "ducts"], "no such list"),
        (["explain", "fill.nothing"], "no such rule"),
        (["explain", "fill.tray", "--code", "bs-0000"], "there is no code"),
    ],
)
def test_what_is_asked_wrongly_ends_with_2_and_says_what_to_do(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    arguments: list[str],
    words: str,
) -> None:
    site(tmp_path)
    monkeypatch.chdir(tmp_path)
    status, out, err = wayroom(capsys, *arguments)
    assert status == 2
    assert words in err
    assert len(err.strip().splitlines()) == 2  # where and what; what to do
    assert "Traceback" not in out + err
    assert not (tmp_path / "wayroom-out").exists()


def test_a_run_that_fails_leaves_the_earlier_results(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    wayroom(capsys, *arguments)
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    model.write_text("no model any more", encoding="utf-8")
    status, _, _ = wayroom(capsys, *arguments)
    assert status == 2
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


def test_nothing_is_written_over_an_input(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path)
    mine = schedule.rename(tmp_path / "segments.csv")
    before = mine.read_bytes()
    status, _, err = wayroom(capsys, "check", model, "--circuits", mine, "--code", "bs-7671", "--out", tmp_path)
    assert status == 2
    assert "over an input" in err
    assert mine.read_bytes() == before


def test_what_people_wrote_into_the_notes_survives_the_next_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import io
    import zipfile

    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    wayroom(capsys, *arguments)
    notes = tmp_path / "out" / "issues.bcf"
    edited = io.BytesIO()
    with zipfile.ZipFile(notes) as old, zipfile.ZipFile(edited, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name.endswith("markup.bcf"):
                content = content.replace(b"<Priority>", b"<Priority>Mine: ")
            new.writestr(name, content)
        new.writestr("notes-of-mine.txt", "keep me")
    notes.write_bytes(edited.getvalue())
    schedule.write_text(SCHEDULE.format(count=120), encoding="utf-8")
    wayroom(capsys, *arguments)
    with zipfile.ZipFile(notes) as merged:
        assert merged.read("notes-of-mine.txt") == b"keep me"
        markups = [merged.read(name).decode() for name in merged.namelist() if name.endswith("markup.bcf")]
    assert len(markups) == 1
    assert "<Priority>Mine: " in markups[0]
    assert "<Comment" in markups[0]  # the value changed
    wayroom(capsys, *arguments, "--fresh")
    with zipfile.ZipFile(notes) as fresh:
        assert "notes-of-mine.txt" not in fresh.namelist()
    kept = next((tmp_path / "out").glob("issues-*.bcf"))
    with zipfile.ZipFile(kept) as there:
        assert there.read("notes-of-mine.txt") == b"keep me"


def test_notes_that_people_changed_are_no_reason_for_alarm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import zipfile

    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    wayroom(capsys, *arguments)
    with zipfile.ZipFile(tmp_path / "out" / "issues.bcf", "a") as notes:
        notes.writestr("mine.txt", "mine")
    _, _, err = wayroom(capsys, *arguments)
    assert err == ""
    (tmp_path / "out" / "segments.csv").write_text("changed", encoding="utf-8")
    _, _, err = wayroom(capsys, *arguments)
    assert "segments.csv" in err


def test_a_note_that_nothing_fails_in_any_more_is_still_counted(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    wayroom(capsys, *arguments)
    schedule.write_text(SCHEDULE.format(count=3), encoding="utf-8")
    status, out, _ = wayroom(capsys, *arguments)
    assert status == 0
    assert "Issue notes: 0, and 1 earlier ones kept" in out
    assert (
        f"Went on with {tmp_path / 'out' / 'issues.bcf'}: 1 of its 1 topics is ours, none of them raised again;"
        " 1 got a comment, 1 set to review." in out
    )


def test_what_became_of_earlier_notes_is_told_to_machines_where_there_are_some(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out", "--json")
    assert "earlier_notes" not in json.loads(wayroom(capsys, *arguments)[1])
    told = json.loads(wayroom(capsys, *arguments)[1])["earlier_notes"]
    assert told == {"file": str(tmp_path / "out" / "issues.bcf"), "topics": 1, "ours": 1, "still": 1, "commented": 0,
                    "to_review": 0, "set_back": 0, "reopened": 0, "closed_failing": 0, "new": 0}  # fmt: skip


def test_a_time_that_is_none_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path)
    status, _, err = wayroom(capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--now", "yesterday")
    assert (status, "is no time" in err) == (2, True)


def test_a_defect_of_ours_is_one_line_and_status_2(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> None:
        raise ZeroDivisionError

    assert cli.run_command(broken) == 2
    err = capsys.readouterr().err
    assert "a defect of its own" in err
    assert "Traceback" not in err
    monkeypatch.setenv("WAYROOM_TRACEBACK", "1")
    with pytest.raises(ZeroDivisionError):
        cli.run_command(broken)


def test_json_is_for_machines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model, schedule = site(tmp_path, 100)
    status, out, err = wayroom(
        capsys, "check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out", "--json"
    )
    summary = json.loads(out)
    assert (status, summary["exit_status"], summary["counts"]["carriers_read"]) == (1, 1, 2)
    assert err == ""


def test_it_is_quiet_in_a_pipe(tmp_path: Path) -> None:
    model, schedule = site(tmp_path, 3)
    command = [
        sys.executable,
        "-c",
        "from checker.cli import main; main()",
        "check",
        str(model),
        "--circuits",
        str(schedule),
    ]
    done = subprocess.run(  # noqa: S603 - our own command
        [*command, "--code", "bs-7671", "--out", str(tmp_path / "out")], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stderr == ""
    assert "\x1b" not in done.stdout


@pytest.mark.parametrize(
    ("what", "keys"),
    [
        (
            "carriers",
            {"key", "source", "kind", "family", "trade_size", "width_mm", "height_mm", "wall_mm", "inside_diameter_mm"},
        ),
        ("cables", {"key", "source", "family", "csa_mm2", "cores", "conductor", "diameter_mm"}),
        ("codes", {"key", "source"}),
        ("rules", {"key", "source", "distribution"}),
    ],
)
def test_lists_have_the_promised_attributes(capsys: pytest.CaptureFixture[str], what: str, keys: set[str]) -> None:
    status, out, _ = wayroom(capsys, "list", what, "--json")
    listed = json.loads(out)
    assert status == 0
    assert listed
    assert all(keys <= row.keys() and row["source"] for row in listed)
    _, plain, _ = wayroom(capsys, "list", what)
    assert all(row["key"] in plain for row in listed)


def test_explain_shows_the_manual_and_every_limit_with_its_source(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = wayroom(capsys, "explain", "fill.compartment")
    assert status == 0
    for words in ("Worked example", "space_factor = 0.45", "guidance", "BS 7671"):
        assert words in out


def test_help_and_version_read_well(capsys: pytest.CaptureFixture[str]) -> None:
    runner = CliRunner()
    shown = runner.invoke(cli.app, ["--help"], terminal_width=100).output
    for word in ("check", "list", "explain", "Exit status"):
        assert word in shown
    status, out, _ = wayroom(capsys, "--version")
    assert (status, out.strip()) == (0, "wayroom 0.1.0")

"""``wayroom compare`` as a user meets it: what it opens, what it writes, what it refuses."""

import csv
import hashlib
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from checker import cli
from tests.small_models import two_trunkings
from tests.test_cli import SCHEDULE, wayroom

FILES = ["changes.csv", "compare.html", "compare.json"]


def site(folder: Path, count: object) -> Path:
    """A project folder: two trunkings in a line, and a circuit of so many cables through both."""
    folder.mkdir()
    two_trunkings(folder / "model.ifc")
    (folder / "circuits.csv").write_text(SCHEDULE.format(count=count), encoding="utf-8")
    project = '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n'
    (folder / "wayroom.toml").write_text(project, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def checked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Results of 3 cables, and of 100: 100 · 11.95 mm² of 2304 mm² is 51.85 %, more than the 45 % that are allowed."""
    folder = tmp_path_factory.mktemp("checked")
    for name, count in (("old", 3), ("new", 100)):
        with pytest.raises(SystemExit):
            cli.main(["check", str(site(folder / f"{name}-site", count)), "--out", str(folder / name)])
    return folder


@pytest.fixture
def both(checked: Path, tmp_path: Path) -> tuple[Path, Path]:
    """Both results, beside the folders that were checked; a copy, for whoever spoils them."""
    shutil.copytree(checked, tmp_path, dirs_exist_ok=True)
    return tmp_path / "old", tmp_path / "new"


def snapshot(folder: Path) -> dict[str, str]:
    return {
        str(path): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.rglob("*")) if path.is_file()
    }


def test_two_folders_are_compared_and_what_is_new_ends_with_1(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = snapshot(tmp_path)

    status, out, err = wayroom(capsys, "compare", *both)

    assert (status, err) == (1, "")
    assert "Something is new or worse. Findings: 2 new, 1 newly unknown." in out
    assert (
        "fill.compartment: pass 1.6 % / 45 % → fail 51.8 % / 45 %" in out
    )  # 11.946 mm² each of 2304 mm²: 1.56 %, 51.849 %
    assert "cables changed: P1, cables 3 × h07v-u-2.5 → 100 × h07v-u-2.5" in out
    assert "Carriers: 2 in OLD = 2 same; 2 in NEW = 2 same." in out
    assert "Nothing was written" in out
    assert snapshot(tmp_path) == before


def test_the_other_way_round_it_is_fixed_and_the_same_twice_is_nothing_worse(
    both: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    old, new = both

    status, out, _ = wayroom(capsys, "compare", new, old)
    assert (status, "Nothing is worse. Findings: 2 fixed." in out) == (0, True)
    assert wayroom(capsys, "compare", old, old)[0] == 0


def test_the_files_are_whole_vouched_for_and_the_same_each_time(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "changes"

    assert wayroom(capsys, "compare", *both, "--out", out)[0] == 1
    first = snapshot(out)
    moved = [path.rename(tmp_path / f"renamed {path.name}") for path in both]
    assert wayroom(capsys, "compare", *moved, "--out", out)[0] == 1  # over its own files, from folders called otherwise

    assert sorted(path.name for path in out.iterdir()) == FILES
    assert snapshot(out) == first
    document = json.loads((out / "compare.json").read_bytes())
    assert (document["format"], document["format_version"], document["exit_status"]) == ("wayroom-comparison", 1, 1)
    for name, digest in document["outputs"].items():
        assert hashlib.sha256((out / name).read_bytes()).hexdigest() == digest
    assert sorted(document["outputs"]) == FILES[:2]


def test_the_table_has_a_row_for_each_finding_carrier_and_circuit_that_changed(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wayroom(capsys, "compare", *both, "--out", tmp_path / "changes")

    with (tmp_path / "changes" / "changes.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    document = json.loads((tmp_path / "changes" / "compare.json").read_bytes())

    counts = document["counts"]
    for sort in ("finding", "carrier", "circuit"):
        changed = sum(number for change, number in counts[f"{sort}s"].items() if change != "same")
        assert sum(row["sort"] == sort for row in rows) == changed == len(document[f"{sort}s"])
    assert [row["change"] for row in rows][:2] == ["new", "new"]
    assert rows[0]["cause"] == "what was checked"
    assert float(rows[0]["use_new"]) == pytest.approx(0.5187 / 0.45, rel=1e-3)


def test_json_is_one_object_on_standard_output(both: tuple[Path, Path], capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = wayroom(capsys, "compare", *both, "--json")

    document = json.loads(out)
    assert (status, err, document["exit_status"]) == (1, "", 1)
    assert document["counts"]["findings"]["new"] == 2
    assert sum(document["counts"]["findings"].values()) == document["old"]["findings"]


def test_models_are_checked_on_the_fly_and_say_the_same(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written = wayroom(capsys, "compare", *both, "--json")[1]

    status, checked, _ = wayroom(capsys, "compare", tmp_path / "old-site", tmp_path / "new-site", "--json")

    assert (status, checked) == (1, written)
    schedules = [part for name in ("old", "new") for part in ("--circuits", tmp_path / f"{name}-site" / "circuits.csv")]
    models = [tmp_path / f"{name}-site" / "model.ifc" for name in ("old", "new")]
    status, out, _ = wayroom(capsys, "compare", *models, "--code", "bs-7671", *schedules)
    assert (status, "2 new" in out) == (1, True)


def test_a_result_alone_can_be_named(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(both[0] / "result.json", tmp_path / "kept.json")

    assert wayroom(capsys, "compare", tmp_path / "kept.json", both[1])[0] == 1


def test_notes_that_people_wrote_in_are_no_set_that_disagrees(
    both: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    (both[0] / "issues.bcf").write_bytes(b"as somebody's program saved it")

    assert wayroom(capsys, "compare", *both)[0] == 1


def spoiled(change: Callable[[dict[str, object]], object]) -> Callable[[Path], None]:
    def spoil(folder: Path) -> None:
        document = json.loads((folder / "result.json").read_bytes())
        change(document)
        (folder / "result.json").write_text(json.dumps(document), encoding="utf-8")

    return spoil


def _tables(document: dict[str, object]) -> dict[str, list[dict[str, object]]]:
    return document["result"]  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (spoiled(lambda d: d.update(format_version=99)), "its format has the version 99, and 1 can be read"),
        (spoiled(lambda d: d.update(format_version=None)), "its format has the version None"),
        (spoiled(lambda d: d.update(format="other")), "it is no result of wayroom check"),
        (spoiled(lambda d: _tables(d).pop("carriers")), "it is broken at result.carriers"),
        (spoiled(lambda d: _tables(d)["findings"][0].update(value="much")), "it is broken at result.findings.0.value"),
        (spoiled(lambda d: _tables(d)["findings"][0].update(verdict="perhaps")), "a finding has no verdict that there is"),
        (spoiled(lambda d: _tables(d)["findings"].pop()), "its counts aren't those of its tables"),
        (spoiled(lambda d: _tables(d)["carriers"].append(_tables(d)["carriers"][0])), "two carriers have the same key"),
        (spoiled(lambda d: _tables(d)["carriers"].pop()), "which isn't there"),
        (lambda folder: (folder / "result.json").write_bytes(b'{"format": "wayroom-re'), "it is broken"),
        (lambda folder: (folder / "result.json").write_bytes(b"[" * 100_000), "it is broken"),
        (lambda folder: (folder / "result.json").write_bytes(b"\xff\xfe\x00"), "it is broken"),
        (lambda folder: (folder / "result.json").write_bytes(b"[]"), "it is no result of wayroom check"),
        (lambda folder: (folder / "segments.csv").write_bytes(b"edited"), "doesn't agree with what stands beside it: segments.csv"),
        (lambda folder: (folder / "routes.csv").unlink(), "doesn't agree with what stands beside it: routes.csv"),
        (lambda folder: (folder / "result.json").unlink(), "it has neither a result.json nor a wayroom.toml"),
        (shutil.rmtree, "there is no such file"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("which", [0, 1])
def test_what_is_no_whole_result_ends_with_2_and_says_what_to_do(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], which: int, spoil: Callable[[Path], None], told: str
) -> None:  # fmt: skip
    spoil(both[which])

    status, out, err = wayroom(capsys, "compare", *both, "--out", tmp_path / "changes")

    assert (status, out) == (2, "")
    assert str(both[which]) in err
    assert told in err
    assert len(err.strip().splitlines()) == 2  # what is wrong, and what to do
    assert not (tmp_path / "changes").exists()


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--code", "bs-7671"], "nothing is checked"),
        (["--circuits", "any.csv"], "nothing is checked"),
        (["--circuits", "a.csv", "--circuits", "b.csv", "--circuits", "c.csv"], "nothing is checked"),
    ],
)
def test_options_of_a_check_are_refused_where_nothing_is_checked(
    both: tuple[Path, Path], capsys: pytest.CaptureFixture[str], options: list[str], told: str
) -> None:
    status, _, err = wayroom(capsys, "compare", *both, *options)

    assert (status, told in err) == (2, True)


def test_two_schedules_need_two_models(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, _, err = wayroom(
        capsys, "compare", both[0], tmp_path / "new-site", "--circuits", "a.csv", "--circuits", "b.csv"
    )

    assert (status, "only one side is checked" in err) == (2, True)
    three = [part for name in "abc" for part in ("--circuits", f"{name}.csv")]
    status, _, err = wayroom(capsys, "compare", tmp_path / "old-site", tmp_path / "new-site", *three)
    assert (status, "it was given 3 times" in err) == (2, True)


@pytest.mark.parametrize("option", ["--code", "--out"])
def test_what_holds_for_both_sides_is_not_taken_twice(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str
) -> None:
    """A schedule may be given twice, one of OLD and one of NEW; of a code the last would be taken for both."""
    twice = (option, tmp_path / "first", option, tmp_path / "second")

    status, out, err = wayroom(capsys, "compare", *both, *twice)

    assert (status, out) == (2, "")
    assert err.startswith(f"{option}: it is given 2 times")
    assert not (tmp_path / "second").exists()


@pytest.mark.parametrize("out", ["old", "new", "old/within", "new/a/b", "old-site/..//old", "new-site/../new"])
def test_nothing_is_written_into_what_is_compared(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], out: str
) -> None:
    before = snapshot(tmp_path)

    status, _, err = wayroom(capsys, "compare", *both, "--out", tmp_path / out)

    assert (status, "which is compared" in err) == (2, True)
    assert snapshot(tmp_path) == before
    named = wayroom(capsys, "compare", *(path / "result.json" for path in both), "--out", tmp_path / out)
    assert named[0] == 2
    assert snapshot(tmp_path) == before


def test_a_folder_beside_a_kept_result_or_within_a_project_is_no_harm(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(both[0] / "result.json", tmp_path / "kept.json")
    site_new = tmp_path / "new-site"

    assert wayroom(capsys, "compare", tmp_path / "kept.json", both[1], "--out", tmp_path / "changes")[0] == 1
    assert wayroom(capsys, "compare", both[0], site_new, "--out", site_new / "changes")[0] == 1
    assert sorted(path.name for path in (site_new / "changes").iterdir()) == FILES
    assert wayroom(capsys, "compare", both[0], site_new, "--out", site_new)[0] == 2
    assert sorted(path.name for path in site_new.iterdir()) == ["changes", "circuits.csv", "model.ifc", "wayroom.toml"]


def test_nothing_is_written_over_an_input_or_over_what_somebody_else_wrote(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "kept"
    kept.mkdir()
    shutil.copy(both[0] / "result.json", kept / "compare.json")
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "changes.csv").write_bytes(b"somebody's")
    before = snapshot(tmp_path)

    assert wayroom(capsys, "compare", kept / "compare.json", both[1], "--out", kept)[0] == 2
    status, _, err = wayroom(capsys, "compare", *both, "--out", tmp_path / "other")

    assert (status, "no result of wayroom" in err) == (2, True)
    assert snapshot(tmp_path) == before


def test_a_run_that_breaks_off_leaves_the_earlier_files(
    both: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "changes"
    wayroom(capsys, "compare", *both, "--out", out)
    before = snapshot(out)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("checker.report.publish._write", full)
    status, _, err = wayroom(capsys, "compare", *reversed(both), "--out", out)

    assert (status, "can't be written" in err) == (2, True)
    assert snapshot(out) == before


@pytest.mark.parametrize("file", ["failing.csv", "report.html", "issues.bcf"])
def test_one_file_of_a_result_is_told_to_be_named_by_its_folder(
    checked: Path, file: str, capsys: pytest.CaptureFixture[str]
) -> None:
    exit_status, _, err = wayroom(capsys, "compare", checked / "old", checked / "new" / file)

    assert exit_status == 2
    assert "name the folder that wayroom check wrote" in " ".join(err.split())

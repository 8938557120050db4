import hashlib
import json
from pathlib import Path

import pytest

from checker.errors import OutputError
from checker.report import publish as publishing
from checker.report.publish import RESULT, check_out, disagreeing, publish


def written(out: Path, **files: bytes) -> None:
    named = {name.replace("_", "."): content for name, content in files.items()}
    outputs = {name: hashlib.sha256(content).hexdigest() for name, content in named.items()}
    publish(out, named, json.dumps({"outputs": outputs}).encode())


def test_files_are_written_and_vouched_for(tmp_path: Path) -> None:
    written(tmp_path / "a" / "b", one_csv=b"1", two_csv=b"2")
    assert sorted(path.name for path in (tmp_path / "a" / "b").iterdir()) == ["one.csv", "result.json", "two.csv"]
    assert disagreeing(tmp_path / "a" / "b") == ()


def test_what_else_is_in_the_folder_stays(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    written(tmp_path, one_csv=b"1")
    assert (tmp_path / "mine.txt").read_text(encoding="utf-8") == "mine"


def test_an_interruption_while_writing_leaves_the_earlier_results(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path, one_csv=b"old", two_csv=b"old")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}

    def stop(path: Path, _: bytes) -> None:
        if path.name == "two.csv":
            raise KeyboardInterrupt

    monkeypatch.setattr(publishing, "_write", stop)
    with pytest.raises(KeyboardInterrupt):
        written(tmp_path, one_csv=b"new", two_csv=b"new")
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_set_cut_off_between_renames_is_noticed_and_made_whole_by_the_next_run(tmp_path: Path) -> None:
    written(tmp_path, one_csv=b"old", two_csv=b"old")
    (tmp_path / "one.csv").write_bytes(b"new")
    assert disagreeing(tmp_path) == ("one.csv",)
    (tmp_path / ".wayroom-unfinished-x").mkdir()
    written(tmp_path, one_csv=b"new", two_csv=b"new")
    assert disagreeing(tmp_path) == ()
    assert not (tmp_path / ".wayroom-unfinished-x").exists()


@pytest.mark.parametrize("content", [b"no json", b"[]", b'{"outputs": 3}'])
def test_a_result_that_is_none_is_noticed(tmp_path: Path, content: bytes) -> None:
    (tmp_path / RESULT).write_bytes(content)
    assert disagreeing(tmp_path) == (RESULT,)


def test_an_output_folder_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").touch()
    with pytest.raises(OutputError, match="not a folder"):
        check_out(tmp_path / "out", [], [])


def test_a_file_of_somebody_elses_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "segments.csv").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="no result of wayroom"):
        check_out(tmp_path, [], ["segments.csv"])
    check_out(tmp_path, [], ["segments.csv"], merged=["segments.csv"])  # notes are gone on with, and kept whole
    (tmp_path / RESULT).write_text("{}", encoding="utf-8")
    with pytest.raises(OutputError, match="no result of wayroom"):
        check_out(tmp_path, [], ["segments.csv"])
    (tmp_path / RESULT).write_text('{"format": "wayroom-result", "format_version": 1, "outputs": {}}', encoding="utf-8")
    check_out(tmp_path, [], ["segments.csv"])


def test_a_first_run_cut_off_between_renames_can_be_run_again(tmp_path: Path) -> None:
    (tmp_path / "segments.csv").write_text("half a run", encoding="utf-8")
    (tmp_path / ".wayroom-unfinished-x").mkdir()
    check_out(tmp_path, [], ["segments.csv"])


def test_a_folder_where_a_result_goes_is_told_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "segments.csv").mkdir()
    with pytest.raises(OutputError, match="a folder stands"):
        check_out(tmp_path, [], ["failing.csv", "segments.csv"])


def test_no_input_is_written_over_even_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.csv").touch()
    (tmp_path / "segments.csv").symlink_to(tmp_path / "real.csv")
    with pytest.raises(OutputError, match="over an input"):
        check_out(tmp_path, [tmp_path / "real.csv"], ["segments.csv"])

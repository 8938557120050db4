"""``wayroom room`` as a user meets it: exit status, the object, messages, and that nothing is written."""

import json
from pathlib import Path

import pytest

from checker import cli
from tests.small_models import two_trunkings

SAMPLE = Path(__file__).parents[1] / "sample_models" / "vet_practice"
DATA = ("--service", "data", "--voltage", "48", "--loaded-conductors", "0")
KEYS = {
    "code", "from", "to", "cables", "service", "circuits", "verdict", "most", "fits", "bound_reached", "except_for", "reason", "hint",
    "assumed", "covers", "caution", "way", "compartment_picked", "route", "route_wanted", "length_m", "drops_m", "tightest", "fails",
    "stops", "already", "waived", "unknown", "judged", "alternatives", "alternatives_not_all",
}  # fmt: skip


def room(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as ended:
        cli.main(["room", *map(str, arguments)])
    out, err = capsys.readouterr()
    return int(ended.value.code or 0), out, err


def test_a_yes_is_exit_0_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    status, out, err = room(capsys, SAMPLE, "RACK", "DO-G04", "--cable", "cat6-practice-u-utp", *DATA, "--times", 27)
    assert (status, err) == (0, "")
    assert "PASS: 27 such circuits go in" in out
    assert "What stops circuit 28:" in out
    assert "licensed" in out
    assert not list(tmp_path.iterdir())


def test_a_no_is_exit_1(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = room(capsys, SAMPLE, "RACK", "DO-G04", "--cable", "cat6-practice-u-utp", *DATA, "--times", 28)
    assert status == 1
    assert "FAIL: 28 such circuits don't go in, by fill.compartment." in out
    assert "  27 go in." in out


def test_what_cant_be_said_is_exit_3_and_says_what_to_give(capsys: pytest.CaptureFixture[str]) -> None:
    # round FT-05 it passes FB-9, of which nobody said whether it keeps data apart from power
    command = ["RACK", "FT-06", "--cable", "cat6-practice-u-utp", *DATA, "--avoid", "FT-05"]
    status, out, _ = room(capsys, SAMPLE, *command)
    assert status == 3
    assert "--also rated_voltage_v=… (give what it is insulated for)" in out
    assert "As far as can be judged, 27 go in." in out
    status, out, _ = room(capsys, SAMPLE, "RACK", "DO-G04", "--cable", "cat6-practice-u-utp")
    assert status == 3
    assert "say --service" in out


@pytest.mark.parametrize(
    ("arguments", "where"),
    [
        (("DB-G", "SO-G99", "--cable", "h07v-u-2.5=3"), "TO: nothing in the model is called 'SO-G99'"),
        (("DB-G", "SO-G04"), "--cable: no cable is named"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.5=3", "--times", "0"), "write 1 or more"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.5=3", "--times", "201"), "ask for fewer"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.6=3"), "--cable: there is no cable 'h07v-u-2.6'"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.5=3", "--avoid", "FZ-1"), "--avoid: no carrier is called 'FZ-1'"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.5=3", "--also", "colour=red"), "--also: 'colour' is no column"),
        (("DB-G", "SO-G04", "--cable", "h07v-u-2.5=3", "--code", "none-such"), "none-such"),
    ],
)
def test_what_is_asked_wrongly_is_exit_2(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], where: str
) -> None:
    status, out, err = room(capsys, SAMPLE, *arguments)
    assert (status, out) == (2, "")
    assert where in err
    assert "Traceback" not in err


@pytest.mark.parametrize("ends", [("RACK", "DO-G04"), ("FAP", "SO-G04"), ("RACK", "SO-G01")])
def test_the_object_has_the_same_keys_whatever_the_answer(
    capsys: pytest.CaptureFixture[str], ends: tuple[str, str]
) -> None:
    status, out, _ = room(capsys, SAMPLE, *ends, "--cable", "cat6-practice-u-utp", *DATA, "--json")
    found = json.loads(out)
    assert found.keys() == KEYS
    assert {"pass": 0, "fail": 1, "unknown": 3}[found["verdict"]] == status
    assert all(isinstance(count, int) and count > 0 for count in found["judged"].values())


def test_a_model_and_a_schedule_without_a_project_file_do(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model = two_trunkings(tmp_path / "model.ifc")
    schedule = tmp_path / "circuits.csv"
    row = "D1,DB,S1,data,h07v-u-2.5,3,48,0\n"
    schedule.write_text(f"circuit,from,to,service,cable,count,voltage_v,loaded_conductors\n{row}", encoding="utf-8")
    command = [
        model,
        "DB",
        "S1",
        "--circuits",
        schedule,
        "--code",
        "bs-7671",
        "--cable",
        "h07v-u-2.5=10",
        *DATA,
        "--json",
    ]
    status, out, _ = room(capsys, *command)
    found = json.loads(out)
    # 2304 mm² · 45 % = 1036.8; a cable takes 11.95 mm²: 86 in all, 3 lie there, so 8 circuits of ten
    assert (status, found["verdict"], found["most"]) == (0, "pass", 8)
    status, out, _ = room(capsys, model, "DB", "S1", "--code", "bs-7671", "--cable", "h07v-u-2.5=10", *DATA, "--json")
    found = json.loads(out)
    assert (status, found["verdict"], found["most"], found["fits"]) == (3, "unknown", None, 8)
    assert "no schedule was given" in found["unknown"][0]["reason"]


def test_the_same_question_has_the_same_answer_to_the_byte(capsys: pytest.CaptureFixture[str]) -> None:
    command = [SAMPLE, "DB-G", "DENT-1", "--cable", "h07v-u-2.5=3", "--service", "power", "--voltage", 230, "--json"]
    assert room(capsys, *command) == room(capsys, *command)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ((), "WHERE, FROM and TO are missing"),
        ((str(SAMPLE),), "FROM and TO are missing"),
        ((str(SAMPLE), "RACK"), "TO is missing"),
        (("RACK", "DO-G04"), "one of WHERE, FROM and TO is missing, and there is no file or folder 'RACK'"),
    ],
)
def test_what_is_missing_is_named_with_an_example(
    capsys: pytest.CaptureFixture[str], given: tuple[str, ...], told: str
) -> None:
    status, out, err = room(capsys, *given, "--cable", "cat6-u-utp")
    assert (status, out) == (2, "")
    assert err.startswith(f"wayroom room: {told}\n")
    assert "as wayroom room model.ifc DB-1 S-12 --cable" in err

"""A distribution of somebody else's, installed as its users would: two rules, a code that extends one of ours, a catalogue."""

import csv
import importlib.metadata
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.small_models import SmallModel

SOURCE = Path(__file__).parent.parent / "plugin_distribution"
RULE_FILE, CODE_FILE, TABLE_FILE = "sweeping.py", "bakery.toml", "cables_bakery.csv"


def builds_without_more() -> bool:
    """Whether what builds the distribution is installed; else pip gets it, as it did for wayroom itself."""
    try:
        release = importlib.metadata.version("setuptools").split(".")
    except importlib.metadata.PackageNotFoundError:
        return False
    return (int(release[0]), int(release[1])) >= (70, 1)  # the first that makes wheels by itself


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the distribution installed in it, and nothing else."""
    folder = tmp_path_factory.mktemp("plugin")
    source = shutil.copytree(SOURCE, folder / "source", ignore=shutil.ignore_patterns("__pycache__"))
    target = folder / "site"
    more = ["--no-build-isolation"] if builds_without_more() else []
    command = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", *more, "--target", str(target), str(source)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=300)  # noqa: S603
    assert done.returncode == 0, done.stderr
    return target


def python(site: Path | None, cwd: Path, *arguments: object) -> subprocess.CompletedProcess[str]:
    """A process that has the distribution; None: that hasn't."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    if site is not None:
        environment["PYTHONPATH"] = str(site)
    command = [sys.executable, *map(str, arguments)]
    return subprocess.run(  # noqa: S603
        command, capture_output=True, text=True, encoding="utf-8", check=False, timeout=300, cwd=cwd, env=environment
    )


def wayroom(site: Path | None, cwd: Path, *arguments: object) -> subprocess.CompletedProcess[str]:
    return python(site, cwd, "-c", "from checker.cli import main; main()", *arguments)


def listed(site: Path | None, cwd: Path, what: str) -> dict[str, dict[str, object]]:
    done = wayroom(site, cwd, "list", what, "--json")
    assert done.returncode == 0, done.stderr
    return {row["key"]: row for row in json.loads(done.stdout)}


def bakery(folder: Path, *counts: int) -> list[object]:
    """What to check: a tray 100 mm wide, between a board and an oven, with circuits of so many of the catalogue's cables of 10 mm."""
    model = SmallModel()
    profile = model.profile("IfcRectangleProfileDef", 100.0, 50.0)
    model.carrier("K1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), profile, "CABLETRAYSEGMENT")
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 300.0, 0.0))
    model.element("IfcOutlet", "OVEN", (4000.0, 200.0, 0.0))
    model.write(folder / "model.ifc")
    rows = [f"O{number},DB,OVEN,power,bakery-oven-4,{count}" for number, count in enumerate(counts, start=1)]
    text = "\n".join(["circuit,from,to,service,cable,count", *rows, ""])
    (folder / "circuits.csv").write_text(text, encoding="utf-8")
    return ["check", "model.ifc", "--circuits", "circuits.csv", "--code", "bakery", "--out", "out"]


def findings(folder: Path) -> dict[str, dict[str, str | float]]:
    result = json.loads((folder / "out" / "result.json").read_text(encoding="utf-8"))
    return {row["rule"]: row for row in result["result"]["findings"]}


def test_its_rule_code_and_cable_are_listed_with_their_distribution(site: Path, tmp_path: Path) -> None:
    rules = listed(site, tmp_path, "rules")

    def codes_of(rule: str) -> set[str]:
        """By whatever else is installed there may be more."""
        codes = rules[rule]["codes"]
        assert isinstance(codes, list)
        return set(codes)

    assert rules["sweeping.tray"]["distribution"] == "wayroom-bakery"
    assert "bakery" in codes_of("sweeping.tray")
    assert rules["fill.area"]["distribution"] == "wayroom"
    assert {"iec-60364", "bakery"} <= codes_of("fill.area")  # a code may run rules of others
    assert rules["sharing.carrier"]["distribution"] == "wayroom-bakery"
    assert {"bs-7671", "iec-60364", "bakery"} <= codes_of("grouping.rating")  # taken from the code that it extends
    assert "nfpa-70" not in codes_of("grouping.rating")
    assert "bakery" not in codes_of("fill.tray")
    code = listed(site, tmp_path, "codes")["bakery"]
    assert (code["distribution"], code["extends"]) == ("wayroom-bakery", "iec-60364")
    assert listed(site, tmp_path, "cables")["bakery-oven-4"]["diameter_mm"] == 10


def test_where_it_is_not_installed_nothing_of_it_is_there(tmp_path: Path) -> None:
    assert "sweeping.tray" not in listed(None, tmp_path, "rules")
    assert "bakery" not in listed(None, tmp_path, "codes")


def test_its_page_of_the_manual_is_shown(site: Path, tmp_path: Path) -> None:
    done = wayroom(site, tmp_path, "explain", "sweeping.tray")
    assert done.returncode == 0
    told = " ".join(done.stdout.split())  # lines break as the terminal is wide
    assert "can be swept off it?" in told
    assert "free_share = 0.25" in told
    assert "From the distribution wayroom-bakery." in told
    assert "Limits under bakery, House guide of the bakery" in told


def test_explaining_a_rule_says_what_its_code_has_otherwise(site: Path, tmp_path: Path) -> None:
    told = " ".join(wayroom(site, tmp_path, "explain", "grouping.rating", "--code", "bakery").stdout.split())
    assert "extending IEC 60364" in told
    assert (
        "light_share = 0.25 (guidance; house guide of the bakery, first edition, 4.1; confidence: high) [iec-60364 has 0.3]"
        in told
    )
    assert told.count("[iec-60364 has") == 1
    code = listed(site, tmp_path, "codes")["bakery"]
    assert code["differs"] == [
        "fill.area space_factor: 0.4, none there",
        "fill.tray: not asked",
        "grouping.rating light_share: 0.25, 0.3 there",
        "sweeping.tray: asked besides",
        "sharing.carrier: asked besides",
        "sizes thickest_wall_mm: 2.5, 3 there",
    ]


def test_its_rule_is_asked_under_its_code_of_its_cable(site: Path, tmp_path: Path) -> None:
    done = wayroom(site, tmp_path, *bakery(tmp_path, 8))
    assert done.returncode == 1, done.stderr
    found = findings(tmp_path)["sweeping.tray"]
    assert found["verdict"] == "fail"
    assert found["value"] == pytest.approx(1 - 8 * 10 / 100)
    assert found["limit"] == 0.25
    with (tmp_path / "out" / "failing.csv").open(encoding="utf-8", newline="") as stream:
        assert [(row["tag"], row["rule"]) for row in csv.DictReader(stream)] == [("K1", "sweeping.tray")]


def test_its_rule_about_a_carrier_is_asked_too(site: Path, tmp_path: Path) -> None:
    done = wayroom(site, tmp_path, *bakery(tmp_path, 1, 1, 1, 1))
    assert done.returncode == 1, done.stderr
    found = findings(tmp_path)["sharing.carrier"]
    assert (found["verdict"], found["value"], found["limit"]) == ("fail", 4, 3)  # four circuits, and 3 are allowed
    assert found["reason"] == "4 circuits share it: O1, O2, O3, O4"


def test_the_result_names_the_code_that_its_code_extends(site: Path, tmp_path: Path) -> None:
    wayroom(site, tmp_path, *bakery(tmp_path, 1))
    result = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))["result"]
    assert result["code_title"].startswith(
        "House guide of the bakery (first edition, invented for tests), extending IEC 60364"
    )
    assert [row["name"] for row in result["files"] if row["role"] == "code"] == ["bakery.toml", "iec-60364.toml"]
    # without a rule about trays that the code left out, none of ours about fill answers for a tray
    assert "fill.tray" not in findings(tmp_path)


def test_a_project_can_ask_more_than_its_code_and_no_less(site: Path, tmp_path: Path) -> None:
    # free: 1 − 6 · 10 / 100 = 0.40; with sides of 2 mm, the most that the table of depths says, 1 − 60 / 96 = 0.375
    command = [*bakery(tmp_path, 6), "wayroom.toml"]
    own = '[limits."sweeping.tray"]\nfree_share = {}\nreason = "a broad brush"\n'
    for share, outcome in ((0.35, "pass"), (0.38, "unknown"), (0.45, "fail")):
        (tmp_path / "wayroom.toml").write_text(own.format(share), encoding="utf-8")
        done = wayroom(site, tmp_path, *command)
        assert findings(tmp_path)["sweeping.tray"]["verdict"] == outcome, done.stderr
    (tmp_path / "wayroom.toml").write_text(own.format(0.20), encoding="utf-8")
    done = wayroom(site, tmp_path, *command)
    assert done.returncode == 2
    assert "looser than the code's 0.25" in done.stderr


def test_its_author_asks_it_cases_as_we_do(site: Path, tmp_path: Path) -> None:
    files = sorted((SOURCE / "cases").glob("*.toml"))
    assert len(files) == 2
    cases = sum(file.read_text(encoding="utf-8").count("[[case]]") for file in files)
    done = python(site, tmp_path, SOURCE / "cases" / "ask.py", SOURCE / "cases")
    assert (done.returncode, done.stdout.strip()) == (0, f"{cases} cases hold"), done.stderr


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ("value = 0.80", "value = 0.79", "more than enough of the width is free"),
        ('outcome = "fail"', 'outcome = "pass"', "too little is free"),
        ("exactly at the limit", "at the limit", "sweeping.tray: no case shows: exactly at the limit"),
    ],
)
def test_a_case_that_does_not_hold_is_named(site: Path, tmp_path: Path, right: str, wrong: str, words: str) -> None:
    text = (SOURCE / "cases" / "sweeping.tray.toml").read_text(encoding="utf-8")
    assert text.count(right) == 1
    (tmp_path / "sweeping.tray.toml").write_text(text.replace(right, wrong), encoding="utf-8")
    done = python(site, tmp_path, SOURCE / "cases" / "ask.py", tmp_path)
    assert done.returncode == 1
    assert words in done.stderr


@pytest.mark.parametrize(
    ("file", "right", "wrong", "words"),
    [
        (RULE_FILE, "EXACTLY = 1e-12", "EXACTLY = 1 / 0", "can't be loaded: division by zero"),
        (RULE_FILE, "limits: SweepingLimits", "limits: float", "its signature is"),
        (RULE_FILE, "sweeping.tray", "fill.area", "has a rule of the same key"),
        (CODE_FILE, '"sweeping.tray"', '"sweeping.duct"', "the rule sweeping.duct, which isn't there"),
        (CODE_FILE, 'key = "bakery"', 'key = "bs-7671"', "has a code of the same key"),
        (CODE_FILE, 'extends = "iec-60364"', 'extends = "iec-1"', "it extends the code iec-1, which isn't there"),
        (CODE_FILE, 'extends = "iec-60364"', 'extends = "bakery"', "circle: bakery → bakery"),
        (CODE_FILE, '["fill.tray"]', '["fill.none"]', "leaves out fill.none, which iec-60364 doesn't ask"),
        (CODE_FILE, "free_share", "free", "free_share"),
        (TABLE_FILE, '"house guide of the bakery, table 1 (invented)"', "", "names no source"),
        (TABLE_FILE, "bakery-oven-4", "h07v-u-2.5", "has a cable of the same key"),
        (TABLE_FILE, ",10,", ",ten,", "diameter_mm = 'ten' isn't a number"),
        (TABLE_FILE, "stranded", "strand", "strands = 'strand' is none of its words"),
        (TABLE_FILE, "family,", "", "it has another number of cells than the header"),
        (TABLE_FILE, "family", "sort", "it lacks the column family"),
        (
            RULE_FILE,
            "taken / subject.width_mm",
            "taken / 0",
            "asked about compartment 1 of K1: it raised ZeroDivisionError",
        ),
        (RULE_FILE, "CarrierKind.TRAY, CarrierKind.LADDER", "'tray'", "in kinds 'tray' is text"),
        (RULE_FILE, "free_share: Limit", "free_share: float", "in SweepingLimits there is free_share: float"),
        (CODE_FILE, 'extends = "iec-60364"', 'extends = "iec60364"', "did you mean iec-60364?"),
    ],
)
def test_one_that_is_broken_stops_the_run_and_is_named(
    site: Path, tmp_path: Path, file: str, right: str, wrong: str, words: str
) -> None:
    broken = shutil.copytree(site, tmp_path / "site", ignore=shutil.ignore_patterns("__pycache__"))
    target = broken / "wayroom_bakery" / file
    text = target.read_text(encoding="utf-8")
    assert right in text
    target.write_text(text.replace(right, wrong), encoding="utf-8")
    done = wayroom(broken, tmp_path, *bakery(tmp_path, 1))
    assert done.returncode == 2
    assert words in done.stderr
    assert "wayroom-bakery" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()

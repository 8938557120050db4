"""The README's commands are the ones that CI runs, and what it promises is there."""

import re
import subprocess
import tomllib

from checker.read.project import Project
from checker.read.schedule import KNOWN
from tests.conftest import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_first_fenced_block_is_the_main_command_on_one_line() -> None:
    first = re.search(r"```sh\n(.*?)```", README, re.DOTALL)
    assert first is not None
    lines = first[1].splitlines()
    assert len(lines) == 1
    assert lines[0].endswith("wayroom check sample_models/vet_practice")
    assert "exit status 1" in README[: first.start()]


def test_ci_runs_the_readmes_test_command() -> None:
    command = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)[1].strip()
    assert command in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_the_project_file_that_it_shows_can_be_read() -> None:
    shown = re.search(r"```toml\n(.*?)```", README, re.DOTALL)
    assert shown is not None
    project = Project.model_validate(tomllib.loads(shown[1]))
    assert len(project.types[0].compartments) == 3


def test_the_columns_that_it_names_are_known_to_the_reader() -> None:
    table = README[README.index("| column | meaning |") : README.index("Further columns are kept")]
    rows = [line for line in table.splitlines() if line.startswith("| `")]
    named = {name for row in rows for name in re.findall(r"`([a-z_0-9]+)`", row.split("|")[1])}
    assert named
    assert named <= set(KNOWN)


def test_the_pictures_are_there() -> None:
    pictures = re.findall(r"!\[[^\]]{20,}\]\(([^)]+)\)", README)
    assert pictures
    assert all((ROOT / picture).is_file() for picture in pictures)


def test_the_top_level_holds_only_what_it_should() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "checker", "rules", "sample_models", "tests"}
    # what is checked in: whoever tries the commands here leaves results of their own beside it
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)  # noqa: S607
    there = {name.partition("/")[0] for name in listed.stdout.split("\0") if name}
    if not there:  # a copy without its history, which has what was made in it besides
        there = {path.name for path in ROOT.iterdir()} - {"build", "wayroom-out", "wayroom.egg-info"}
    assert {"README.md", "checker", "tests"} <= there
    assert {name for name in there if not name.startswith(".")} <= allowed

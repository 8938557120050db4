"""Reads small models in tests, and says what was said of them."""

from pathlib import Path

from checker.model import Carrier, Installation, Problem, ProblemKind
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from tests.small_models import SmallModel


def read(folder: Path, model: SmallModel, project: str = "", schedule: str = "") -> Installation:
    """Reads a model with a project file and a schedule."""
    paths = [model.write(folder / "model.ifc")]
    if project:
        paths.append(folder / "wayroom.toml")
        paths[-1].write_text(project, encoding="utf-8")
    table = None
    if schedule:
        table = folder / "circuits.csv"
        table.write_text(schedule, encoding="utf-8")
    return read_installation(find_sources(paths, table), {})


def read_file(path: Path) -> Installation:
    """Reads a file as it is."""
    return read_installation(find_sources([path], None), {})


def carrier_of(installation: Installation, name: str) -> Carrier:
    """The carrier of a tag or name."""
    found = [item for item in installation.carriers if name in {item.place.tag, item.place.name}]
    assert len(found) == 1, f"{len(found)} carriers are called {name}"
    return found[0]


def said(installation: Installation, words: str, kind: ProblemKind | None = None) -> list[Problem]:
    """Problems that contain some words."""
    return [item for item in installation.problems if words in item.what and kind in {None, item.kind}]

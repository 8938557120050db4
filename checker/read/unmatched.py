"""Entries of the project file that speak of nothing there is: a slip in a name would otherwise go unseen."""

from collections.abc import Iterable

from checker.model import Circuit, Problem
from checker.model.texts import listed
from checker.model.words import wildcard
from checker.read.model import ModelContents
from checker.read.project import FILE_NAME, names_of
from checker.read.sources import Sources


def unmatched_types(sources: Sources, contents: list[ModelContents]) -> list[Problem]:
    """Entries of the project file that speak of no carrier, or of none that an earlier entry leaves to them.

    A slip in the name, or in the order, would otherwise go unseen.
    """
    specs = sources.project.types
    there = {names_of(carrier.type_name, carrier.place) for model in contents for carrier in model.carriers}
    takers: dict[tuple[str, ...], int] = {}
    found = []
    for number, spec in enumerate(specs):
        fit = sorted(names for names in there if spec.fits(names))
        before = sorted({takers[names] for names in fit if names in takers})
        if not fit:
            what, hint = (
                "no carrier of the models has such a type",
                "compare the name with the column type of segments.csv",
            )
        elif all(names in takers for names in fit):
            entries = listed([f"[[types]] {earlier + 1} ({specs[earlier].name!r})" for earlier in before])
            goes = "goes" if len(before) == 1 else "go"
            what, hint = (
                f"all carriers that it fits are taken by {entries}, which {goes} before",
                "put the narrower entry first",
            )
        else:
            takers |= {names: number for names in fit if names not in takers}
            continue
        found.append(Problem(f"{FILE_NAME}, [[types]] {spec.name!r}", what, "so what it says is used nowhere", hint))
    return found


def unmatched_entries(sources: Sources, contents: list[ModelContents]) -> list[Problem]:
    """The same of entries of the other tables that speak of the models."""
    used = {entry for model in contents for entry in model.used}
    project = sources.project
    told = (
        (
            "properties",
            [f"{spec.set} / {spec.property}" for spec in project.properties],
            "no property of the models fits it",
        ),
        ("classes", [spec.kind for spec in project.classes], "no element of the models fits it"),
        ("ignore", [spec.reason for spec in project.ignore], "no element of the models fits it"),
        ("fittings", [spec.name for spec in project.fittings], "no fitting of the models fits it"),
    )
    return [
        Problem(f"{FILE_NAME}, [[{table}]] {number + 1} ({name})", what, "so what it says is used nowhere",
                "compare its patterns, and blanks in them, with the model")
        for table, names, what in told
        for number, name in enumerate(names)
        if (table, number) not in used
    ]  # fmt: skip


def unmatched_terminations(sources: Sources, circuits: Iterable[Circuit]) -> list[Problem]:
    """Declared terminals of equipment that no circuit ends at."""
    names = {name for circuit in circuits for name in (circuit.origin, *circuit.calls)}
    return [
        Problem(f"{FILE_NAME}, [[terminations]] {spec.name!r}", "no circuit begins or ends at such a place",
                "so what it says is used nowhere", "compare the name with the columns from and to of the schedule")
        for spec in sources.project.terminations
        if not any(wildcard(spec.name).fullmatch(name) for name in names)
    ]  # fmt: skip

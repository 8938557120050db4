"""By what two results differ as a whole: code, edition, tables, version, files."""

from collections import Counter
from collections.abc import Iterable, Mapping

from checker.compare.carriers import as_point
from checker.compare.matching import Match
from checker.compare.places import common_shift, extent_of, shift_mm
from checker.compare.tables import Difference, Side
from checker.model.texts import listed
from checker.result.archive import newest_time, utc
from checker.result.tables import Result


def side_of(result: Result) -> Side:
    """What a comparison says of one of its results."""
    return Side(
        result.project_name,
        result.project_key,
        result.code,
        result.code_title,
        result.version,
        result.created,
        result.revision,
        result.status,
        result.files,
        len(result.findings),
        len(result.carriers),
        len(result.circuits),
    )


def differences(old: Result, new: Result, match: Match) -> tuple[Difference, ...]:
    """All of them; those by which verdicts may differ first."""
    return (*figures(old, new), *_others(old, new, match))


def figures(old: Result, new: Result) -> tuple[Difference, ...]:
    """Differences of the figures that judge: code, edition, tables, version."""
    told = [*code_figures(old, new)]
    tables = _changed(_files(old, "table"), _files(new, "table"))
    if tables:
        told.append(f"other tables: {listed(tables)}")
    if old.version != new.version:
        told.append(f"other version of Wayroom: {old.version} → {new.version}")
    return tuple(Difference(text, is_figures=True) for text in told)


def code_figures(old: Result, new: Result) -> Iterable[str]:
    """How the codes differ, in words."""
    if old.code != new.code:
        yield f"other code: {old.code} ({old.code_title}) → {new.code} ({new.code_title})"
    elif old.code_title != new.code_title:
        yield f"other edition of {new.code}: {old.code_title} → {new.code_title}"
    elif changed := _changed(_files(old, "code"), _files(new, "code")):
        yield f"other figures of the code {new.code}, under the same title: {listed(changed)}"


def other_project(old: Result, new: Result) -> bool:
    """Whether the project file is another one, or only one of both had one."""
    return sorted(_files(old, "project").values()) != sorted(_files(new, "project").values())


def same_inputs(old: Result, new: Result) -> bool:
    """Whether models, schedule and project file are the same, byte for byte."""
    roles = ("model", "schedule", "project")
    before, after = ([sorted(_files(result, role).values()) for role in roles] for result in (old, new))
    return before == after and any(before)


def _files(result: Result, role: str) -> dict[str, str]:
    return {file.name: file.sha256 for file in result.files if file.role == role}


def _changed(old: Mapping[str, str], new: Mapping[str, str]) -> list[str]:
    return sorted(name for name in old.keys() | new.keys() if old.get(name) != new.get(name))


def _others(old: Result, new: Result, match: Match) -> Iterable[Difference]:
    if old.project_key != new.project_key:
        yield Difference(
            f"other project key: {old.project_key or 'none'} → {new.project_key or 'none'}; findings are matched by rule and place"
        )
    if old.carriers and not match.new_of:
        yield Difference(
            "no carrier of OLD is in NEW: they may be of different buildings, or one of them has no carriers"
        )
    if other_project(old, new):
        yield Difference("the project file is another, which may have other limits, waivers or answers")
    before, after = (sorted(_files(result, "model").values()) for result in (old, new))
    if before == after and before:
        same = "models, schedule and project file" if same_inputs(old, new) else "the models"
        yield Difference(f"{same} are the same, byte for byte")
    yield from _unread(old, new, match)
    if old.near_m != new.near_m:
        told = ["not asked" if near is None else f"{near:g} m" for near in (old.near_m, new.near_m)]
        yield Difference(f"ways that are a little longer (near_m): {told[0]} → {told[1]}")
    times = [utc(newest_time(result.files) or result.created) for result in (old, new)]
    if times[0] is not None and times[1] is not None and times[1] < times[0]:
        yield Difference("the model of NEW is older than that of OLD: they may be the wrong way round")
    if (shift := _shift(old, new, match)) is not None:
        yield Difference(f"all carriers that are in both moved by the same, in mm: {shift}")


def _unread(old: Result, new: Result, match: Match) -> Iterable[Difference]:
    for whose, one, other in (("OLD", new, old), ("NEW", old, new)):
        if without_schedule(one, other):
            yield Difference(f"{whose} was checked without a schedule")
    if missing := unread_models(old, new, match):
        yield Difference(f"models of OLD that NEW was checked without: {listed(sorted(missing))}")


def unread_models(old: Result, new: Result, match: Match) -> set[str]:
    """Names of models of OLD that NEW doesn't have: neither their name, nor any carrier of theirs, nor their project.

    Models of one building often have one project in common, so by that only as many are there as NEW has that are no others'.
    """
    models = [[file for file in result.files if file.role == "model"] for result in (old, new)]
    names = [{file.name for file in side} for side in models]
    of_new = {row.key: row.place.model for row in new.carriers}
    shared = [(row.place.model, of_new[match.new_of[row.key]]) for row in old.carriers if row.key in match.new_of]
    both = names[0] & names[1]
    found = (both | {one for one, _ in shared}, both | {other for _, other in shared})
    left = [[file for file in side if file.name not in taken] for side, taken in zip(models, found, strict=True)]
    wanted, offered = (Counter(file.ifc_project for file in side if file.ifc_project) for side in left)
    return {file.name for file in left[0] if not 0 < wanted[file.ifc_project] <= offered[file.ifc_project]}


def without_schedule(old: Result, new: Result) -> bool:
    """Whether NEW was checked without a schedule and OLD with one, so that which circuits there are isn't known."""
    return bool(_files(old, "schedule")) and not _files(new, "schedule")


def _shift(old: Result, new: Result, match: Match) -> str | None:
    extents = {row.key: extent for row in new.carriers if (extent := extent_of(row)) is not None}
    shifts = [
        shift_mm(before, extents[match.new_of[row.key]])
        for row in old.carriers
        if match.new_of.get(row.key) in extents and (before := extent_of(row)) is not None
    ]
    shift = common_shift(shifts)
    return None if shift is None else as_point(shift)

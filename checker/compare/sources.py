"""Of what both sides are: documents, model times and files with their SHA-256, as lines and as pairs."""

from collections.abc import Iterable

from checker.compare.tables import Comparison, Side
from checker.model import SourceFile
from checker.result.archive import newest_time
from checker.result.provenance import TOLD, digest_of, is_time_given


def facts_of(side: Side) -> dict[str, str]:
    """What is said of a side and of each file, by what it is called; a file that judges is one of many, told together."""
    is_given = is_time_given(side.created, side.files)
    facts = {
        "project": f"{side.project_name} ({side.project_key})" if side.project_name else side.project_key,
        "revision": side.revision,
        "status": side.status,
        "time of the newest model": newest_time(side.files),
        "time that the run was asked to go by": side.created if is_given else "",
        "code of practice": f"{side.code}: {side.code_title}",
        "version of Wayroom": side.version,
    }
    for role in TOLD:
        facts |= {f"{role} {file.name}": _file(file) for file in side.files if file.role == role}
    figures = [file for file in side.files if file.role not in TOLD]
    if figures:
        facts["files of code and tables"] = f"{len(figures)}, together SHA-256 {digest_of(figures)}"
    return facts


def _file(file: SourceFile) -> str:
    return f"SHA-256 {file.sha256}{f', of {file.timestamp}' if file.timestamp else ''}"


def source_lines(side: Side) -> Iterable[str]:
    """A line for each fact that there is."""
    return (f"{what}: {text}" for what, text in facts_of(side).items() if text)


def source_pairs(comparison: Comparison) -> Iterable[tuple[str, str, str]]:
    """Each fact with what it is of OLD and of NEW; empty where a side doesn't have it."""
    old, new = facts_of(comparison.old), facts_of(comparison.new)
    for what in [*old, *(what for what in new if what not in old)]:
        if old.get(what) or new.get(what):
            yield what, old.get(what, ""), new.get(what, "")

"""Reading an earlier file of notes, whoever wrote or changed it: leniently, and without trusting it.

Nothing is ever extracted, no entity is resolved, nothing is fetched. Names may have backslashes, folder entries may be
missing and a folder need not be named as its topic. What isn't understood is kept as it is, and told.
"""

from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from lxml import etree

from checker.errors import InputError
from checker.history.entries import HELD, HINT, entries, shown
from checker.history.topic import Topic, parsed
from checker.model import Problem, ProblemKind
from checker.result.archive import Content, File, content_of
from checker.result.dialect import DIALECTS, V2, V3, Dialect
from checker.result.note_state import NO_SEAL

#: Far more elements and attributes than notes have: a tree takes thirty times as much memory as its text, and all topics are held at once.
MOST_NODES = 4_000_000
#: So many problems are told one by one.
MOST_TOLD = 50
_TOPIC = "/markup.bcf"


@dataclass(frozen=True, slots=True)
class Previous:
    """An earlier file: its entries by path, in their order (folders end with ``/``), the topics among them, and what is odd."""

    files: dict[str, Content]
    topics: list[Topic] = field(default_factory=list)
    dialect: Dialect = V2
    problems: list[Problem] = field(default_factory=list)


def read_previous(data: File, where: str = "previous notes", dialect: Dialect | None = None) -> Previous:
    """Reads a file of BCF.

    Args:
        data: The file.
        where: What messages call it.
        dialect: The version that it must have; None: any that we know.

    Raises:
        InputError: It is no zip archive, damaged, far too big, or of another version of BCF.
    """
    files, problems = entries(data, where)
    _check_nodes(files, where)
    found = _dialect_of(files, where)
    if dialect is not None and found is not dialect:
        raise _other_version(where, found.version, dialect.version)
    topics: list[Topic] = []
    by_guid: dict[str, str] = {}
    for path, content in files.items():
        if not path.lower().endswith(_TOPIC):
            continue
        topic = Topic.read(path, content_of(content), found)
        if topic is None:
            problems.append(_unread(where, path))
            continue
        first = by_guid.setdefault(topic.guid.lower(), path)
        if first != path:
            problems.append(_same_guid(where, path, first))
        topics.append(topic)
    return Previous(files, topics, found, _at_most(problems, where))


@dataclass(frozen=True, slots=True)
class Known:
    """Of a topic what others must know.

    ``held`` and ``newest`` are as those of ``Topic``; ``has_ids``: whether its text has any; ``projects``: GlobalIds of its models'
    IfcProject; ``status`` as it stands there.
    """

    guid: str
    is_ours: bool
    held: frozenset[str]
    has_ids: bool
    project_seal: str
    projects: frozenset[str]
    newest: tuple[str, str] = ("", "")
    status: str = ""


class KnownNotes(NamedTuple):
    """Of a file what others must know: its topics, what is odd in it, and the id of its project; empty where it has none."""

    topics: tuple[Known, ...]
    problems: tuple[Problem, ...]
    project_id: str


@lru_cache(maxsize=1)  # a run asks several times, and to read a thousand topics takes a while
def read_known(data: File, where: str = "previous notes") -> KnownNotes:
    """What is known of the topics of a file, and what is odd in it, as ``read_previous`` has it; all of it can be shared."""
    before = read_previous(data, where)
    return KnownNotes(tuple(map(_known, before.topics)), tuple(before.problems), _project_id(before.files))


def _project_id(files: dict[str, Content]) -> str:
    content = next((content for path, content in files.items() if path.lower() == "project.bcfp"), b"")
    try:
        project = parsed(content_of(content)).getroot().find("Project")
    except etree.XMLSyntaxError:
        return ""
    return "" if project is None else project.get("ProjectId", "").strip()


def _known(topic: Topic) -> Known:
    state = topic.description.state
    seal = state.project_seal if state else NO_SEAL
    projects = frozenset(project for project, _ in topic.models() if project)
    held = frozenset(topic.held())
    return Known(topic.guid, topic.is_ours, held, state is not None, seal, projects, topic.newest(), topic.status)


def check_version(data: File, where: str, dialect: Dialect | None) -> Dialect:
    """Makes sure that a file can be gone on with, before anything that takes long.

    Args:
        data: The file.
        where: What messages call it.
        dialect: The version that it must have; None: any that we know.

    Returns:
        The version that it has.

    Raises:
        InputError: As ``read_previous``.
    """
    files, _ = entries(data, where)
    _check_nodes(files, where)
    found = _dialect_of(files, where)
    if dialect is not None and found is not dialect:
        raise _other_version(where, found.version, dialect.version)
    return found


def _check_nodes(files: dict[str, Content], where: str) -> None:
    """Makes sure that what will be parsed can be held."""
    total = 0
    for path, content in files.items():
        name = path.lower()
        if not name.endswith(HELD):
            continue
        text = content_of(content)
        nodes = text.count(b"<") + text.count(b"=")
        total += nodes if name.endswith(_TOPIC) else 0
        if max(nodes, total) > MOST_NODES:
            raise InputError(where, f"{shown(path)} in it makes it hold far more than issue notes do", HINT)


def _at_most(problems: list[Problem], where: str) -> list[Problem]:
    left = len(problems) - MOST_TOLD
    if left <= 0:
        return problems
    more = Problem(where, "more in it is odd", "only so much is told one by one; what can be kept is kept",
                   "open it in the program that wrote it, and save it again", elements=left)  # fmt: skip
    return [*problems[:MOST_TOLD], more]


def _dialect_of(files: dict[str, Content], where: str) -> Dialect:
    """The version of a file. One that doesn't say it has the one whose list of words is in it, else the older."""
    content = next((content for path, content in files.items() if path.lower() == "bcf.version"), None)
    if content is None:
        return V3 if any(path.lower() == "extensions.xml" for path in files) else V2
    try:
        version = parsed(content_of(content)).getroot().get("VersionId", "").strip()
    except etree.XMLSyntaxError:
        raise InputError(where, "its bcf.version can't be read", HINT) from None
    if version not in DIALECTS:
        known = " and ".join(DIALECTS)
        raise InputError(
            where,
            f"it is BCF {version or 'of no version'}, and {known} can be gone on with",
            f"save it as BCF {next(iter(DIALECTS))} in the program that it comes from, or start afresh without it (--fresh)",
        )
    return DIALECTS[version]


def _other_version(where: str, theirs: str, ours: str) -> InputError:
    return InputError(
        where,
        f"it is BCF {theirs}, and these notes are {ours}",
        f"say --bcf {theirs} to go on with it, save it as BCF {ours} in the program that it comes from, "
        "or start afresh without it (--fresh)",
    )


def _unread(where: str, path: str) -> Problem:
    why = "it isn't XML, or has no topic with a Guid; it is kept as it is"
    hint = "open it in the program that wrote it, and save it again"
    return Problem(f"{where}, {shown(path)}", "no topic can be read in it", why, hint)


def _same_guid(where: str, path: str, first: str) -> Problem:
    return Problem(f"{where}, {shown(path)}", f"its topic has the same Guid as that in {shown(first)}",
                   "the first is gone on with, this one is kept as it is", "delete one of the two", ProblemKind.ASSUMPTION)  # fmt: skip

"""This run's notes into those of an earlier one: nothing that a person wrote is lost; the same again changes nothing.

Topics are matched on their Guid. Those that aren't ours are copied byte for byte. In ours a person's title, text and
all else stays; we keep our own lines in the description up to date, and add at most one comment on what has changed
and one where a closed topic still fails. Viewpoints stay as they are; where a topic has grown by elements
that none of them selects, or where these have moved, it gets one more. Where an element was deleted and made again, its
new topic is related to the old one.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from lxml import etree

from checker.history.change import Change
from checker.history.identity import is_minted, topic_guid
from checker.history.outcome import Run
from checker.history.previous import read_known, read_previous
from checker.history.topic import parsed, written
from checker.history.update import REOPENED, Updated, update
from checker.history.views import MARKUP, new_views
from checker.history.vocabulary import with_our_words
from checker.result.archive import Content, File, packed
from checker.result.dialect import Dialect
from checker.result.facts import RunFacts
from checker.result.gone_on import GoneOn
from checker.result.note_state import OPEN, REVIEW
from checker.result.notes import Draft, Note


@dataclass(frozen=True, slots=True)
class Merged:
    """The files of notes by path, and what has become of the earlier ones."""

    files: dict[str, Content]
    gone_on: GoneOn


def merged(
    previous: File, draft: Draft, facts: RunFacts, where: str = "previous notes", *, reopen: bool = False
) -> bytes:
    """The bytes of the ``.bcf`` file of ``merged_files``."""
    found = merged_files(previous, draft, facts, where, reopen=reopen)
    return packed(found.files.items(), draft.created)


def merged_files(
    previous: File, draft: Draft, facts: RunFacts, where: str = "previous notes", *, reopen: bool = False
) -> Merged:
    """The files in a ``.bcf`` file with an earlier file's topics and this run's.

    Args:
        previous: The earlier file.
        draft: This run's notes, with Guids from ``topic_identity``.
        facts: What this run found.
        where: What messages call the earlier file.
        reopen: Whether topics that people closed, but that still fail, are opened.

    Raises:
        InputError: The earlier file can't be read, or is of another version of BCF.
    """
    before = read_previous(previous, where, draft.dialect)
    changed: dict[str, Content] = {}
    run = Run.of(draft, facts, before, reopen=reopen)
    new = {note.guid.lower(): note for note in draft.notes}
    touched: set[str] = set()
    became: list[Updated] = []
    commented = 0
    made_anew: dict[str, set[str]] = {}
    for topic in before.topics:
        guid = topic.guid.lower()
        note = new.get(guid)
        if guid in touched or (note is None and not topic.is_of(facts.project_key)):
            continue
        touched.add(guid)
        found = update(topic, note, run, draft.words.statuses, reopen=reopen)
        became.append(found)
        commented += bool(topic.said)
        for finding in _in_place_of(found.change, run):
            made_anew.setdefault(finding, set()).add(topic.guid)
        if note is not None:
            old = found.change.old
            has_grown = old is not None and not note.state.values.keys() <= old.values.keys()
            changed |= new_views(topic, note, run, has_grown=has_grown)
        if topic.changed:
            changed[topic.path] = topic.content()
    taken = {path.partition("/")[0].lower() for path in before.files}
    for note in draft.notes:
        if note.guid.lower() not in touched:
            folder = _free_folder(note.guid, taken)
            related = sorted({guid for finding in note.state.values for guid in made_anew.get(finding, ())})
            own = _related(note, related, draft.dialect) if related else note
            changed |= {f"{folder}/{name}": content for name, content in own.contents().items()}
    kept = with_our_words(before.files, draft.head) if touched or draft.notes else before.files
    set_as = [found.status_set for found in became]
    gone_on = GoneOn(
        where,
        len(before.topics),
        len(became),
        len(touched & new.keys()),
        commented,
        set_as.count(REVIEW),
        set_as.count(OPEN),
        set_as.count(REOPENED),
        sum(found.is_closed for found in became),
        len(new.keys() - touched),
    )
    return Merged({**kept, **changed}, gone_on)


def topic_identity(
    previous: File | None, groups: Sequence[Collection[str]], where: str = "previous notes"
) -> list[str]:
    """The Guid for each group of findings that makes a topic.

    A topic of ours in the earlier file goes to the group that shares most findings with it; each is used once, and on a
    tie the smallest Guid wins, but not that of a copy that somebody made. One whose ids somebody removed goes to the group
    with the finding that its Guid was made of. The other groups get one minted.

    Args:
        previous: The earlier file, if there is one.
        groups: The ids of the findings of each topic; none is empty.
        where: What messages call the earlier file.

    Raises:
        InputError: As for ``merged``.
    """
    topics = read_known(previous, where)[0] if previous is not None else ()
    ours = {topic.guid: topic.held for topic in reversed(topics) if topic.is_ours}
    by_finding: dict[str, list[str]] = {}
    for guid, held in ours.items():
        for key in held:
            by_finding.setdefault(key, []).append(guid)
    shared: dict[tuple[int, str], int] = {}
    for place, group in enumerate(groups):
        for key in group:
            for guid in by_finding.get(key, ()):
                shared[place, guid] = shared.get((place, guid), 0) + 1
    given: dict[int, str] = {}
    used: set[str] = set()
    order = sorted(
        shared.items(),
        key=lambda item: (-item[1], not is_minted(item[0][1]), item[0][1].lower(), min(groups[item[0][0]])),
    )
    for (place, guid), _ in order:
        if place not in given and guid.lower() not in used:
            given[place] = guid
            used.add(guid.lower())
    # one of ours whose findings other topics have taken over may still be taken again, by the Guid alone
    reserved = used | {topic.guid.lower() for topic in topics if ours.get(topic.guid, {topic.guid})}
    bare = {topic.guid.lower() for topic in topics if topic.is_ours and not topic.has_ids}
    for place in sorted(range(len(groups)), key=lambda place: min(groups[place])):
        if place not in given:
            known = map(topic_guid, ([key] for key in sorted(groups[place]))) if bare - reserved else ()
            given[place] = next((guid for guid in known if guid in bare - reserved), "") or _minted(
                groups[place], reserved
            )
            reserved.add(given[place])
    return [given[place] for place in range(len(groups))]


def _minted(group: Collection[str], reserved: set[str]) -> str:
    attempt = 1
    while (guid := topic_guid(group, attempt)) in reserved:
        attempt += 1
    return guid


def _in_place_of(found: Change, run: Run) -> list[str]:
    """The ids of this run's findings, by the same rule, on the elements that were made anew."""
    carriers = {row.key for row in found.made_anew.values()}
    rule = found.old.rule if found.old else ""
    return [own for key in sorted(carriers) for own in run.on_carrier.get((rule, key), ())] if carriers else []


def _related(note: Note, guids: Sequence[str], dialect: Dialect) -> Note:
    """A note that names older topics as related to it."""
    tree = parsed(note.files[MARKUP])
    for guid in guids:
        dialect.add(tree.getroot(), dialect.related, etree.Element("RelatedTopic", Guid=guid))
    return replace(note, files=note.files | {MARKUP: written(tree)})


def _free_folder(guid: str, taken: set[str]) -> str:
    """A folder for a topic: its Guid, unless something else lies in a folder of that name."""
    name, times = guid, 1
    while name.lower() in taken:
        times += 1
        name = f"{guid}-{times}"
    return name

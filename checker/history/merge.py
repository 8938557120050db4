"""This run's notes into those of an earlier one: nothing that a person wrote is lost; the same again changes nothing.

Topics are matched on their Guid. Those that aren't ours are copied byte for byte. In ours a person's title, text and
all else stays; we keep our own lines in the description up to date, and add at most one comment on what has changed
and one where a closed topic still fails. Viewpoints stay as they are.
"""

from collections.abc import Collection, Sequence

from checker.history.change import Change, Run, change, change_text
from checker.history.identity import comment_guid, topic_guid
from checker.history.previous import Previous, read_previous
from checker.history.topic import Topic
from checker.history.vocabulary import with_our_words
from checker.result.archive import created_time, packed
from checker.result.notes import AUTHOR, Draft, Note, RunFacts, State, seal

OPEN = "Open"
REVIEW = "Review"
_MARKUP = "markup.bcf"


def merged(previous: bytes, draft: Draft, facts: RunFacts, where: str = "previous notes") -> bytes:
    """The bytes of a ``.bcf`` file with an earlier file's topics and this run's.

    Args:
        previous: The earlier file.
        draft: This run's notes, with Guids from ``topic_identity``.
        facts: What this run found.
        where: What messages call the earlier file.

    Raises:
        InputError: The earlier file can't be read, or is of another version of BCF.
    """
    before = read_previous(previous, where)
    files = dict(before.files)
    run = Run.of(draft, facts)
    new = {note.guid.lower(): note for note in draft.notes}
    touched: set[str] = set()
    for topic in before.topics:
        guid = topic.guid.lower()
        note = new.get(guid)
        if guid in touched or (note is None and not topic.is_ours):
            continue
        touched.add(guid)
        _update(topic, note, run)
        if note is not None:
            _add_views(topic, note, files)
        if topic.changed:
            files[topic.path] = topic.content()
    taken = {path.partition("/")[0].lower() for path in files}
    for note in draft.notes:
        if note.guid.lower() not in touched:
            folder = _free_folder(note.guid, taken)
            files |= {f"{folder}/{name}": content for name, content in note.files.items()}
    if touched or draft.notes:
        files = with_our_words(files, draft.head)
    return packed(files.items(), draft.created)


def topic_identity(
    previous: bytes | None, groups: Sequence[Collection[str]], where: str = "previous notes"
) -> list[str]:
    """The Guid for each group of findings that makes a topic.

    A topic of ours in the earlier file goes to the group that shares most findings with it; each is used once, and on a
    tie the smallest Guid wins. The other groups get one minted.

    Args:
        previous: The earlier file, if there is one.
        groups: The ids of the findings of each topic; none is empty.
        where: What messages call the earlier file.

    Raises:
        InputError: As for ``merged``.
    """
    before = read_previous(previous, where) if previous is not None else Previous({})
    ours = {topic.guid: topic.held() for topic in reversed(before.topics) if topic.is_ours}
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
    order = sorted(shared.items(), key=lambda item: (-item[1], item[0][1].lower(), min(groups[item[0][0]])))
    for (place, guid), _ in order:
        if place not in given and guid.lower() not in used:
            given[place] = guid
            used.add(guid.lower())
    # one of ours whose ids somebody removed from its text may still be taken again, by the Guid alone
    reserved = used | {topic.guid.lower() for topic in before.topics if ours.get(topic.guid) != set()}
    for place in sorted(range(len(groups)), key=lambda place: min(groups[place])):
        if place not in given:
            given[place] = _minted(groups[place], reserved)
            reserved.add(given[place])
    return [given[place] for place in range(len(groups))]


def _minted(group: Collection[str], reserved: set[str]) -> str:
    attempt = 1
    while (guid := topic_guid(group, attempt)) in reserved:
        attempt += 1
    return guid


def _update(topic: Topic, note: Note | None, run: Run) -> None:
    """Brings a topic of ours up to date."""
    found = change(topic, note, run)
    date = created_time(run.facts.created)
    closed_guid = comment_guid(topic.guid, "closed", topic.status, "fails")
    is_closed_but_fails = note is not None and not topic.is_open
    if not found.is_nothing:
        _tell(topic, note, found, run, closed_guid)
    if is_closed_but_fails and closed_guid not in topic.comments():
        text = f"{topic.status}, but it still fails. It is not reopened: that is for a person to decide."
        topic.add_comment(closed_guid, date, text)
    _rewrite(topic, note, found.new)


def _tell(topic: Topic, note: Note | None, found: Change, run: Run, closed_guid: str) -> None:
    """Adds the comment on a change, and moves the status where nobody has decided on it."""
    ending, status = "", ""
    if note is None:
        if not found.passes:
            ending = "Not everything here is known to be mended: the status stays as it was."
        elif topic.is_open:
            ending, status = f"Nothing here fails any more. Status set to {REVIEW}: look at it and close it.", REVIEW
        else:
            ending = "Nothing here fails any more."
    elif found.passed and topic.status == REVIEW:
        ending, status = f"It fails again. Status set back to {OPEN}.", OPEN
    old, new = found.words()
    guid = _comment_guid(topic, "fails" if note else "checked", (old, new), closed_guid, counts=found.old is not None)
    if guid is not None:
        topic.add_comment(guid, created_time(run.facts.created), change_text(found, run, ending))
        if status:
            topic.set_status(status)


def _comment_guid(topic: Topic, event: str, words: tuple[str, str], closed_guid: str, *, counts: bool) -> str | None:
    """The Guid for a comment; None where it has been said.

    The same change may come again after another one has undone it. It is told again then, but only where the topic's
    own text shows (``counts``) that it isn't the change that was told last.
    """
    there = set(topic.comments())
    guid = comment_guid(topic.guid, event, *words)
    if guid not in there:
        return guid
    last = [said for said in topic.comments(AUTHOR) if said != closed_guid][-1:]
    if not counts or last == [guid]:
        return None
    times = 2
    while (guid := comment_guid(topic.guid, f"{event} {times}", *words)) in there:
        if last == [guid]:
            return None
        times += 1
    return guid


def _rewrite(topic: Topic, note: Note | None, new: State) -> None:
    """Puts the new state in the description; the new title and text too, where nobody has changed the old ones."""
    parted = topic.description
    old = parted.state
    if old is None:
        return
    text, title_seal, body_seal = parted.text, old.title_seal, old.body_seal
    if note is not None and seal(topic.title) == title_seal:
        topic.set_text("Title", note.title)
        title_seal = seal(note.title)
    if note is not None and seal(text) == body_seal:
        text, body_seal = note.text, seal(note.text)
    state = State(new.values, new.rule, new.code, title_seal, body_seal)
    if state != old or seal(text) != seal(parted.text):
        topic.set_text("Description", type(parted)(text, old, parted.after).rejoined(state))


def _add_views(topic: Topic, note: Note, files: dict[str, bytes]) -> None:
    """Gives a topic that has lost its viewpoint this run's. One that it has is never touched."""
    added = {f"{topic.folder}/{name}": content for name, content in note.files.items() if name != _MARKUP}
    if not topic.has_view and not any(path in files for path in added):
        topic.add_view(note.files[_MARKUP])
        files |= added


def _free_folder(guid: str, taken: set[str]) -> str:
    """A folder for a topic: its Guid, unless something else lies in a folder of that name."""
    name, times = guid, 1
    while name.lower() in taken:
        times += 1
        name = f"{guid}-{times}"
    return name

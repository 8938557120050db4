"""Bringing one topic of an earlier file up to date: what is said of a change, and who may move its status.

People close and reopen. We ask for a review where everything passes, and take that back where it fails or is unknown again; a topic
that was closed while it fails is opened only where the run was asked to. What passes only as far as was read isn't mended.
Whatever of title, text and status we change, the topic says when and by whom, unless somebody else has said so of theirs (``bookkeeping``).
"""

from dataclasses import dataclass

from checker.history import outcome as words
from checker.history.bookkeeping import renew_documents, stamp
from checker.history.change import Change, change
from checker.history.change_text import as_of, change_text
from checker.history.identity import comment_guid
from checker.history.outcome import Run
from checker.history.topic import Topic
from checker.model.texts import listed
from checker.result.archive import created_time
from checker.result.note_state import NO_SEAL, OPEN, REVIEW, State, seal, status_seal
from checker.result.note_words import Statuses
from checker.result.notes import AUTHOR, Note
from checker.result.provenance import SAID_AS

NOT_READ = "Read before, not now: "
#: As what the status of a topic was set that was closed, beside ``OPEN`` and ``REVIEW``.
REOPENED = "reopened"


@dataclass(frozen=True, slots=True)
class Updated:
    """What has become of a topic.

    ``status_set``: as what its status was set, ``OPEN`` (back from a review), ``REVIEW`` or ``REOPENED``; empty where it is as it was.
    ``is_closed``: whether people closed it, it still fails, and it stays closed.
    """

    change: Change
    status_set: str = ""
    is_closed: bool = False


def update(topic: Topic, note: Note | None, run: Run, statuses: Statuses, *, reopen: bool = False) -> Updated:
    """Brings a topic of ours up to date.

    Args:
        topic: The topic.
        note: This run's with the same Guid; None where nothing of it fails now.
        run: This run.
        statuses: What statuses are called.
        reopen: Whether a topic that was closed, but fails, is opened.
    """
    found = change(topic, note, run)
    before = topic.status
    date = created_time(run.facts.created)
    closed = _Closed.of(topic) if note is not None and not topic.is_open_by(statuses) else None
    role = ""
    if not found.is_nothing:
        role = _tell(topic, note, found, run, statuses, closed, reopen=reopen)
    if closed is not None and reopen:
        if role != REOPENED:
            opened = _opened(topic, found, statuses, f" ({as_of(run)})" if run.facts.document else "")
            topic.add_comment(closed.reopened, date, opened)
        topic.set_status(statuses.open)
        role = REOPENED
    elif closed is not None and closed.guid not in topic.comments():
        issue = f" ({as_of(run)})" if run.facts.document else ""
        text = f"{topic.status}, but {_fails(found)}{issue}. It is not reopened: that is for a person to decide."
        topic.add_comment(closed.guid, date, text)
    if note is not None:
        renew_documents(topic, run)
    _rewrite(topic, note, found.new, OPEN if role == REOPENED else role, _not_read(topic, run))
    stamp(topic, date)
    return Updated(found, role if topic.status != before else "", closed is not None and not reopen)


def _fails(found: Change) -> str:
    if found.passed:
        return "it is asked again" if found.is_question else "it fails again"
    return "it is still asked" if found.is_question else "it still fails"


def _opened(topic: Topic, found: Change, statuses: Statuses, issue: str = "") -> str:
    return f"{topic.status}, but {_fails(found)}{issue}. Status set to {statuses.open}, as this run was asked to."


def _not_read(topic: Topic, run: Run) -> str:
    """Lines on the schedules that its text knows, where none was read: a text without them would take this run for a whole one."""
    known = () if run.facts.has_schedule else topic.schedules()
    return "".join(f"\n{NOT_READ}{SAID_AS['schedule']}: {name}, SHA-256 {sha256}." for name, sha256 in known)


class _Closed:
    """The comments on a topic that was closed, but fails: one for each time that we opened it again.

    ``guid`` is of the one that says so, ``reopened`` of the one that says that it is open again, ``changed`` of the one that says so and
    what has changed besides; ``all`` are those that may be there and say nothing of a change.
    """

    def __init__(self, guid: str, reopened: str, changed: str, every: frozenset[str]) -> None:
        self.guid = guid
        self.reopened = reopened
        self.changed = changed
        self.all = every

    @classmethod
    def of(cls, topic: Topic) -> "_Closed":
        """The next ones of a topic."""
        there = set(topic.comments())
        every = set()
        times = 0
        while True:
            event = f" {times + 1}" if times else ""
            guid = comment_guid(topic.guid, f"closed{event}", topic.status, "fails")
            reopened = comment_guid(topic.guid, f"reopened{event}", "closed", "fails")
            changed = comment_guid(topic.guid, f"reopened and changed{event}", "closed", "fails")
            every |= {guid, reopened}
            if there.isdisjoint({reopened, changed}):
                return cls(guid, reopened, changed, frozenset(every))
            times += 1


def _tell(
    topic: Topic,
    note: Note | None,
    found: Change,
    run: Run,
    statuses: Statuses,
    closed: _Closed | None,
    *,
    reopen: bool,
) -> str:
    """Adds the comment on a change, and moves the status where nobody has decided on it, or where the run is to open what was closed.

    That it is open again is said in the same comment where the topic's own text shows the change: it won't be told another time then.

    Returns:
        As what the status was set; empty where it wasn't.
    """
    is_open = topic.is_open_by(statuses)
    ending, role = "", ""
    again = "It is asked again" if found.is_question else "It fails again"
    if note is None:
        ending, role = _without_note(topic, found, run, statuses, is_open=is_open)
    elif topic.asks_for_review(statuses):
        ending, role = f"{again}. Status set back to {statuses.open}.", OPEN
    elif found.passed and not is_open:
        ending = f"{again}. It was {topic.status}."
    guid = _comment_guid(
        topic,
        "fails" if note else "checked",
        found.texts(),
        closed.all if closed else frozenset(),
        counts=found.old is not None,
    )
    if guid is None:
        return ""
    if closed is not None and reopen and found.old is not None:
        guid, ending, role = closed.changed, _opened(topic, found, statuses), REOPENED
    topic.add_comment(guid, created_time(run.facts.created), change_text(found, run, ending))
    if role:
        topic.set_status(statuses.review if role == REVIEW else statuses.open)
    return role


def _without_note(topic: Topic, found: Change, run: Run, statuses: Statuses, *, is_open: bool) -> tuple[str, str]:
    """What is said, and as what the status is set, where nothing of a topic fails now."""
    no_more = "Nothing here is asked any more" if found.is_question else "Nothing here fails any more"
    if found.all_are(words.PASSES) or found.all_are(words.ANSWERED):
        if not is_open:
            return f"{no_more}.", ""
        return f"{no_more}. Status set to {statuses.review}: look at it and close it.", REVIEW
    stays = "the status stays as it was."
    known = "It isn't known" if len(found.new.values) == 1 else "Not everything here is known"
    if topic.asks_for_review(statuses) and not found.new_words.isdisjoint({words.UNKNOWN, words.WAIVED}):
        waived = words.WAIVED in found.new_words
        why = "What is waived is not mended" if waived else f"{known} to be mended any more"
        return f"{why}. Status set back to {statuses.open}.", OPEN
    if found.all_are(words.PASSES, words.PASSES_IN_PART) or found.all_are(words.ANSWERED, words.ANSWERED_IN_PART):
        without = listed([f"“{name}”" for name in run.missing])
        return f"{no_more} as far as was read, but {without} was not: {stays}", ""
    if found.is_question:
        return f"{'It is not' if len(found.new.values) == 1 else 'Not everything here is'} answered: {stays}", ""
    if found.all_are(words.PASSES, words.WAIVED):
        return f"What is waived is not mended: {stays}", ""
    return f"{known} to be mended: {stays}", ""


def _comment_guid(
    topic: Topic, event: str, texts: tuple[str, str], aside: frozenset[str], *, counts: bool
) -> str | None:
    """The Guid for a comment; None where it has been said.

    The same change may come again after another one has undone it. It is told again then, but only where the topic's
    own text shows (``counts``) that it isn't the change that was told last. Comments ``aside`` aren't on changes.
    """
    there = set(topic.comments())
    guid = comment_guid(topic.guid, event, *texts)
    if guid not in there:
        return guid
    last = [said for said in topic.comments(AUTHOR) if said not in aside][-1:]
    if not counts or last == [guid]:
        return None
    times = 2
    while (guid := comment_guid(topic.guid, f"{event} {times}", *texts)) in there:
        if last == [guid]:
            return None
        times += 1
    return guid


def _rewrite(topic: Topic, note: Note | None, new: State, role: str, more: str) -> None:
    """Puts the new state in the description; the new title and text too, where nobody has changed the old ones.

    ``role``: as what its status was set, if it was. ``more``: what else the new text says.
    """
    parted = topic.description
    old = parted.state
    if old is None:
        return
    text, title_seal, body_seal = parted.text, old.title_seal, old.body_seal
    if note is not None and seal(topic.title) == title_seal:
        topic.set_text("Title", note.title)
        title_seal = seal(note.title)
    if note is not None and seal(text) == body_seal:
        text = note.text.rstrip() + more if more else note.text
        body_seal = seal(text)
    set_last = status_seal(role, topic.status) if role else old.status_seal
    of_project = old.project_seal if note is None or old.project_seal != NO_SEAL else note.state.project_seal
    seals = title_seal, body_seal, set_last, of_project, old.fields_seal
    state = State(new.values, new.rule, new.code, *seals)
    if state != old or seal(text) != seal(parted.text):
        topic.set_text("Description", type(parted)(text, old, parted.after).rejoined(state))

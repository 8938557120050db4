"""What people have put into notes, so that a run that goes on with other ones can see whether it would lose some of it."""

from collections.abc import Iterator

from checker.history.previous import read_previous
from checker.history.topic import Topic
from checker.result.archive import File
from checker.result.note_state import NO_SEAL, OPEN, REVIEW, fields_seal, seal
from checker.result.notes import AUTHOR


def said_by_people(data: File, where: str = "previous notes") -> frozenset[tuple[str, str]]:
    """What others than we put into a file: the Guid of a topic, in lower case, and what of it; empty where all of it is theirs.

    What of it is the Guid of a comment, a viewpoint or a document that they added, or ``title``, ``text``, ``status`` or ``fields`` where
    these aren't as we left them: whatever they say now, and whether they changed it once or twice.

    Args:
        data: The notes.
        where: What messages call them.

    Raises:
        InputError: As ``read_previous``.
    """
    topics = read_previous(data, where).topics
    return frozenset(
        (topic.guid.lower(), what) for topic in topics for what in (_of_ours(topic) if topic.is_ours else [""])
    )


def _of_ours(topic: Topic) -> Iterator[str]:
    ours = set(topic.comments(AUTHOR))
    yield from (guid for guid in topic.comments() if guid not in ours)
    yield from topic.added()
    parted, state = topic.description, topic.description.state
    if state is None or parted.after or state.body_seal not in {NO_SEAL, seal(parted.text)}:
        yield "text"
    if state is None:
        return
    if state.title_seal not in {NO_SEAL, seal(topic.title)}:
        yield "title"
    if state.status_seal != NO_SEAL and not (topic.is_set(OPEN) or topic.is_set(REVIEW)):
        yield "status"
    if state.fields_seal not in {NO_SEAL, fields_seal(topic.fields())}:
        yield "fields"

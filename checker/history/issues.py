"""What issues hold, for those who speak of an issue as a whole."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from checker.history.merge import topic_identity
from checker.history.previous import read_known
from checker.result.archive import File


@dataclass(frozen=True, slots=True)
class Held:
    """Ids of findings that are in an issue for certain, and of those that may have joined it since people saw it."""

    known: frozenset[str] = frozenset()
    perhaps: frozenset[str] = frozenset()


def held_by_issues(
    groups: Sequence[Collection[str]], previous: File | None, where: str = "previous notes"
) -> dict[str, Held]:
    """What each issue holds, by the GUID of the topic, in lower case.

    A topic of ours in the earlier notes holds what it holds there: what has joined it since isn't what people saw. Of an issue that the
    earlier notes don't hold only the finding is known that its GUID is made of, the first of its ids; what else people saw in it isn't.

    Args:
        groups: The ids of the findings of each topic of this run; none is empty.
        previous: The earlier notes, if there are some.
        where: What messages call them.

    Raises:
        InputError: The earlier notes can't be read.
    """
    guids = topic_identity(previous, groups, where)
    held = {
        guid.lower(): Held(frozenset({min(group)}), frozenset(group) - {min(group)})
        for guid, group in zip(guids, groups, strict=True)
    }
    if previous is not None:
        for topic in read_known(previous, where)[0]:
            if topic.is_ours and topic.held:
                held[topic.guid.lower()] = Held(topic.held)
    return held

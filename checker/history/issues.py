"""What issues hold, for those who speak of an issue as a whole."""

from collections.abc import Collection, Sequence

from checker.history.merge import topic_identity
from checker.history.previous import read_previous


def held_by_issues(
    groups: Sequence[Collection[str]], previous: bytes | None, where: str = "previous notes"
) -> dict[str, list[str]]:
    """Ids of findings, by the GUID of the topic, in lower case.

    A topic of ours in the earlier notes holds what it holds there: what has joined it since isn't what people saw. The others are this
    run's.

    Args:
        groups: The ids of the findings of each topic of this run; none is empty.
        previous: The earlier notes, if there are some.
        where: What messages call them.

    Raises:
        InputError: The earlier notes can't be read.
    """
    guids = topic_identity(previous, groups, where)
    held = {guid.lower(): sorted(group) for guid, group in zip(guids, groups, strict=True)}
    if previous is not None:
        for topic in read_previous(previous, where).topics:
            if topic.is_ours and (there := topic.held()):
                held[topic.guid.lower()] = sorted(there)
    return held

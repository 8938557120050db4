"""What a run raises as issue notes: each with the identity that it has in the earlier ones."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from checker.history.merge import topic_identity
from checker.model import Installation
from checker.result.archive import File
from checker.result.request_groups import request_groups
from checker.result.requests import request_topics
from checker.result.tables import FindingRow, Result
from checker.result.topics import make_topic
from checker.rule.plugins import Plugins


def raised(
    result: Result,
    groups: Sequence[tuple[FindingRow, ...]],
    installation: Installation,
    plugins: Plugins,
    previous: tuple[File | None, str],
) -> Result:
    """A result with its issue notes as topics: those of what fails, and those that ask something.

    Args:
        result: All else that was found.
        groups: Failing findings that make a topic each.
        installation: What there is.
        plugins: The rules that there are.
        previous: The issue notes of the run before, whose topics keep their identity, if there are some; and what messages call them.

    Raises:
        InputError: The earlier notes can't be read.
    """
    carriers = {row.key: row for row in result.carriers}
    asked = request_groups(result, installation.most_requests)
    members = [*([finding.id for finding in group] for group in groups), *(group.ids for group in asked)]
    guids = topic_identity(previous[0], members, previous[1])
    cables = [(cable.marks, cable.place) for cable in installation.model_cables]
    setting, titles = installation.setting, {key: rule.title for key, rule in plugins.rules.items()}
    numbers = Counter(row.carrier for row in result.compartments)
    undivided = frozenset(key for key, number in numbers.items() if number == 1)
    topics = tuple(
        make_topic(
            guid,
            group,
            carriers,
            cables,
            titles[group[0].rule],
            result.cautions,
            titles=titles,
            setting=setting,
            undivided=undivided,
        )
        for guid, group in zip(guids[: len(groups)], groups, strict=True)
    )
    requests = request_topics(result, asked, guids[len(groups) :], setting)
    topic_of = {finding: topic.guid for topic in topics for finding in topic.members}
    # what is found of a waiver has no note of its own: it stands in that of the gravest that it names and fails
    topic_of |= {
        row.finding: topic_of[row.fails[0]] for row in result.waivers if row.fails and row.fails[0] in topic_of
    }

    def in_topic(finding: FindingRow) -> FindingRow:
        return replace(finding, topic=topic_of[finding.id]) if finding.id in topic_of else finding

    return replace(result, topics=topics, requests=requests, findings=tuple(map(in_topic, result.findings)))

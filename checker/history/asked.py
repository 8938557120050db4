"""Questions to the design team over revisions: what is asked no more was answered, as far as everything was read."""

import re
from collections.abc import Iterable

from checker.result.request_groups import question_id
from checker.rule.question_kinds import kind_of

#: Where a question may end in a line of a topic's text.
_ENDS = re.compile(r" \(|\. Answer:|$")

#: Of the others of a kind a text has only the names.
_MORE = "- and "


def questions_in(text: str, project_key: str, wanted: Iterable[str]) -> dict[str, str]:
    """The questions of a topic's text by their ids, of those that are wanted; none of lines that somebody changed."""
    keys = set(wanted)
    found: dict[str, str] = {}
    begins: dict[str, None] = {}
    for line in text.splitlines():
        if line.startswith(_MORE):
            names = line.removeprefix(_MORE).split(", ")
            asked = [begin + name for begin in begins for name in names]
        else:
            whole = line.removeprefix("- ") if line.startswith("- ") else ""
            asked = [whole[: end.start()] for end in _ENDS.finditer(whole)]
        for question in asked:
            key = question_id(project_key, question)
            if key in keys:
                found.setdefault(key, question)
                begins[question.removesuffix(kind_of(question)[1])] = None
    return found

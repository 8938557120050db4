"""Which questions are of one kind, so that they are asked together: the ways of circuits, the walls of types."""

import re
from dataclasses import dataclass

from checker.rule.needs import NOUNS

#: What rules of topics that ask something begin with.
QUESTION = "question"
#: What is asked of near misses, and of what sort of thing.
MEETING = ("meet", "pair")
_MEETING = "whether these are meant to meet: "
_OF = re.compile(rf"the (?P<what>.+?) of (?P<noun>{NOUNS}) (?P<name>.+)")
#: Those that are told of several with an s.
_COUNTED = frozenset({"cable", "data cable", "circuit", "type", "carrier", "fitting", "conduit", "the bend"})


@dataclass(frozen=True, slots=True)
class QuestionKind:
    """A kind of question: what is asked, of what sort of thing. ``noun`` is empty where the question is one of its own."""

    what: str
    noun: str = ""

    @property
    def key(self) -> str:
        """A word for it, as ``question.way``; that of one of its own is ``question.other``."""
        word = re.sub(r"[^a-z]+", "-", self.what.lower()).strip("-") if self.noun else "other"
        return f"{QUESTION}.{word}"

    def words(self, names: str, *, are_many: bool) -> str:
        """The question in words, of one or of several things."""
        if not self.noun:
            return self.what
        if (self.what, self.noun) == MEETING:
            return f"{_MEETING}{names}"
        return f"the {self.what} of {self.noun}{'s' if are_many and self.noun in _COUNTED else ''} {names}"


def is_question(rule: str) -> bool:
    """Whether a topic of such a rule asks something."""
    return rule.partition(".")[0] == QUESTION


def kind_of(question: str) -> tuple[QuestionKind, str]:
    """The kind of a question, and the name of what it is about; empty for one of its own kind."""
    if question.startswith(_MEETING):
        return QuestionKind(*MEETING), question.removeprefix(_MEETING)
    found = _OF.fullmatch(question)
    return (QuestionKind(found["what"], found["noun"]), found["name"]) if found else (QuestionKind(question), "")

"""One carrier and a list of cables, without a model: does it fit, by the code, how many would, and what else goes in."""

from checker.fit.answering import Answer, Left, answer
from checker.fit.cables import MOST_CABLES
from checker.fit.geometry import Going
from checker.fit.question import LARGEST_MM, Question
from checker.fit.subject import Asked, asked_of

__all__ = ["LARGEST_MM", "MOST_CABLES", "Answer", "Asked", "Going", "Left", "Question", "answer", "asked_of"]

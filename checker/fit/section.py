"""What a drawing shows of an answer: the carrier that was asked about with its cables, and what the code said."""

from checker.fit.answering import Answer
from checker.fit.by_code import SPARE
from checker.fit.carriers import as_drawn
from checker.section.parts import Asked, SectionView, Way
from checker.section.view import view_of


def section_of_answer(answer: Answer, *, code: str = "", way: Way | None = None) -> SectionView:
    """The section with the verdict as a check words it, and the spare's where one is wanted.

    Args:
        answer: The answer.
        code: The code's title.
        way: How cables are laid.
    """
    part = answer.subject
    asked = [Asked(answer.rule or "fill", answer.in_check_s_words)]
    if answer.spare is not None:
        asked.append(Asked(SPARE, answer.spare, tells_fill=False))
    return view_of(as_drawn(part.carrier), [part], {part.number: asked}, code=code, way=way)

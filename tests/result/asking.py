"""Questions of a small result, and the notes that ask them."""

from dataclasses import replace

from checker.result.question_tables import QuestionRow
from checker.result.request_groups import request_groups
from checker.result.requests import request_topics
from checker.result.tables import Result, Topic
from tests.report.results import small_result


def asked(question: str, settles: int = 1, touches: int = 0, **more: object) -> QuestionRow:
    """A question; its rank is given by ``with_questions``."""
    return QuestionRow(1, question, "schedule, somewhere", "give it", settles, settles, touches or settles, **more)  # type: ignore[arg-type]


def with_questions(*rows: QuestionRow) -> Result:
    """They are ranked in the order given, and the last row is what no question is known of."""
    ranked = [replace(row, rank=rank) for rank, row in enumerate(rows, start=1)]
    return replace(
        small_result(), questions=(*ranked, QuestionRow(0, "not known what would settle the rest", "", "", 0, 9, 9))
    )


def raised(result: Result, most: int = 10) -> list[Topic]:
    """The notes with questions of a result."""
    groups = request_groups(result, most)
    return list(request_topics(result, groups, [f"guid {number}" for number, _ in enumerate(groups)]))

"""What to answer first: the few questions that settle most of what is unknown."""

from checker.report.html_markup import Html, join, name, tag
from checker.report.html_places import many
from checker.report.html_tables import plain_table
from checker.result.question_tables import QuestionRow
from checker.result.tables import Result

#: So many questions are shown; questions.csv has all.
SHOWN = 10


def questions(result: Result) -> Html:
    """The first questions with what they settle, one by one and together, and how much no question is known for."""
    asked = [row for row in result.questions if row.rank]
    lost = sum(row.touches for row in result.questions if not row.rank)
    if not asked and not lost:
        return tag("p", "Nothing is unknown.")
    every = (asked[-1].together if asked else 0) + lost
    told = [tag("p", _sum(asked, every))]
    if asked:
        heads = [
            name(head) for head in ("Turn", "Question", "Where to answer it", "Settles", "Together", "For example")
        ]
        told.append(plain_table("What to answer first", heads, [_row(row, every) for row in asked[:SHOWN]]))
        told.append(
            tag(
                "p",
                "“Settles” counts what is known then, once the questions above are answered too. Where it is 0 the next one is"
                " needed besides.",
            )
        )
    if len(asked) > SHOWN:
        told.append(tag("p", f"and {len(asked) - SHOWN} more questions, in questions.csv."))
    if lost:
        some = "1 answer" if lost == 1 else f"{lost} answers"
        told.append(
            tag(
                "p",
                f"Of {some} it isn't known what would settle them: see ",
                tag("a", "Unknown, and why", href="#unknown"),
                ".",
            )
        )
    return join(told)


def _sum(asked: list[QuestionRow], every: int) -> str:
    first = asked[:SHOWN]
    if not first:
        return f"Unknown answers: {every}."
    which = "The first question settles" if len(first) == 1 else f"The first {len(first)} questions settle"
    return f"{which} {first[-1].together} of {every} unknown answers."


def _row(row: QuestionRow, every: int) -> list[Html]:
    hint = join([row.where, ": ", row.hint]) if row.hint else join([row.where or "not known"])
    return [
        name(str(row.rank)), tag("b", row.question), hint, name(str(row.settles)), name(f"{row.together} of {every}"), many(row.examples),
    ]  # fmt: skip

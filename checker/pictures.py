"""Which sections a result shows: those of the carriers that its topics are about, with their cables in their places."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from checker.answers import Answers
from checker.model import LoadedCompartment
from checker.network.loading import Loading, Place
from checker.result.tables import Result, SectionRow
from checker.section.parts import MOST_DRAWN, Asked, Look, Way
from checker.section.view import view_of

#: What a run spends on dropping cables in, by their number squared in each compartment: 6,000 are a fifth of a second where nothing is
#: compiled. Beyond that they are laid in rows, which takes milliseconds, and of more than so many cables no sections are shown.
MOST_WORK = 6_000
MOST_CABLES = 6_000


def sections_of(result: Result, loading: Loading, answers: Answers) -> tuple[SectionRow, ...]:
    """The section of the worst carrier of each topic, once, in the topics' order, for as many as are soon drawn.

    Args:
        result: Its topics and findings.
        loading: What lies where.
        answers: What the rules say.
    """
    carriers = {row.id: row.carriers for row in result.findings}
    named = ((*carriers.get(topic.worst, ()), *topic.carriers) for topic in result.topics)
    shown = dict.fromkeys(keys[0] for keys in named if keys)
    parts: dict[str, list[LoadedCompartment]] = defaultdict(list)
    for part in loading.compartments:
        if part.carrier.key in shown:
            parts[part.carrier.key].append(part)
    asked = AskedOf(answers, shown)
    rows: list[SectionRow] = []
    work = cables = 0
    for key in shown:
        here = parts.get(key, [])
        counts = [sum(cable.count or 0 for cable in part.cables) for part in here]
        cables += sum(min(count, MOST_DRAWN) for count in counts)
        if not here or (rows and cables > MOST_CABLES):
            continue
        need = sum(count * count for count in counts if count <= MOST_DRAWN)
        is_short = work + need <= MOST_WORK
        work += need if is_short else 0
        told = {part.number: tuple(asked.of(part)) for part in here}
        way = Way(look=Look.SHORT if is_short else Look.ROWS)
        rows.append(SectionRow(key, view_of(here[0].carrier, here, told, code=result.code_title, way=way)))
    return tuple(rows)


class AskedOf:
    """Every answer that is told of a compartment, as a check tells it: also on circuits that it governs.

    Args:
        answers: All that was answered.
        keys: The carriers that are asked for.
    """

    def __init__(self, answers: Answers, keys: Iterable[str]) -> None:
        wanted = set(keys)
        self._here: dict[Place, list[Asked]] = defaultdict(list)
        self._of_circuit: dict[tuple[str, str], list[Asked]] = defaultdict(list)
        self._on_all: dict[str, list[Asked]] = defaultdict(list)
        for one in answers.judged:
            if one.subject.carrier.key in wanted:
                place = (one.subject.carrier.key, one.subject.number)
                self._here[place].append(Asked(one.rule, one.verdict, one.tells_fill))
        for rated in answers.rated:
            if rated.place in wanted:
                mark = rated.subject.load.mark
                told = Asked(rated.rule, rated.verdict, tells_fill=False, about=f"circuit {mark}")
                self._of_circuit[rated.place, mark].append(told)
        for other in answers.others:
            about = other.subject.about
            told = Asked(other.rule, other.verdict, tells_fill=False, about=about.label)
            places: Sequence[tuple[str, int | None]] = about.places
            for key, number in dict.fromkeys(places or ((carrier, about.compartment) for carrier in about.carriers)):
                if key in wanted and number is None:
                    self._on_all[key].append(told)
                elif key in wanted and number is not None:
                    self._here[key, number].append(told)

    def of(self, part: LoadedCompartment) -> Iterator[Asked]:
        """What is told of a compartment."""
        key = part.carrier.key
        yield from self._here[key, part.number]
        for mark in sorted({cable.circuit for cable in part.cables}):
            yield from self._of_circuit[key, mark]
        yield from self._on_all[key]

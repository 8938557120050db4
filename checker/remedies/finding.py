"""Tries remedies for all that fails, the worst first, and keeps what came out right."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from checker.progress import Progress
from checker.remedies.kinds import kinds_for
from checker.remedies.means import Means, Seen, Stretch, Try
from checker.remedies.of_carriers import box, divider, larger
from checker.remedies.of_circuits import other_cable, other_compartment, other_way
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.result.tables import FindingRow
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.trial import Situation

#: So many carriers are judged in trials at the most, or as many as there are.
LEAST_WORK = 20_000
#: A search for another way counts as so many carriers judged, for each thousand that there are.
SEARCH_PER_THOUSAND = 5
#: So many changes of each kind are tried for one stretch, or for one circuit, and so many of those that came out right are told.
MOST_TRIED, MOST_TOLD = 4, 3

Trying = Callable[[Means, Stretch, Seen], Iterator[Try]]
TRYING: dict[RemedyKind, Trying] = {
    RemedyKind.COMPARTMENT: other_compartment,
    RemedyKind.WAY: other_way,
    RemedyKind.BOX: box,
    RemedyKind.DIVIDER: divider,
    RemedyKind.CABLE: other_cable,
    RemedyKind.CARRIER: larger,
}
#: What was tried of each kind, in words: none, one, several.
WORDS = {
    RemedyKind.COMPARTMENT: (
        "other compartment",
        "another compartment for {last}",
        "other compartments for {number} circuits",
    ),
    RemedyKind.WAY: ("other way", "another way for {last}", "other ways for {number} circuits"),
    RemedyKind.BOX: ("bend for a box", "a box in place of {last}", "boxes in place of {number} bends"),
    RemedyKind.DIVIDER: ("room for a divider", "a divider", "a divider in {number} ways"),
    RemedyKind.CABLE: ("thicker cable", "cable {last}", "{number} thicker cables"),
    RemedyKind.CARRIER: ("larger standard size", "the next size, {last}", "{number} larger sizes, up to {last}"),
}
NOT_TRIED = "not tried: too much else fails"


@dataclass(frozen=True, slots=True)
class Remedied:
    """What came out right, the gravest findings first; by finding what is advised, and what was tried where nothing helps."""

    remedies: tuple[RemedyRow, ...] = ()
    advice: dict[str, str] = field(default_factory=dict)
    tried: dict[str, str] = field(default_factory=dict)

    def told(self, finding: FindingRow) -> FindingRow:
        """A finding with its advice, or with what was tried."""
        return replace(finding, advice=self.advice.get(finding.id, ""), tried=self.tried.get(finding.id, ""))


def remedies_of(
    situation: Situation, groups: Sequence[Sequence[FindingRow]], code: Code, plugins: Plugins, progress: Progress
) -> Remedied:
    """Tries remedies.

    Args:
        situation: What was found, other ways left aside.
        groups: Failing findings that have one cause, the worst first.
        code: Whose limits apply.
        plugins: The rules and catalogues that there are.
        progress: Is told how far it is.
    """
    if not groups:
        return Remedied()
    trier = _Trier(Means(situation, code, plugins), max(LEAST_WORK, len(situation.installation.carriers)))
    for number, group in enumerate(groups, start=1):
        # a finding may rest on ways that are left aside here
        failing = tuple(row for row in group if _fails(situation, row) and row.carriers)
        if failing:
            trier.mend(Stretch(failing))
        progress.step(number, len(groups))
    advice = {key: " Or: ".join(texts) for key, texts in trier.texts.items()}
    return Remedied(tuple(trier.rows), advice, trier.tried)


def _fails(situation: Situation, row: FindingRow) -> bool:
    found = situation.findings.get(row.id)
    return found is not None and found.verdict == Outcome.FAIL


class _Trier:
    """Tries, and counts what that costs.

    Attributes:
        rows: What came out right.
        texts: The same in words, by finding.
        tried: What was tried, by finding, where nothing came out right.
    """

    def __init__(self, means: Means, most_work: int) -> None:
        self.rows: list[RemedyRow] = []
        self.texts: dict[str, list[str]] = defaultdict(list)
        self.tried: dict[str, str] = {}
        self._means, self._most = means, most_work
        self._first = 0  # of the rows of the stretch that is tried

    def mend(self, stretch: Stretch) -> None:
        """Tries what may mend a stretch, or single findings of it."""
        looked = {kind: Seen() for kind in kinds_for(stretch.findings[0].rule)}
        is_over, self._first = False, len(self.rows)
        for kind, seen in looked.items():
            is_over = self._of_kind(kind, stretch, seen) or is_over
        self.rows[self._first :] = _cheapest_first(self.rows[self._first :])
        for row in self.rows[self._first :]:
            for key in row.findings:
                self.texts[key].append(row.text)
        for finding in stretch.findings:
            if finding.id not in self.texts:
                self.tried[finding.id] = _words(finding.id, looked, is_over=is_over)

    def _of_kind(self, kind: RemedyKind, stretch: Stretch, seen: Seen) -> bool:
        """Tries one kind of change, for each finding until one comes out right; whether the work was used up before that."""
        counted: Counter[str] = Counter()
        told = Counter(key for row in self.rows[self._first :] for key in row.findings)
        mended: set[str] = set()
        for one in TRYING[kind](self._means, stretch, seen):
            own = one.row.findings[0]
            is_of_all = len(one.row.findings) == len(stretch.findings)
            if own in mended or counted[own] >= MOST_TRIED or told[own] >= MOST_TOLD:
                if is_of_all:
                    return False
                continue
            if self._work() >= self._most:
                return True
            counted[own] += 1
            row = self._tried(one)
            if one.label:
                seen.note(one.label, "" if is_of_all else own)
            if row is not None:
                mended.add(own)
                self.rows.append(row)
        return False

    def _tried(self, one: Try) -> RemedyRow | None:
        """What a change mends, with what was judged; None where it mends less than it is to, or makes anything worse."""
        effects = self._means.trials.effects(one.changes)
        # what the change doesn't touch is as it was
        is_mended = all(
            own in effects.before and effects.verdict(own) in {"", Outcome.PASS} for own in one.row.findings
        )
        if not is_mended or effects.worse:
            return None
        judged = effects.after.values()
        return replace(one.row, rejudged=len(judged), rules=tuple(sorted({row.rule for row in judged})))

    def _work(self) -> int:
        searched = self._means.detours.searches * len(self._means.carriers) * SEARCH_PER_THOUSAND // 1000
        return self._means.trials.work + searched


def _cheapest_first(rows: list[RemedyRow]) -> list[RemedyRow]:
    """In the order in which they were tried; but what is to be larger comes before ways that are longer by more than it is long."""
    larger_m = [row.length_m for row in rows if row.kind is RemedyKind.CARRIER and row.length_m is not None]

    def is_dear(row: RemedyRow) -> bool:
        is_unknown = row.kind is RemedyKind.WAY and row.longer_m is None
        return is_unknown or (row.kind is RemedyKind.WAY and (row.longer_m or 0.0) > min(larger_m))

    return sorted(rows, key=is_dear) if larger_m else rows


def _words(finding: str, looked: Mapping[RemedyKind, Seen], *, is_over: bool) -> str:
    """What was tried for a finding, and what there was none of, or that the work was used up before that."""
    tried, lacking = [], []
    for kind, seen in looked.items():
        none, one, several = WORDS[kind]
        labels = seen.of(finding)
        if labels:
            tried.append((one if len(labels) == 1 else several).format(number=len(labels), last=labels[-1]))
        else:
            why = seen.why_not(finding)
            lacking.append(f"no {none}{f' ({why})' if why else ''}")
    if is_over and not tried:
        return NOT_TRIED
    rest = f"the rest {NOT_TRIED}" if is_over else ", ".join(lacking)
    return f"nothing helped: {'; '.join(part for part in (', '.join(tried), rest) if part)}"

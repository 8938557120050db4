"""Asks all rules of a code about all that there is, and keeps what they answered together."""

import itertools
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from checker.asking import subjects_of
from checker.judging import Judged, JudgedCircuit, JudgedSubject, filled, judge_all, judge_circuits, judge_subjects
from checker.model import FilledCompartment, Installation, Problem
from checker.network.grouping import Grouped
from checker.network.loading import Loading
from checker.network.near_loading import NearLoading
from checker.network.near_ways import NearWays
from checker.network.route import Routing
from checker.progress import Progress
from checker.read.project import FILE_NAME
from checker.rule import Basis, Limit, Tells, Verdict, lacking
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.sureness import Sureness, not_looked_at

#: Whether a subject is asked about, by the keys of its carriers (of a circuit: none) and the marks of its circuits.
Touches = Callable[[Iterable[str], Iterable[str]], bool]


@dataclass(frozen=True, slots=True)
class Answers:
    """Every verdict of a run: on compartments, on circuits, on anything else, and on the model itself, which are no findings.

    ``problems``: what wasn't asked, though it could have been.
    """

    judged: tuple[Judged, ...]
    rated: tuple[JudgedCircuit, ...]
    others: tuple[JudgedSubject, ...]
    of_model: tuple[JudgedSubject, ...]
    problems: tuple[Problem, ...]

    def all(self) -> Iterator[Judged | JudgedCircuit | JudgedSubject]:
        """All of them."""
        return itertools.chain(self.judged, self.rated, self.others, self.of_model)

    def verdicts(self) -> Iterator[Verdict]:
        """All verdicts."""
        return (item.verdict for item in self.all())


def ask_all(
    installation: Installation,
    routing: Routing,
    loading: Loading,
    grouped: Grouped,
    near: NearWays,
    code: Code,
    plugins: Plugins,
    progress: Progress,
    touches: Touches | None = None,
) -> Answers:
    """Asks the code's rules.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies where.
        grouped: What heats what.
        near: The ways that circuits could as well take.
        code: Whose limits apply.
        plugins: The rules that there are.
        progress: Is told how far it is.
        touches: Which subjects to ask about, by their carriers and circuits; None: all.
    """
    progress.stage("judging compartments")
    asked = loading if touches is None else _touched(loading, touches)
    judged = judge_all(asked, plugins.rules, code, progress.step)
    progress.stage("judging circuits")
    circuits = (one for one in grouped.circuits if touches is None or touches((), (one.load.mark,)))
    rated = judge_circuits(circuits, plugins.rules, code)
    problems: list[Problem] = []
    if installation.near_mm is not None:
        where = NearLoading(installation, routing.network)
        carriers = routing.network.carriers
        sureness = Sureness(near, installation.near_mm, loading, where, grouped, carriers, plugins.rules, code)
        judged, rated = sureness.told(judged, rated)
        problems.extend(not_looked_at(judged, rated))
    progress.stage("judging what else there is")
    wanted = {plugins.rules[key].subject for key, limits in code.limits.items() if not lacking(limits)}
    subjects = subjects_of(wanted, installation, routing, loading, grouped)
    if FilledCompartment in wanted:
        subjects = itertools.chain(subjects, filled(asked, plugins.rules, code))
    if touches is not None:
        subjects = (one for one in subjects if touches(one.about.carriers, one.about.circuits))
    rest = judge_subjects(subjects, plugins.rules, code)
    of_model = tuple(item for item in rest if plugins.rules[item.rule].tells is Tells.MODEL)
    others = tuple(item for item in rest if plugins.rules[item.rule].tells is not Tells.MODEL)
    answers = Answers(tuple(judged), tuple(rated), others, of_model, ())
    problems.extend(_asked_of_nothing(code, answers))
    return Answers(answers.judged, answers.rated, others, of_model, tuple(problems))


def _touched(loading: Loading, touches: Touches) -> Loading:
    """The compartments that are asked about."""
    return replace(
        loading,
        compartments=tuple(
            item
            for item in loading.compartments
            if touches((item.carrier.key,), [cable.circuit for cable in item.cables])
        ),
    )


def _asked_of_nothing(code: Code, answers: Answers) -> Iterator[Problem]:
    """A problem for each rule that the project sets a limit for and that found nothing to ask about: silence isn't a pass."""
    asked = {item.rule for item in answers.all()}
    for key, limits in code.limits.items():
        own = [value for _, value in limits if isinstance(value, Limit) and value.basis is Basis.PROJECT]
        if own and not lacking(limits) and key not in asked:
            yield Problem(
                f'{FILE_NAME}, [limits."{key}"]', "nothing was asked by it",
                "the models hold nothing that the rule speaks of, or don't tell it", f"see: wayroom explain {key}",
            )  # fmt: skip


def not_asked(code: Code, plugins: Plugins) -> list[str]:
    """What other codes ask about and this one doesn't, or not without a limit of the project's, so that silence isn't taken for a pass."""
    # rules of fill and of ratings stand in for each other from code to code
    left = [key for key, rule in plugins.rules.items() if key not in code.limits and rule.tells is Tells.FINDING]
    told = []
    if left:
        told = [
            f"Under {code.key} nothing was asked by {', '.join(left)}: there are no figures of that code for it here."
        ]
    waiting = [
        f"{rule_id} ({', '.join(names)})" for rule_id, limits in code.limits.items() if (names := lacking(limits))
    ]
    if waiting:
        told.append(f"Not asked, as wayroom.toml gives no limit for it: {', '.join(waiting)}.")
    return told

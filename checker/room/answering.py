"""Answers: reads and judges what there is, tries the circuits on the ways that there are, and picks the best."""

from dataclasses import dataclass, field, replace

from checker.answers import not_asked
from checker.checking import code_for
from checker.loosening import in_force
from checker.model import Carrier, Installation, State
from checker.network.ends import Names
from checker.network.routing import route_all
from checker.progress import Progress
from checker.read.installation import read_installation
from checker.result.archive import newest_time
from checker.room.counting import Counting, Tried
from checker.room.needed import needs_of
from checker.room.question import Bundle, RoomQuestion, bundle_of
from checker.room.tries import Tries, one_more
from checker.room.ways import NoneFound, Ways, check_ends
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins, load_plugins
from checker.trial import situation_of

NO_CIRCUITS = "no circuits are known, so what lies in the carriers isn't either"


@dataclass(frozen=True, slots=True)
class Answer:
    """What is to be said.

    ``none``: why there is no way at all; then there is no ``best``. ``others`` are the ways that were tried besides, in the order in which
    they would be picked. ``doubts``: why nothing can pass, whatever the rules say. ``needs``: what would settle unknown findings, by id.
    ``not_all``: further ways weren't tried. ``names``: what carriers are called.
    """

    question: RoomQuestion
    code: Code
    bundle: Bundle
    carriers: dict[str, Carrier]
    best: Counting | None = None
    others: tuple[Counting, ...] = ()
    none: NoneFound | None = None
    doubts: tuple[str, ...] = ()
    needs: dict[str, tuple[str, ...]] = field(default_factory=dict)
    not_all: bool = False
    cautions: tuple[str, ...] = ()
    names: Names | None = None

    def in_route(self, key: str) -> str:
        """What the schedule's route calls a carrier."""
        return key if self.names is None else self.names.in_route(self.carriers[key])

    @property
    def times(self) -> int:
        """How many circuits the verdict is about."""
        return self.question.times or 1

    @property
    def outcome(self) -> Outcome:
        """Whether as many as are asked for go in."""
        if self.none is not None:
            return Outcome.FAIL if self.none.is_known else Outcome.UNKNOWN
        if self.best is None:
            return Outcome.UNKNOWN
        outcome = self.best.of(self.times).outcome
        return Outcome.UNKNOWN if outcome is Outcome.PASS and self.doubts else outcome

    @property
    def most(self) -> int | None:
        """How many such circuits go in by the best way; None: that can't be said."""
        if self.best is None:
            return 0 if self.none is not None and self.none.is_known else None
        return None if self.doubts and self.best.most else self.best.most

    @property
    def fits(self) -> int | None:
        """How many go in as far as can be judged; None: it isn't known in which compartment, so that says nothing."""
        if self.best is not None and self.best.is_unsure:
            return None
        return self.most if self.best is None else self.best.fits

    @property
    def next(self) -> Tried | None:
        """What was tried with one more than go in; None: so many weren't tried."""
        return None if self.best is None else one_more(self.best)

    @property
    def exit_status(self) -> int:
        """0: they go in; 1: they don't; 3: it can't be said."""
        return {Outcome.PASS: 0, Outcome.FAIL: 1}.get(self.outcome, 3)


def answer(question: RoomQuestion, progress: Progress | None = None) -> Answer:
    """Answers a question.

    Raises:
        WayroomError: It is asked wrongly, or nothing can be read.
    """
    progress = progress or Progress()
    plugins = load_plugins()
    code, _ = code_for(question.sources, question.code, plugins)
    carriers = tuple(plugins.carriers.values())
    installation = read_installation(question.sources, plugins.cables, progress.stage, carriers)
    code, _ = in_force(code, newest_time(installation.files))
    bundle = bundle_of(question, installation, plugins)
    check_ends(installation, question.origin, question.call)
    return answer_for(question, installation, bundle, code, plugins, progress)


def answer_for(
    question: RoomQuestion,
    installation: Installation,
    bundle: Bundle,
    code: Code,
    plugins: Plugins,
    progress: Progress | None = None,
) -> Answer:
    """Answers a question about what was read.

    Args:
        question: What is asked.
        installation: What there is.
        bundle: The circuit that is to be added.
        code: Whose limits apply.
        plugins: The rules that there are.
        progress: Is told how far it is.
    """
    progress = progress or Progress()
    progress.stage("routing circuits")
    routing = route_all(installation, progress.step)
    ways = Ways(installation, routing, bundle.circuit)
    first = ways.first()
    blank = Answer(question, code, bundle, {carrier.key: carrier for carrier in installation.carriers})
    cautions = tuple(not_asked(code, plugins))
    if installation.near_mm is not None:
        cautions = (*cautions, "Of circuits that are there already ways that are a little longer weren't looked at.")
    blank = replace(blank, cautions=cautions, names=Names(installation, only_carriers=True))
    if isinstance(first, NoneFound):
        return replace(blank, none=first)
    progress.stage("judging what there is")
    situation = situation_of(installation, routing, code, plugins)
    tries = Tries(question, bundle, situation, code, plugins)
    found, not_all = tries.all(ways, first, progress)
    is_empty = all(circuit.state is State.REMOVED for circuit in installation.circuits)
    doubts = (NO_CIRCUITS,) if is_empty else ()
    best = found[0]
    needs = needs_of(best.of(question.times or 1), code, plugins)
    return replace(blank, best=best, others=tuple(found[1:]), doubts=doubts, needs=needs, not_all=not_all)

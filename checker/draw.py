"""The command ``wayroom draw``: the section of a carrier of a model, or of one carrier and a list of cables, as a picture."""

from dataclasses import dataclass
from pathlib import Path

from checker.draw_file import Drawn, check_out, safe_name, write
from checker.draw_model import Wanted, draw_carrier
from checker.errors import InputError
from checker.fit import Question, answer
from checker.fit.carriers import kind_with_sides
from checker.fit.section import section_of_answer
from checker.rule.plugins import Plugins, code_of, load_plugins
from checker.section.drawing import sketch_of
from checker.section.parts import Way

_LARGEST_SEED = 999_999
#: More would take minutes, and tell no more.
_MOST_TRIALS = 1000


@dataclass(frozen=True, slots=True)
class DrawOptions:
    """What the command was given. ``where`` are the models and, last, the carrier; empty: one without a model."""

    where: tuple[str, ...]
    compartment: int | None
    circuits: Path | None
    code: str | None
    out: Path | None
    as_laid: bool
    seed: int | None
    carrier: str
    inside: str
    bore: str
    kind: str
    cables: tuple[str, ...]
    length_m: float | None
    bends: float | None
    space_factor: str | None = None
    trials: int | None = None
    previous: Path | None = None
    now: str | None = None

    @property
    def without_model(self) -> dict[str, object]:
        """The options that are for drawing without a model, as far as they are given."""
        given = {"--carrier": self.carrier, "--inside": self.inside, "--bore": self.bore, "--cable": self.cables,
                 "--length": self.length_m, "--bends": self.bends, "--space-factor": self.space_factor}  # fmt: skip
        return {name: value for name, value in given.items() if value not in {None, "", ()}}

    @property
    def with_model(self) -> dict[str, object]:
        """The options that are for a carrier of a model, as far as they are given."""
        given = {
            "--compartment": self.compartment,
            "--circuits": self.circuits,
            "--previous": self.previous,
            "--now": self.now,
        }
        return {name: value for name, value in given.items() if value is not None}


def draw_and_write(options: DrawOptions) -> str:
    """Draws what is asked for and writes it.

    Returns:
        What is told: where the drawing is.

    Raises:
        WayroomError: It couldn't be drawn; nothing was written.
    """
    check_out(options.out)
    way = _way(options)
    if options.where:
        if options.without_model:
            what = f"{' and '.join(options.without_model)} is for drawing without a model"
            raise InputError("wayroom draw", what, "leave it out, or name no model")
        if len(options.where) < 2:
            hint = "write: wayroom draw WHERE SEGMENT, the carrier by its GlobalId, Tag or Name"
            raise InputError("wayroom draw", "a model and a carrier in it are needed", hint)
        models = tuple(Path(text) for text in options.where[:-1])
        wanted = Wanted(
            models, options.where[-1], options.compartment, options.circuits, options.code, way, options.previous,
            options.now,
        )  # fmt: skip
        return _told(write(draw_carrier(wanted), options.out))
    if not options.without_model:
        hint = "write: wayroom draw WHERE SEGMENT, or --carrier KEY --cable KEY=COUNT --code KEY"
        raise InputError("wayroom draw", "nothing to draw is named", hint)
    if options.with_model:
        what = f"{' and '.join(options.with_model)} is for a carrier of a model"
        raise InputError("wayroom draw", what, "leave it out, or name a model and a carrier")
    kind = kind_with_sides(options.kind)
    if not options.cables:
        raise InputError("--cable", "no cable is named", "say --cable KEY=COUNT; see: wayroom list cables")
    plugins = load_plugins()
    question = Question(
        code_of(plugins, options.code or ""), options.carrier, options.inside, options.bore, kind,
        options.cables, length_m=options.length_m, bends=options.bends,
        space_factor=options.space_factor, geometry=True,
    )  # fmt: skip
    return _told(write(draw_bundle(question, plugins, way), options.out))


def _way(options: DrawOptions) -> Way:
    """How cables are laid, by the options for that."""
    if options.seed is not None and not options.as_laid:
        raise InputError(
            "--seed", "it is for the disorder of cables laid by hand", "say --as-laid too, or leave it out"
        )
    if options.seed is not None and not 0 <= options.seed <= _LARGEST_SEED:
        raise InputError("--seed", f"{options.seed} can't be", f"write a whole number from 0 to {_LARGEST_SEED}")
    if options.trials is not None and not options.as_laid:
        raise InputError("--trials", "it is for cables laid by hand", "say --as-laid too, or leave it out")
    if options.trials is not None and not 1 <= options.trials <= _MOST_TRIALS:
        raise InputError("--trials", f"{options.trials} can't be", f"write a whole number from 1 to {_MOST_TRIALS}")
    return Way(options.as_laid, options.seed or 0, options.trials or 1)


def _told(path: Path) -> str:
    return f"drawn: {path}"


def draw_bundle(question: Question, plugins: Plugins, way: Way) -> Drawn:
    """Draws one carrier and a list of cables, without a model, with the verdict that ``wayroom fit`` has.

    Raises:
        InputError: It is asked wrongly.
    """
    found = answer(question, plugins)
    view = section_of_answer(found, code=question.code.full_title, way=way)
    return Drawn(sketch_of(view), f"{safe_name(question.carrier or found.subject.carrier.place.label)}.svg")

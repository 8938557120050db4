"""From a question to the compartment that the code is asked about."""

from dataclasses import dataclass, replace

from checker.errors import InputError
from checker.fit.by_code import ByCode, by_code
from checker.fit.cables import cable_of, kind_of, what_is_there
from checker.fit.carriers import carrier_of
from checker.fit.question import Question
from checker.model import Carrier, CarrierKind, LoadedCompartment, PlacedCable, Run
from checker.network.sizing import empty_compartment, insides
from checker.rule.code import Code
from checker.rule.plugins import Plugins


@dataclass(frozen=True, slots=True)
class Asked:
    """A question, understood.

    ``subject`` holds the cables that were listed and what is there already. ``most``: one cable of the kind of which it is asked how many
    go in besides; None: that isn't asked.
    """

    by_code: ByCode
    subject: LoadedCompartment
    size_source: str
    listed: tuple[PlacedCable, ...]
    most: PlacedCable | None = None


def asked_of(question: Question, plugins: Plugins) -> Asked:
    """Understands a question.

    Raises:
        InputError: It is asked wrongly.
    """
    if not question.code.limits:
        raise InputError("--code", f"{question.code.key} has no rules", "see: wayroom list codes")
    carrier, source = carrier_of(question, plugins.carriers, plugins.cables)
    code = by_code(question.code, plugins, [carrier.kind], question.space_factor, question.spare)
    cables = tuple(cable_of("--cable", text, plugins.cables, plugins.carriers) for text in question.cables)
    if not cables and not question.most:
        raise InputError(
            "--cable", "no cable is named", "say --cable KEY=COUNT or --most KEY; see: wayroom list cables"
        )
    run = run_of(carrier, question.length_m, question.bends)
    subject = compartment_of(carrier, code.code, cables, run)
    if question.occupied:
        subject = replace(subject, cables=(*cables, what_is_there(question.occupied, subject.area_mm2)))
    most = kind_of("--most", question.most.strip(), plugins.cables, plugins.carriers) if question.most else None
    return Asked(code, subject, source, cables, most)


def compartment_of(
    carrier: Carrier, code: Code, cables: tuple[PlacedCable, ...], run: Run | None = None
) -> LoadedCompartment:
    """The inside of a carrier with one compartment, with cables in it."""
    (inside,) = insides(carrier, code.sizes)
    return replace(empty_compartment(carrier, 1, inside), cables=cables, run=run, with_working=True)


def run_of(carrier: Carrier, length_m: float | None, bends: float | None, *, strict: bool = True) -> Run | None:
    """The run of a conduit; None for what is none.

    Args:
        carrier: The carrier.
        length_m: Of the whole run between enclosures; None: not known.
        bends: Right angles by which it turns; None: not known.
        strict: Whether figures are refused for a carrier that has no run.

    Raises:
        InputError: A figure can't be, or the carrier has no run.
    """
    for name, value, most in (("--length", length_m, 1000.0), ("--bends", bends, 100.0)):
        if value is None:
            continue
        if strict and carrier.kind is not CarrierKind.CONDUIT:
            raise InputError(name, f"it is for conduit, and this is {carrier.kind}", "leave it out")
        if not 0.0 <= value <= most or (name == "--length" and value == 0.0):
            raise InputError(name, f"{value:g} can't be", f"write a number from 0 to {most:g}")
    if carrier.kind is not CarrierKind.CONDUIT:
        return None
    turn = None if bends is None else bends * 90.0
    return Run(1, (carrier.key,), length_m, turn, True if length_m is not None else None)

"""A rule's page of the manual: what it asks, of what, by which limits, and what a project may say of them."""

import inspect
import re
import textwrap

from checker.errors import InputError
from checker.model import (
    CarrierPair,
    CircuitPair,
    DividedFitting,
    Enclosure,
    FilledCompartment,
    LoadedCompartment,
    LoadedRun,
    ModelledCarrier,
    Penetration,
    RoutedCircuit,
)
from checker.rule import Limits, Rule, Table, Tells, tighter_is_lower
from checker.rule.code import Code, differences
from checker.rule.limits import Limit, figures_of, is_definition, is_only_a_codes, most_of, needed_to_ask
from checker.rule.plugins import Plugins, load_plugins
from checker.waivers_told import PAGES

#: Sort of subject → what people would call one.
SUBJECT_WORDS: dict[type, str] = {
    LoadedCompartment: "each compartment, with the cables that lie in it",
    FilledCompartment: "each compartment, with what the code's rule of fill says of it",
    RoutedCircuit: "each circuit that carries a load, on every length of its way",
    DividedFitting: "each place where carriers meet and what lies apart may mix",
    Enclosure: "each carrier segment with all its compartments, and the cables and circuits in them",
    LoadedRun: "each run of conduit between points where cables can be drawn in",
    Penetration: "each compartment that passes a wall or slab rated for fire, or may",
    CarrierPair: "each two carriers that run side by side, nearer than 1.8 m, of which one holds data and the other power, or may",
    CircuitPair: "each two circuits that the schedule or the project wants apart",
    ModelledCarrier: "each carrier segment, as the model has it",
}
TELLS_WORDS = {
    Tells.FILL: "It is what the code says of how full such a compartment is.",
    Tells.RATING: "It is what the code says of a circuit's current-carrying capacity.",
    Tells.MODEL: "It asks about the model: what it finds stands among the problems, and is no finding.",
}
NO_FIGURE = "this code has no figure"


def manual_page(rule_id: str, code_key: str | None, width: int = 100) -> str:
    """A rule's page, and its limits under one code or all, in lines of a width.

    Raises:
        InputError: There is no such rule or code, or the code doesn't run it.
    """
    if rule_id in PAGES:
        return _of_waivers(rule_id, code_key, width)
    plugins = load_plugins()
    rule, codes = _asked_for(rule_id, code_key, plugins)
    blocks = [
        _fill(f"{rule.id}: {rule.title}", width),
        _fill(_about(rule), width),
        _reflowed(rule.manual, width),
        _settable(rule, width),
        _waivable(rule, width),
        *(_limits(rule, code, width) for code in codes),
    ]
    return "\n\n".join(block for block in blocks if block)


def _of_waivers(rule_id: str, code_key: str | None, width: int) -> str:
    """The page of what is asked of waivers, by no code and under all of them."""
    if code_key is not None and code_key not in (codes := load_plugins().codes):
        raise InputError("--code", f"there is no code {code_key!r}", f"one of: {', '.join(codes)}")
    title, manual = PAGES[rule_id]
    about = "Asked about each entry of [[waivers]] in wayroom.toml, under every code; by the checker itself, not by a distribution."
    return "\n\n".join([_fill(f"{rule_id}: {title}", width), _fill(about, width), _reflowed(manual, width)])


def _asked_for(rule_id: str, code_key: str | None, plugins: Plugins) -> tuple[Rule, list[Code]]:
    if rule_id not in plugins.rules:
        raise InputError(rule_id, "there is no such rule", f"one of: {', '.join([*plugins.rules, *PAGES])}")
    if code_key is not None and code_key not in plugins.codes:
        raise InputError("--code", f"there is no code {code_key!r}", f"one of: {', '.join(plugins.codes)}")
    running = {key: code for key, code in plugins.codes.items() if rule_id in code.limits}
    if code_key is not None and code_key not in running:
        raise InputError(
            "--code", f"{code_key} doesn't run {rule_id}", f"it runs under: {', '.join(running) or 'none'}"
        )
    return plugins.rules[rule_id], [running[code_key]] if code_key else list(running.values())


def _about(rule: Rule) -> str:
    """Of what it is asked, what its answer stands for, and who ships it."""
    of = f"; of {', '.join(sorted(kind.value for kind in rule.kinds))} only" if rule.kinds else ""
    told = [f"Asked about {SUBJECT_WORDS[rule.subject]}{of}.", TELLS_WORDS.get(rule.tells, "")]
    return " ".join([*filter(None, told), f"From the distribution {rule.distribution}."])


def _settable(rule: Rule, width: int) -> str:
    """What its limits are, and which of them a project may set, which way."""
    limits = rule.limits
    figures = figures_of(limits)
    doc = limits_explained(limits)
    if not figures:
        return _reflowed(doc, width)
    lines = [_fill(f'A project may set, in wayroom.toml, [limits."{rule.id}"], with a reason:', width)]
    wide = max(map(len, figures))
    lines += [
        _fill(f"{name:<{wide}}  {_way(limits, name)}", width, "  ", f"    {'':<{wide}}")
        for name in figures
    ]  # fmt: skip
    if all(is_definition(limits, name) for name in figures):
        lines = [
            _fill(f"A project can set none of its figures: {', '.join(figures)} say what the rule speaks of.", width)
        ]
    else:
        lines.append(_fill("A looser figure has to be waived by somebody, until a day: [[loosened]].", width, "  "))
    if needed := needed_to_ask(limits):
        lines.append(
            _fill(f"Where neither code nor project gives {' and '.join(needed)}, the rule isn't asked.", width, "  ")
        )
    return "\n\n".join(
        filter(None, [f"What its limits are:\n{_reflowed(doc, width)}" if doc else "", "\n".join(lines)])
    )


def _waivable(rule: Rule, width: int) -> str:
    """How single findings of it are waived."""
    if rule.tells is Tells.MODEL:
        return ""
    told = "A single finding that fails can be waived by somebody, until a day: [[waivers]], with the issue, or with the rule and place."
    reach = "Its up_to is the figure up to which that holds, in the unit of value in failing.csv: wayroom explain waiver.exceeded."
    return _fill(f"{told} {reach}", width)


def limits_explained(limits: type[Limits]) -> str:
    """What is said of what a rule reads from a code, that of what it takes from others first; empty: nothing."""
    kinds = [kind for kind in reversed(limits.__mro__) if issubclass(kind, Limits) and kind is not Limits]
    return "\n\n".join(inspect.cleandoc(kind.__dict__["__doc__"]) for kind in kinds if kind.__dict__.get("__doc__"))


def _way(limits: type[Limits], name: str) -> str:
    if is_definition(limits, name):
        return "says what the rule speaks of; a project can't set it"
    parts = ["stricter is lower" if tighter_is_lower(limits, name) else "stricter is higher"]
    if most_of(limits, name) == 1.0:
        parts.append("a share, 1 at the most")
    if is_only_a_codes(limits, name):
        parts.append("only where the code has it")
    return ", ".join(parts)


def _limits(rule: Rule, code: Code, width: int) -> str:
    """Its limits under a code, each with what stands behind it."""
    lines = [_fill(f"Limits under {code.key}, {code.full_title}:", width, "", "  ")]
    otherwise = {(one.rule, one.name): one for one in differences(code)}
    for name, value in code.limits[rule.id]:
        told = f"{name}{_figure(value)}"
        difference = otherwise.get((rule.id, name))
        if difference is not None and code.base is not None:
            told += f" [{code.base.key} has {_short(difference.before)}]"
        lines.append(_fill(told, width, "  ", "      "))
    if (rule.id, "") in otherwise and code.base is not None:
        lines.append(f"  {code.base.key} doesn't ask it")
    if not rule.limits.model_fields:
        lines.append("  none: it asks by no figure")
    return "\n".join(lines)


def _figure(value: object) -> str:
    if isinstance(value, Limit):
        return f" = {value.value:g}  ({value.basis}; {value.cited}; confidence: {value.confidence})"
    if isinstance(value, Table):
        return f": table {value.name}, {len(value.rows)} rows, each with its source"
    return f": {NO_FIGURE}"


def differences_in_words(code: Code) -> list[str]:
    """What a code asks otherwise than the one that it extends, as "fill.area space_factor: 0.4, none there"."""
    told = []
    for one in differences(code):
        if not one.name:
            told.append(f"{one.rule}: {'asked besides' if one.before is None else 'not asked'}")
            continue
        after, before = _short(one.after), _short(one.before)
        there = "as there, by another source" if after == before else f"{before} there"
        told.append(f"{one.rule or 'sizes'} {one.name}: {after}, {there}")
    return told


def _short(value: object) -> str:
    if isinstance(value, Limit):
        return f"{value.value:g}"
    return f"table {value.name}" if isinstance(value, Table) else "none"


def _reflowed(text: str, width: int) -> str:
    """A docstring for a terminal: paragraphs and points in lines of a width, formulas as they stand, no marks of code."""
    blocks = []
    for block in text.strip().replace("**", "").replace("`", "").split("\n\n"):
        if block.startswith("    "):
            blocks.append(block)
            continue
        points = re.split(r"\n(?=\* |\d\. )", block)
        hanging = "  " if len(points) > 1 or block.startswith("* ") else ""
        blocks.append("\n".join(_fill(" ".join(point.split()), width, "", hanging) for point in points))
    return "\n\n".join(blocks)


def _fill(text: str, width: int, first: str = "", rest: str | None = None) -> str:
    later = first if rest is None else rest
    return textwrap.fill(
        text, width, initial_indent=first, subsequent_indent=later, break_long_words=False, break_on_hyphens=False
    )

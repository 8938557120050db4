"""A plug-in that breaks down when it's read or asked is told by its rule and distribution, not as a defect of Wayroom's own."""

from dataclasses import replace
from typing import Any

import pytest

from checker.errors import PluginError
from checker.judging import judge_subjects
from checker.model import CarrierKind, CircuitPair, Enclosure, LoadedCompartment
from checker.rule import Limit, Limits, Outcome, Rule, Table, Verdict, judge, judge_circuit, judge_subject, rule
from checker.rule.plugins import load_plugins
from checker.rule.rule import read_rule
from checker.testing_circuit_pairs import circuit_pair_of
from checker.testing_circuits import routed_circuit_of
from checker.testing_compartments import subject_of
from checker.testing_enclosures import enclosure_of

COMPARTMENT = subject_of({"kind": "trunking", "area_mm2": 2500.0})
CIRCUIT = routed_circuit_of(
    {"circuits": [{"mark": "C7", "csa_mm2": 2.5}], "carriers": [{"kind": "trunking", "circuits": ["C7"]}]}
)
ENCLOSURE = enclosure_of({"kind": "tray", "cables": []})


class NoLimits(Limits):
    """None."""


def divides_by_nothing(subject: Any, limits: Any) -> Any:
    del subject, limits
    return 1 / 0


def answers_true(subject: Any, limits: Any) -> Any:
    del subject, limits
    return True


def answers_text(subject: Any, limits: Any) -> Any:
    del subject, limits
    return Verdict("pass", "it is well")  # type: ignore[arg-type]


def theirs(body: Any, subject: type, distribution: str = "theirs", **more: Any) -> Rule:
    def function(subject: Any, limits: NoLimits) -> Verdict:
        return body(subject, limits)  # type: ignore[no-any-return]

    function.__annotations__["subject"] = subject
    return read_rule(rule(id="odd.one", title="Odd", **more)(function), distribution)


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (divides_by_nothing, "it raised ZeroDivisionError: division by zero (line "),
        (answers_true, "it answered 'True', which is no Verdict"),
        (answers_text, "outcome is \"'pass'\", which is no Outcome"),
    ],
)
@pytest.mark.parametrize(
    ("ask", "subject", "named"),
    [
        (judge, COMPARTMENT, f"compartment 1 of {COMPARTMENT.carrier.place.label}"),
        (judge_circuit, CIRCUIT, "circuit C7"),
        (judge_subject, ENCLOSURE, f"the Enclosure {ENCLOSURE.carrier.place.label}"),
    ],
)
def test_a_rule_that_breaks_down_is_told_by_its_name_its_distribution_and_its_subject(
    body: Any, words: str, ask: Any, subject: Any, named: str
) -> None:
    with pytest.raises(PluginError) as caught:
        ask(theirs(body, type(subject)), subject, NoLimits())
    assert caught.value.where == f"rule odd.one (from theirs), asked about {named}"
    assert words in caught.value.what
    assert caught.value.hint == "mend or uninstall theirs"


def test_the_line_that_raised_is_told_without_where_the_file_lies() -> None:
    line = divides_by_nothing.__code__.co_firstlineno + 2
    with pytest.raises(PluginError) as caught:
        theirs(divides_by_nothing, LoadedCompartment).function(COMPARTMENT, NoLimits())
    assert caught.value.what.endswith(f"(line {line} of test_plugin_defects.py)")


def test_a_rule_of_ours_that_breaks_down_is_to_be_reported() -> None:
    with pytest.raises(PluginError) as caught:
        judge(theirs(divides_by_nothing, LoadedCompartment, "wayroom"), COMPARTMENT, NoLimits())
    assert "(from wayroom)" in caught.value.where
    assert "please report it" in caught.value.hint


def test_a_fail_of_what_lies_in_no_carrier_is_told_by_its_rule() -> None:
    """Two circuits that share no carrier: an issue of theirs has no place. It was an IndexError later on."""

    def fails(subject: Any, limits: Any) -> Any:
        del subject, limits
        return Verdict(Outcome.FAIL, "too many")

    pair = circuit_pair_of({"circuits": ["C1", "C2"]})
    assert pair.about.carriers == ()
    code = replace(load_plugins().codes["bs-7671"], limits={"odd.one": NoLimits()})
    with pytest.raises(PluginError, match=r"rule odd.one \(from theirs\).*it fails something that lies in no carrier"):
        judge_subjects([pair], {"odd.one": theirs(fails, CircuitPair)}, code)


def test_a_rule_that_answers_is_heard_and_keeps_its_name() -> None:
    answer = Verdict(Outcome.PASS, "it is well")
    found = theirs(lambda subject, limits: answer, LoadedCompartment)  # noqa: ARG005 - a rule's signature
    assert found.function(COMPARTMENT, NoLimits()) is answer
    assert found.function.__name__ == "function"


@pytest.mark.parametrize(
    ("asks", "words"),
    [
        (lambda subject: subject.colour == "red", "its asks: it raised AttributeError"),
        (lambda subject: None, "its asks answered 'None', which is neither True nor False"),  # noqa: ARG005
    ],
)
def test_what_says_whether_it_has_a_question_is_held_to_it_too(asks: Any, words: str) -> None:
    """None would mean that it is never asked, and nobody is told."""
    with pytest.raises(PluginError) as caught:
        theirs(answers_true, Enclosure, asks=asks).asks(ENCLOSURE)
    assert words in caught.value.what
    assert "odd.one (from theirs)" in caught.value.where


@pytest.mark.parametrize(
    "rule_id", ["odd", "Odd.one", "odd.one.more", "odd one", "odd-rule.one", ".one", "1.one", 5, "odd.one\n"]
)
def test_an_id_is_two_words_with_a_dot(rule_id: Any) -> None:
    @rule(id=rule_id, title="Odd")
    def function(subject: LoadedCompartment, limits: NoLimits) -> Verdict:
        raise NotImplementedError

    with pytest.raises(PluginError, match="is no rule's id") as caught:
        read_rule(function, "theirs")
    assert 'id="family.name"' in caught.value.hint


def test_a_rule_without_a_title_is_refused() -> None:
    @rule(id="odd.one", title=" ")
    def function(subject: LoadedCompartment, limits: NoLimits) -> Verdict:
        raise NotImplementedError

    with pytest.raises(PluginError, match="it has no title"):
        read_rule(function, "theirs")


class Bare(Limits):
    most: float


class Several(Limits):
    most: list[Limit]


class Either(Limits):
    most: Limit | Table


class Good(Limits):
    most: Limit
    more: Limit | None = None
    table: Table
    tables: Table | None = None


@pytest.mark.parametrize(("limits", "words"), [(Bare, "most: float"), (Several, "most: list"), (Either, "most: ")])
def test_limits_that_no_code_can_give_are_refused_when_the_rule_is_read(limits: type[Limits], words: str) -> None:
    def function(subject: LoadedCompartment, limits: Any) -> Verdict:
        raise NotImplementedError

    function.__annotations__["limits"] = limits
    with pytest.raises(PluginError, match="which no code can give") as caught:
        read_rule(rule(id="odd.one", title="Odd")(function), "theirs")
    assert f"in {limits.__name__} there is {words}" in caught.value.what
    assert "a Limit, a Table" in caught.value.hint


def test_limits_and_tables_with_none_beside_them_or_not_are_read() -> None:
    def function(subject: LoadedCompartment, limits: Good) -> Verdict:
        raise NotImplementedError

    assert read_rule(rule(id="odd.one", title="Odd")(function), "theirs").limits is Good


@pytest.mark.parametrize(
    ("kinds", "what", "hint"),
    [
        (CarrierKind.TRUNKING, "which is no list", "kinds is a list; write kinds=[CarrierKind.TRUNKING]"),
        ("conduits", "kinds is 'conduits', which is no list", "kinds is a list; write kinds=[CarrierKind.TRAY]"),
        (5, "kinds is 5, which is no list", "kinds is a list"),
        (
            ["trunking"],
            "in kinds 'trunking' is text",
            "write kinds=[CarrierKind.TRUNKING], with: from checker.model import",
        ),
        (["duct"], "'duct' is no kind of carrier", "CarrierKind.TRUNKING, CarrierKind.CONDUIT"),
        ([[]], "[] is no kind of carrier", "CarrierKind.TRUNKING, CarrierKind.CONDUIT"),
    ],
)
def test_kinds_that_are_none_say_how_they_are_written(kinds: Any, what: str, hint: str) -> None:
    with pytest.raises(PluginError) as caught:
        theirs(answers_true, LoadedCompartment, kinds=kinds)
    assert caught.value.where == "rule odd.one (from theirs)"
    assert what in caught.value.what
    assert hint in caught.value.hint


def test_kinds_may_come_as_any_sort_of_list() -> None:
    kinds = (kind for kind in (CarrierKind.TRAY, CarrierKind.LADDER))
    assert theirs(answers_true, LoadedCompartment, kinds=kinds).kinds == {CarrierKind.TRAY, CarrierKind.LADDER}

"""A rule's page of the manual: what it asks, of what, by which figures, and what a project may say of them."""

import pytest

from checker.errors import InputError
from checker.listing import LISTS
from checker.manual import SUBJECT_WORDS, limits_explained, manual_page
from checker.rule import Limit, Tells
from checker.rule.limits import figures_of, needed_to_ask
from checker.rule.plugins import load_plugins
from checker.rule.rule import SUBJECTS

PLUGINS = load_plugins()


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("rule", PLUGINS.rules.values(), ids=lambda rule: rule.id)
def test_limits_are_explained_to_people_and_not_in_the_words_of_a_program(rule) -> None:  # type: ignore[no-untyped-def]
    """What isn't given is said so. The rules of the model have no limits, and say "None: it is joined or it isn't"."""
    told = limits_explained(rule.limits)
    assert "None" not in told or (rule.tells is Tells.MODEL and not rule.limits.model_fields)


def test_every_sort_of_subject_has_words_of_its_own() -> None:
    assert set(SUBJECT_WORDS) == set(SUBJECTS)
    assert len(set(SUBJECT_WORDS.values())) == len(SUBJECTS)


@pytest.mark.parametrize("rule", PLUGINS.rules.values(), ids=lambda rule: rule.id)
def test_a_page_has_question_formula_limits_example_subject_and_distribution(rule) -> None:  # type: ignore[no-untyped-def]
    page = manual_page(rule.id, None)
    told = flat(page)
    assert told.startswith(f"{rule.id}: {rule.title} Asked about ")
    for words in ("?", "Clause:", "Worked example.", "Not asked here:", f"From the distribution {rule.distribution}."):
        assert words in told
    assert f"Asked about {SUBJECT_WORDS[rule.subject]}" in told
    formulas = [block for block in rule.manual.rstrip().replace("`", "").split("\n\n") if block.startswith("    ")]
    assert all(block in page for block in formulas)
    assert formulas or rule.tells is Tells.MODEL
    assert "`" not in page
    running = [code for code in PLUGINS.codes.values() if rule.id in code.limits]
    assert told.count("Limits under ") == len(running)
    for code in running:
        for name, value in code.limits[rule.id]:
            if isinstance(value, Limit):
                assert f"{name} = {value.value:g} ({value.basis}; {flat(value.cited)}" in told
    for name in figures_of(rule.limits):
        assert f"\n  {name} " in page
    assert ("the rule isn't asked" in told) == bool(needed_to_ask(rule.limits)) or "isn't asked" in rule.manual


@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("rule", PLUGINS.rules)
def test_prose_keeps_to_the_width(rule: str, width: int) -> None:
    formulas = set(PLUGINS.rules[rule].manual.replace("`", "").split("\n"))  # these stand as they are
    lines = manual_page(rule, None, width).split("\n")
    assert [line for line in lines if len(line) > width and line not in formulas] == []


def test_it_says_which_way_a_figure_is_stricter_and_what_it_can_be() -> None:
    assert "\n  space_factor  stricter is lower, a share, 1 at the most\n" in manual_page("fill.compartment", None)
    page = manual_page("grouping.rating", "bs-7671")
    assert "\n  ring_leg_a           stricter is higher, only where the code has it\n" in page


def test_of_a_rule_of_definitions_alone_it_offers_nothing_to_set_or_loosen() -> None:
    page = flat(manual_page("segregation.compartment", None))
    assert "A project can set none of its figures: band_one_to_v, fire_alarm_alone, central_battery_alone" in page
    assert "[[loosened]]" not in page


def test_what_an_answer_stands_for_is_said() -> None:
    for rule in PLUGINS.rules.values():
        told = flat(manual_page(rule.id, None))
        assert ("how full such a compartment is" in told) == (rule.tells is Tells.FILL)
        assert ("a circuit's current-carrying capacity." in told) == (rule.tells is Tells.RATING)
        assert ("stands among the problems, and is no finding" in told) == (rule.tells is Tells.MODEL)


def test_a_figure_that_a_code_lacks_is_said() -> None:
    assert "space_factor: this code has no figure" in flat(manual_page("fill.tray", "bs-7671"))


def test_one_code_alone_is_shown_where_it_is_named() -> None:
    page = manual_page("fill.compartment", "nfpa-70")
    assert "Limits under nfpa-70" in page
    assert "Limits under bs-7671" not in page


@pytest.mark.parametrize(
    ("rule", "code", "words"),
    [
        ("fill.none", None, "there is no such rule"),
        ("fill.compartment", "bs-9999", "there is no code 'bs-9999'"),
        ("fill.conduit", "nfpa-70", "nfpa-70 doesn't run fill.conduit"),
    ],
)
def test_what_is_not_there_is_said(rule: str, code: str | None, words: str) -> None:
    with pytest.raises(InputError, match=words):
        manual_page(rule, code)


def test_the_list_of_rules_says_of_what_each_is_by_which_figures_and_whose() -> None:
    rows = {row["key"]: row for row in LISTS["rules"]()}
    assert set(rows) == set(PLUGINS.rules)
    row = rows["fill.compartment"]
    assert (row["about"], row["limits"], row["distribution"]) == (
        "each compartment, with the cables that lie in it", ["space_factor"], "wayroom",
    )  # fmt: skip


def test_the_list_of_codes_says_which_extends_which() -> None:
    assert [
        (row["key"], row["extends"], row["differs"]) for row in LISTS["codes"]() if row["distribution"] == "wayroom"
    ] == [(key, "", []) for key in PLUGINS.codes]


def test_the_list_of_carriers_says_how_deep_they_can_be_used_and_where_they_are_usual() -> None:
    rows = {row["key"]: row for row in LISTS["carriers"]()}
    # figures 2e: UK heavy return flange, side height 50 mm, usable depth 45 to 48 mm
    tray = rows["tray-heavy-300x50"]
    assert (tray["usable_depth_mm"], tray["perforated"], tray["codes"]) == (45.0, True, ["bs-7671", "iec-60364"])
    assert rows["emt-1"]["codes"] == ["nfpa-70"]

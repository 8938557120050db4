"""What is wrong with the file of a code is told in a sentence each, with rule, limit and what to do."""

import pytest

from checker.errors import PluginError
from checker.rule.code_file import parse_code
from tests.rule.test_extending import HEAD, LIMIT, OURS, file, limit, read

SPACE = 'rules."fill.tray".space_factor'


@pytest.mark.parametrize(
    ("more", "sentences"),
    [
        (
            f'[{SPACE}]\nvalue = 0.4\nbasis = ""\nconfidence = " "\n',
            [
                "fill.tray space_factor basis is empty; it should be one of: requirement, guidance, note",
                "fill.tray space_factor has no source; it should be text: publication and clause",
                "fill.tray space_factor confidence is empty; it should be text: high or medium",
            ],
        ),
        (
            f'[{SPACE}]\nvalue = 0.4\nbasis = "guess"\nsource = "house guide"\nconfidence = "low: a guess"\n',
            [
                "fill.tray space_factor basis = 'guess' can't be that; it should be one of: requirement, guidance, note",
                "fill.tray space_factor confidence: a figure of low confidence doesn't ship as a code's figure",
            ],
        ),
        (
            LIMIT.format(rule="fill.tray", name="space_facter", value=0.4),
            ["fill.tray has space_facter, which isn't known; it can have: space_factor; did you mean space_factor?"],
        ),
        (
            LIMIT.format(rule="fill.tray", name="space_factor", value=0.4) + 'valeu = 3\n',
            ["fill.tray space_factor has valeu, which isn't known; it can have: value, basis, source, confidence; did you mean value?"],
        ),
        (
            '[rules."fill.tray"]\nspace_factor = 0.4\n[rules."fill.conduit"]\nlengths = 3\n',
            [
                'fill.conduit lengths = 3 isn\'t a table of figures; write lengths = { table = "name.csv" }',
                f"fill.tray space_factor = 0.4 isn't a limit; write [{SPACE}] with value, basis, source, confidence",
            ],
        ),
        (
            "[sizes]\nthickest_wall_mm = 3\n",
            ["sizes thickest_wall_mm = 3 isn't a limit; write [sizes.thickest_wall_mm] with value, basis, source, confidence"],
        ),
        (
            "editon = 3\n",
            [("the code has editon, which isn't known; it can have: "
             "extends, without, key, title, edition, note, sizes, rules; did you mean edition?")],
        ),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_limit_is_told_in_a_sentence_each_with_what_to_do(more: str, sentences: list[str]) -> None:
    with pytest.raises(PluginError) as caught:
        read(file("house", "bs-7671", more))
    assert caught.value.where == "code house.toml (from theirs)"
    assert caught.value.what == ". ".join(sentences)
    assert "http" not in str(caught.value)


def test_a_title_of_blanks_and_a_key_of_other_letters_are_refused() -> None:
    text = HEAD.format(key="House A", base="bs-7671").replace("House guide", " ")
    with pytest.raises(PluginError) as caught:
        read(parse_code(text, where="h.toml", distribution="theirs", sha256=""))
    assert caught.value.what.split(". ") == [
        "key = 'House A' can't be that; it should be small letters, digits and hyphens",
        "title is empty; it should be text",
    ]


def test_a_code_that_is_not_there_is_told_with_the_nearest_and_never_with_itself() -> None:
    with pytest.raises(PluginError) as caught:
        read(file("house", "bs7671"))
    choice = ", ".join(sorted(OURS))
    assert caught.value.hint == f"install the distribution that has it, or name one of: {choice}; did you mean bs-7671?"


def test_a_rule_that_is_not_there_is_told_with_the_nearest() -> None:
    with pytest.raises(PluginError) as caught:
        read(file("house", "bs-7671", limit("fil.tray", "space_factor", 0.4)))
    assert caught.value.hint.endswith("did you mean fill.tray?")

"""Words in names, in several languages."""

import csv
from pathlib import Path

import pytest

import checker.read
from checker.read.words import MOST_LETTERS, first_meaning, is_word, meaning, names_another, plain


def said(role: str, text: str) -> str | None:
    found = meaning(role, text)
    return None if found is None else found[0]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Cable Tray 300", "tray"),
        ("CABLE_TRAY-300", "tray"),
        ("CableTray", "tray"),
        ("cable  tray", "tray"),
        ("ｃａｂｌｅ ｔｒａｙ", "tray"),  # letters of full width, as East Asian programs write them
        ("Conduits", "conduit"),
        ("Ladder cable tray", "ladder"),  # the longer word decides: a ladder, though "cable tray" is in it
        ("Kabelrinne", "tray"),
        ("KABELKANÄLE", "trunking"),
        ("Weitspannkabelleiter", "ladder"),
        ("Chemin de câble perforé", "tray"),
        ("CHEMIN DE CABLES", "tray"),
        ("Échelle à câbles", "ladder"),
        ("Bandeja portacables", "tray"),
        ("passerella a traversini", "ladder"),
        ("kabelladder 400", "ladder"),
        ("Kabelränna", "tray"),
        ("korytko kablowe", "tray"),
        ("金属线槽100x50", "trunking"),
        ("电缆桥架", "tray"),
        ("梯式桥架", "ladder"),
        ("ケーブルラック", "ladder"),
    ],
)
def test_a_carrier_is_known_by_its_name_in_several_languages(text: str, kind: str) -> None:
    assert said("carrier", text) == kind


@pytest.mark.parametrize(
    "text", ["Doppelkanal", "Tray", "Ladder", "Gutter", "Rohr 50", "Wall 100 x 50", "", "   ", "…"]
)
def test_a_name_that_may_be_of_anything_tells_no_carrier(text: str) -> None:
    assert meaning("carrier", text) is None


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Kabelrinnenbogen", "bend"),
        ("Conduit elbow 25", "bend"),
        ("Kabelkanal Innenwinkel", "bend"),
        ("Coude 90°", "bend"),
        ("Tees", "tee"),
        ("Cable tray cross", "cross"),
        ("Conduit across the corridor", None),  # "cross" is only a part of another word
        ("Kabelgoot te monteren", None),  # Dutch "te" is no French "té"
        ("Conduit with fittings", None),  # it has them, it isn't one
        ("Conduit without Fittings", None),
        ("Boîte de dérivation", "box"),
    ],
)
def test_a_fitting_is_known_by_a_word_of_what_it_is_and_not_of_what_it_has(text: str, kind: str | None) -> None:
    assert said("fitting", text) == kind


@pytest.mark.parametrize(
    "text",
    [
        "Cable tray support", "Trunking lid", "Lid for cable trunking", "Conduit de fumée", "Busbar trunking", "Conduit for pipes",
        "Kabelkanal Deckel", "Air conduit", "passerella pedonale", "Bandeja de condensados", "Wastewater conduit",
    ],
)  # fmt: skip
def test_a_word_of_another_trade_or_of_an_accessory_is_found_beside_the_carriers(text: str) -> None:
    assert meaning("carrier", text) is not None
    assert names_another("carrier", text, "other") is not None


@pytest.mark.parametrize(
    "text",
    [
        "wiring duct",  # the duct is a part of the word for the carrier
        "Cable trunking with lid",
        "Cable tray with perforated cover",
        "Kabelkanal mit Deckel",
        "Goulotte avec couvercle",
        "Leerrohr für Schalter",  # "Halter" is only a part of it
        "Gasherd Leerrohr",  # and "gas" a part of this
    ],
)
def test_a_carrier_with_a_lid_is_a_carrier(text: str) -> None:
    assert meaning("carrier", text) is not None
    assert names_another("carrier", text, "other") is None


@pytest.mark.parametrize(
    ("text", "condition"),
    [("EXISTING", "existing"), ("Bestand", "existing"), ("à démolir", "demolished"), ("DEMOLISH", "demolished"), ("Neu", "new"),
     ("New wing", None), ("not existing", None), ("Phase 2", None)],
)  # fmt: skip
def test_a_condition_is_a_word_of_its_own_and_nothing_beside_it(text: str, condition: str | None) -> None:
    assert is_word("condition", text) == condition


def test_of_a_name_in_parts_the_last_part_is_the_most_particular() -> None:
    assert first_meaning("carrier", ["Cable tray:Cable ladder 300:123"]) == ("ladder", "cable ladder")


def test_of_several_names_the_first_that_says_something_decides() -> None:
    assert first_meaning("carrier", ["Level 2", "Conduit", "Cable tray"]) == ("conduit", "conduit")


def test_a_name_of_a_megabyte_is_read_at_its_beginning_only() -> None:
    assert meaning("carrier", "x" * MOST_LETTERS + " conduit" * 100_000) is None
    assert said("carrier", "conduit " + "x" * 1_000_000) == "conduit"


def test_no_word_has_two_meanings_and_none_stands_twice() -> None:
    path = Path(checker.read.__file__).with_name("words.csv")
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    assert len(rows) > 200
    told: dict[tuple[str, str], str] = {}
    for row in rows:
        assert told.setdefault((row["role"], plain(row["word"])), row["meaning"]) == row["meaning"], row
    assert len({tuple(row.items()) for row in rows}) == len(rows)
    assert {len(row) for row in rows} == {4}
    assert all(row["word"] == row["word"].strip() != "" for row in rows)

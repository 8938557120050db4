"""Which words of a fire rating say that there is none, and which say that something is meant to keep fire.

All others are ratings, whatever they mean: nobody knows all national ones.
"""

import re

#: Ratings that say that there is none, in lower case, without points and spaces. All other words are ratings.
NO_RATINGS = {
    "", "-", "--", "---", "–", "—", "/", "none", "no", "not", "na", "n/a", "nil", "null", "false", "unrated", "notrated",
    "nonrated", "non-rated", "norating", "notapplicable", "unset", "undefined", "notdefined", "unspecified", "notspecified", "keine",
    "ohne", "aucun", "aucune", "sans", "ninguna", "ninguno", "nessuna", "nessuno", "geen",
}  # fmt: skip
#: A time of nothing, with the letters of what is kept before it: "EI 0", "0 hr".
NOUGHT = re.compile(r"[a-z]{0,3}0+(?:h|hrs?|hours?|m|min|mins|minutes?|std|h0+m?)?")
#: What stands for yes where a program writes a truth value as a text.
YES = {"true", "t", "yes", "y", "1", "ja", "oui", "si", "sí"}


def says_yes(value: float | str | bool) -> bool:  # noqa: FBT001 - what a model holds, of whatever sort
    """Whether a truth value is true, as a text or number too."""
    return value.casefold().strip(" .") in YES if isinstance(value, str) else value == 1


def is_no_rating(text: str) -> bool:
    """Whether a rating says that there is none."""
    word = text.casefold().replace(" ", "").replace(".", "").strip("<>[]()")
    return word in NO_RATINGS or NOUGHT.fullmatch(word) is not None

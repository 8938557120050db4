"""Words of materials, and what the codes' tables call them; patterns of names."""

import functools
import re

#: Words in a material's name, any case, and the material that the codes' tables call so.
MATERIALS = {"steel": "steel", "galvanised": "steel", "galvanized": "steel", "plastic": "plastic", "pvc": "plastic"}


def material_word(name: str) -> str:
    """What tables call a material; empty where its name tells nothing, or two things at once (PVC-coated steel)."""
    words = {word for part, word in MATERIALS.items() if part in name.lower()}
    return words.pop() if len(words) == 1 else ""


@functools.cache
def wildcard(pattern: str) -> re.Pattern[str]:
    """A pattern in which only ``*`` and ``?`` mean anything."""
    return re.compile(re.escape(pattern).replace(r"\*", ".*").replace(r"\?", "."), re.DOTALL)

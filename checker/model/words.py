"""Words of materials, and what the codes' tables call them; patterns of names."""

import functools
import re

#: Words in a material's name, any case, and the material that the codes' tables call so.
MATERIALS = {"steel": "steel", "galvanised": "steel", "galvanized": "steel", "plastic": "plastic", "pvc": "plastic"}
#: Whole words that tell metal, that tell another material, and that turn what stands beside them round.
METALS = {"steel", "stainless", "galvanised", "galvanized", "iron", "metal", "metallic", "aluminium", "aluminum"}
OTHERS = {
    "nonmetal", "nonmetallic", "plastic", "plastics", "polymer", "pvc", "upvc", "cpvc", "abs", "grp", "frp", "hdpe", "polycarbonate",
    "polypropylene", "polyethylene", "polyamide", "nylon", "fibreglass", "fiberglass", "rubber", "wood",
}  # fmt: skip
TURNED = {"no", "not", "non", "without", "free", "like", "look", "effect", "imitation"}


def is_metal(name: str) -> bool | None:
    """Whether a material is metal; None: its name doesn't tell, tells both (PVC-coated steel), or says what it isn't (metal-free)."""
    words = set(re.findall("[a-z]+", re.sub("non[ -]metal", "nonmetal", name.lower())))
    if words & TURNED or bool(words & METALS) == bool(words & OTHERS):
        return None
    return bool(words & METALS)


def material_word(name: str) -> str:
    """What tables call a material; empty where its name tells nothing, or two things at once (PVC-coated steel)."""
    words = {word for part, word in MATERIALS.items() if part in name.lower()}
    return words.pop() if len(words) == 1 else ""


@functools.cache
def wildcard(pattern: str) -> re.Pattern[str]:
    """A pattern in which only ``*`` and ``?`` mean anything."""
    return re.compile(re.escape(pattern).replace(r"\*", ".*").replace(r"\?", "."), re.DOTALL)

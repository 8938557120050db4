"""Cables of a compartment, those that are alike together."""

from collections.abc import Sequence
from dataclasses import replace

from checker.model import PlacedCable
from checker.model.texts import natural
from checker.section.cores import conductor_mm2
from checker.section.loaded import body_of
from checker.section.parts import Bundle


def bundles_of(cables: Sequence[PlacedCable], *, is_possible: bool) -> tuple[Bundle, ...]:
    """Cables, those that are alike together, in the order of their marks, the thickest first."""
    alike: dict[Bundle, int | None] = {}
    for cable in cables:
        if cable.count == 0:
            continue
        one = replace(_bundle(cable), is_possible=is_possible)
        before = alike.get(one, 0)
        alike[one] = None if before is None or cable.count is None else before + cable.count
    made = [replace(one, count=count, why=one.why or _uncounted(count)) for one, count in alike.items()]
    return tuple(sorted(made, key=_order))


def _order(bundle: Bundle) -> tuple[object, ...]:
    area = 0.0 if bundle.body is None else bundle.body.area_mm2
    return (natural(bundle.mark), -area, bundle.key, bundle.service or "", bundle.count or 0, repr(bundle))


def _uncounted(count: int | None) -> str:
    return "how many there are isn't known" if count is None else ""


def _bundle(cable: PlacedCable) -> Bundle:
    """One sort of cables, not yet counted."""
    body, size, why = body_of(cable), "", ""
    if body is None:
        why = "only their area is known" if cable.is_several else "their size isn't known"
    elif cable.diameter_mm:
        size = f"{cable.diameter_mm:.4g} mm"
    else:
        size = f"{body.width_mm:.4g} × {body.height_mm:.4g} mm"
    return Bundle(
        mark=cable.circuit,
        service=cable.service,
        key=cable.key,
        count=None,
        body=body,
        cores=cable.cores,
        metal_mm2=conductor_mm2(cable.csa_mm2, cable.awg_kcmil),
        is_aluminium=cable.conductor.lower().startswith("alum"),
        size=cable.range_words or size,
        why=why,
        of_circuit=cable.service is not None or cable.circuit != cable.key,
    )

"""A loaded compartment in plain shapes: its inside, and the sections of its cables."""

from checker.model import LoadedCompartment, PlacedCable
from checker.section.parts import OPEN
from checker.section.shapes import Body, Box, Channel, Inside, Round, circle


def inside_of(part: LoadedCompartment) -> Inside | None:
    """The inside of a compartment, a tray's up to its sides; the smaller one where the wall isn't known; None: no size is known."""
    least = part.most_loaded()
    if least.bore_mm is not None:
        return Round(least.bore_mm) if least.bore_mm > 0.0 else None
    if not least.width_mm or least.width_mm <= 0.0 or not least.area_mm2:
        return None
    height = least.area_mm2 / least.width_mm
    return Channel(least.width_mm, height) if part.carrier.kind in OPEN else Box(least.width_mm, height)


def body_of(cable: PlacedCable) -> Body | None:
    """The section of one cable, at the upper end of its size; None: its size isn't known, or it stands for several."""
    if cable.is_several:
        return None
    if cable.diameter_mm:
        return circle(cable.diameter_mm)
    if cable.width_mm and cable.height_mm:
        return Body(cable.width_mm, cable.height_mm)
    return None

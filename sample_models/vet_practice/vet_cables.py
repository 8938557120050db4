"""Cables that the model draws: the few that its designer drew by hand, each along the carriers that it lies in, as a person drew them.

Most circuits have no drawn cable, as in most models; the schedule carries them.
"""

import math

from vet_carriers import SEGMENTS
from vet_ifc_network import Network
from vet_ifc_parts import Entity, Parts, global_id
from vet_plan import STOREYS, Point

DIAMETER_MM = {"DA-07": 6.5, "DA-08": 6.5, "FA-06": 8.6, "TP-01": 26.1}
"""What each cable is drawn as; the schedule's own sizes are what counts."""

DRAWN_ALONG = {
    "DA-07": ("WD-01",),
    "DA-08": ("WD-02",),
    "FA-06": ("WT-02",),
    "TP-01": ("TR-01", "TR-02", "TR-03", "TR-04"),
}
"""The carriers along which each is drawn, in order."""


def add_cables(parts: Parts, network: Network, body: Entity) -> None:
    """Draw each cable as an IfcCableSegment, owned by an IfcDistributionCircuit of the circuit's mark."""
    for mark, tags in DRAWN_ALONG.items():
        segments = [segment for tag in tags for segment in SEGMENTS if segment.tag == tag]
        storey = segments[0].storey
        points: list[Point] = []
        for segment in segments:
            ends = [segment.start, segment.end]
            if points and math.dist(points[-1], segment.end) < math.dist(points[-1], segment.start):
                ends.reverse()
            points.extend(ends)
        elevation = STOREYS[storey][1]
        local = [(x, y, z - elevation) for x, y, z in points]
        curve = parts.make("IfcPolyline", Points=[parts.point(*point) for point in local])
        solid = parts.make("IfcSweptDiskSolid", Directrix=curve, Radius=DIAMETER_MM[mark] / 2)
        shape = parts.make(
            "IfcShapeRepresentation",
            ContextOfItems=body,
            RepresentationIdentifier="Body",
            RepresentationType="AdvancedSweptSolid",
            Items=[solid],
        )
        cable = parts.make(
            "IfcCableSegment",
            GlobalId=global_id(f"cable {mark}"),
            Name=f"Cable of {mark}",
            Tag=f"CB-{mark}",
            ObjectPlacement=parts.placement(network.storeys[storey].ObjectPlacement, (0.0, 0.0, 0.0)),
            Representation=parts.make("IfcProductDefinitionShape", Representations=[shape]),
            PredefinedType="CABLESEGMENT",
        )
        network.contained[storey].append(cable)
        circuit = parts.make(
            "IfcDistributionCircuit",
            GlobalId=global_id(f"circuit {mark}"),
            Name=mark,
            PredefinedType="DATA" if mark.startswith("DA") else "ELECTRICAL",
        )
        parts.make(
            "IfcRelAssignsToGroup",
            GlobalId=global_id(f"members of {mark}"),
            RelatedObjects=[cable],
            RelatingGroup=circuit,
        )

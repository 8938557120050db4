"""The points of bodies made of faces, and what such bodies are put together from. In the file's unit."""

import itertools
from collections.abc import Iterator
from typing import Any

from checker.model.geometry import Vec
from checker.read.placements import vector
from checker.read.relations import many

Entity = Any
#: More cuts than this aren't followed.
DEEPEST = 16


def is_union(item: Entity) -> bool:
    """Whether a body is two bodies made one."""
    return bool(item.is_a("IfcBooleanResult")) and item.Operator == "UNION"


def uncut(item: Entity) -> Entity:
    """What a body was before something was cut off it."""
    for _ in range(DEEPEST):
        if not item.is_a("IfcBooleanResult") or item.Operator != "DIFFERENCE" or item.FirstOperand is None:
            break
        item = item.FirstOperand
    return item


def face_points(item: Entity) -> Iterator[Vec]:
    """The points of an item made of faces, or of a bounding box."""
    item = uncut(item)
    if item.is_a("IfcBoundingBox"):
        x, y, z = vector(item.Corner.Coordinates)
        sides = (x, x + item.XDim), (y, y + item.YDim), (z, z + item.ZDim)
        yield from map(vector, itertools.product(*sides))
    elif item.is_a("IfcTessellatedFaceSet"):
        yield from (vector(point) for point in many(getattr(item.Coordinates, "CoordList", None)))
    else:
        for attribute in ("Outer", "SbsmBoundary", "FbsmFaces"):
            for shell in many(getattr(item, attribute, None)):
                yield from _shell_points(shell)


def _shell_points(shell: Entity) -> Iterator[Vec]:
    for face in many(getattr(shell, "CfsFaces", None)):
        for bound in many(face.Bounds):
            for point in many(getattr(bound.Bound, "Polygon", None)):
                yield vector(point.Coordinates)
            for edge in many(getattr(bound.Bound, "EdgeList", None)):  # advanced faces: the ends of their edges
                vertex = getattr(getattr(edge, "EdgeElement", None), "EdgeStart", None)
                if vertex is not None and hasattr(vertex, "VertexGeometry"):
                    yield vector(vertex.VertexGeometry.Coordinates)

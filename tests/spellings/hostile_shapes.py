"""Trouble with shapes, curves and profiles."""

from tests.spellings.hostile import DOUBLINGS, UP, Builder, Entity, Trouble

#: So many elements share what is dear to read, at least.
SHARERS = 20


def maps_of_themselves(model: Trouble, size: int) -> None:
    """Mapped items whose map holds themselves."""
    for number in range(size):
        item = model.map_of(model.solid())
        item.MappingSource.MappedRepresentation.Items = [item, item]
        model.more(number, Representation=model.shape(item, style="MappedRepresentation"))


def doubling_maps(model: Trouble, size: int) -> None:
    """Maps of two mapped items of maps of two …, thirty deep, shared by all elements."""
    item = model.map_of(model.solid())
    for _ in range(DOUBLINGS):
        twin = model.make("IfcMappedItem", item.MappingSource, model.operator())
        item = model.map_of(item, twin)
    for number in range(size):
        model.more(number, Representation=model.shape(item, style="MappedRepresentation"))


def deep_maps(model: Trouble, size: int) -> None:
    """Maps in maps in maps."""
    item = model.map_of(model.solid())
    for _ in range(size):
        item = model.map_of(item)
    model.more(0, Representation=model.shape(item, style="MappedRepresentation"))


def deep_booleans(model: Trouble, size: int) -> None:
    """Booleans of booleans, on either side, shared by some elements."""
    left = right = model.solid()
    for _ in range(size):
        left = model.make("IfcBooleanResult", "UNION", left, model.solid())
        right = model.make("IfcBooleanResult", "UNION", model.solid(), right)
    for number in range(SHARERS):
        model.more(number, Representation=model.shape(left if number % 2 else right, style="CSG"))


def doubling_booleans(model: Trouble, size: int) -> None:
    """Booleans of the same thing twice, thirty deep."""
    item = model.solid()
    for _ in range(DOUBLINGS):
        item = model.make("IfcBooleanResult", "UNION", item, item)
    for number in range(size):
        model.more(number, Representation=model.shape(item, style="CSG"))


def a_loop_of_many_points(model: Trouble, size: int) -> None:
    """A face whose edge has a great many points."""
    loop = model.make("IfcPolyLoop", model.points(size))
    face = model.make("IfcFace", [model.make("IfcFaceOuterBound", loop, True)])
    brep = model.make("IfcFacetedBrep", model.make("IfcClosedShell", [face]))
    model.more(0, Representation=model.shape(brep, style="Brep"))


def a_mesh_that_all_share(model: Trouble, size: int) -> None:
    """A mapped body of many points, shared by as many elements."""
    loop = model.make("IfcPolyLoop", model.points(size))
    face = model.make("IfcFace", [model.make("IfcFaceOuterBound", loop, True)])
    item = model.map_of(model.make("IfcFacetedBrep", model.make("IfcClosedShell", [face])))
    for number in range(size):
        twin = model.make("IfcMappedItem", item.MappingSource, model.operator())
        model.more(number, Representation=model.shape(twin, style="MappedRepresentation"))


def many_items_in_one_body(model: Trouble, size: int) -> None:
    """A body of a great many bars."""
    model.more(0, Representation=model.shape(*(model.solid() for _ in range(size))))


def an_outline_of_many_points(model: Trouble, size: int) -> None:
    """A swept outline and a swept disk along a line of a great many points."""
    points = model.points(size)
    outline = model.make("IfcArbitraryClosedProfileDef", "AREA", None, model.make("IfcPolyline", [*points, points[0]]))
    solid = model.make(
        "IfcExtrudedAreaSolid", outline, model._frame((0.0, 0.0, 0.0)), model.make("IfcDirection", UP), 500.0
    )
    model.more(0, Representation=model.shape(solid))
    disk = model.make("IfcSweptDiskSolid", model.make("IfcPolyline", points), 10.0, None, None, None)
    model.more(1, Representation=model.shape(disk, style="AdvancedSweptSolid"))


def doubling_curves(model: Trouble, size: int) -> None:
    """Composite curves of the same curve twice, thirty deep, as the way of a pipe, the outline of a profile and an axis."""
    curve = model.make("IfcPolyline", model.points(2))
    for _ in range(DOUBLINGS):
        pieces = [model.make("IfcCompositeCurveSegment", "CONTINUOUS", True, curve) for _ in range(2)]
        curve = model.make("IfcCompositeCurve", pieces, False)
    _along(model, curve, size)


def curves_of_themselves(model: Trouble, size: int) -> None:
    """Composite and trimmed curves that are parts of themselves."""
    piece = model.make("IfcCompositeCurveSegment", "CONTINUOUS", True, model.make("IfcPolyline", model.points(2)))
    whole = model.make("IfcCompositeCurve", [piece, piece], False)
    trimmed = model.make("IfcTrimmedCurve", whole, [model.make("IfcParameterValue", 0.0)], [model.make("IfcParameterValue", 1.0)],
                         True, "PARAMETER")  # fmt: skip
    piece.ParentCurve = trimmed
    _along(model, whole, size)
    trimmed.BasisCurve = trimmed


def deep_curves(model: Trouble, size: int) -> None:
    """Composite curves in composite curves."""
    curve = model.make("IfcPolyline", model.points(2))
    for _ in range(size):
        curve = model.make(
            "IfcCompositeCurve", [model.make("IfcCompositeCurveSegment", "CONTINUOUS", True, curve)], False
        )
    _along(model, curve, 1)


def _along(model: Trouble, curve: Entity, size: int) -> None:
    disk = model.make("IfcSweptDiskSolid", curve, 10.0, None, None, None)
    outline = model.make("IfcArbitraryClosedProfileDef", "AREA", None, curve)
    solid = model.make(
        "IfcExtrudedAreaSolid", outline, model._frame((0.0, 0.0, 0.0)), model.make("IfcDirection", UP), 500.0
    )
    for number in range(size):
        model.more(3 * number, Representation=model.shape(disk, style="AdvancedSweptSolid"))
        model.more(3 * number + 1, Representation=model.shape(solid))
        axis = model.make("IfcShapeRepresentation", model.context, "Axis", "Curve3D", [curve])
        model.more(3 * number + 2, Representation=model.make("IfcProductDefinitionShape", Representations=[axis]))


def profiles_of_themselves(model: Trouble, size: int) -> None:
    """Derived profiles whose parent is themselves, and composite ones that hold themselves."""
    plain = model.profile("IfcRectangleProfileDef", 50.0, 50.0)
    operator = model.make(
        "IfcCartesianTransformationOperator2D", None, None, model.make("IfcCartesianPoint", (0.0, 0.0)), 1.0
    )
    derived = model.make("IfcDerivedProfileDef", "AREA", None, plain, operator, None)
    composite = model.make("IfcCompositeProfileDef", "AREA", None, [derived, plain], None)
    derived.ParentProfile = composite
    for number in range(size):
        solid = model.make("IfcExtrudedAreaSolid", derived if number % 2 else composite, model._frame((0.0, 0.0, 0.0)),
                           model.make("IfcDirection", UP), 500.0)  # fmt: skip
        model.more(number, Representation=model.shape(solid))


SHAPES: dict[str, Builder] = {
    builder.__name__.replace("_", " "): builder
    for builder in (
        maps_of_themselves, doubling_maps, deep_maps, deep_booleans, doubling_booleans, a_loop_of_many_points,
        a_mesh_that_all_share, many_items_in_one_body, an_outline_of_many_points, doubling_curves, curves_of_themselves, deep_curves,
        profiles_of_themselves,
    )
}  # fmt: skip

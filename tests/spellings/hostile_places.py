"""Trouble with placements, wholes and parts, containers, groups and ports."""

from tests.spellings.hostile import Builder, Entity, Trouble


def long_chain(model: Trouble, size: int) -> None:
    """An element at the end of a chain of placements."""
    placement = None
    for _ in range(size):
        placement = model.place((1.0, 0.0, 0.0), within=placement)
    model.more(1, ObjectPlacement=placement)


def chain_with_elements(model: Trouble, size: int) -> None:
    """A chain of placements with an element at each."""
    placement = None
    for number in range(size):
        placement = model.place((1.0, 1000.0, 0.0), within=placement)
        model.more(number, ObjectPlacement=placement)


def placement_loop(model: Trouble, size: int) -> None:
    """A chain that bites its own tail, with elements along it."""
    chain = [model.place((1.0, 0.0, 0.0)) for _ in range(size)]
    for placement, following in zip(chain, [*chain[1:], chain[0]], strict=True):
        placement.PlacementRelTo = following
    for number, placement in enumerate(chain[:: max(size // 50, 1)]):
        model.more(number, ObjectPlacement=placement)


def placements_of_themselves(model: Trouble, size: int) -> None:
    """Placements relative to themselves."""
    for number in range(size):
        placement = model.place((0.0, 0.0, 0.0))
        placement.PlacementRelTo = placement
        model.more(number, ObjectPlacement=placement)


def wholes_in_a_ring(model: Trouble, size: int) -> None:
    """Storeys that are parts of each other, with an element in each."""
    _ring(model, size, "IfcRelAggregates")


def nests_in_a_ring(model: Trouble, size: int) -> None:
    """Elements nested in each other."""
    elements = [model.more(number) for number in range(size)]
    for one, other in zip(elements, [*elements[1:], elements[0]], strict=True):
        model.rooted("IfcRelNests", RelatingObject=one, RelatedObjects=[other])


def containers_in_a_ring(model: Trouble, size: int) -> None:
    """Storeys that are contained in each other, with an element in each."""
    _ring(model, size, "IfcRelContainedInSpatialStructure")


def _ring(model: Trouble, size: int, relation: str) -> None:
    storeys = [model.rooted("IfcBuildingStorey", Name=f"Ring {number}") for number in range(size)]
    for number, (one, other) in enumerate(zip(storeys, [*storeys[1:], storeys[0]], strict=True)):
        _within(model, relation, one, other)
        _contain(model, one, number)


def deep_spaces(model: Trouble, size: int) -> None:
    """Spaces each in the next one, as a chain, with an element in each."""
    around: Entity = model.storey
    for number in range(size):
        space = model.rooted("IfcSpace", Name=f"Room {number}")
        _within(model, "IfcRelAggregates", around, space)
        _contain(model, space, number)
        around = space


def _within(model: Trouble, relation: str, whole: Entity, part: Entity) -> None:
    if relation == "IfcRelAggregates":
        model.rooted(relation, RelatingObject=whole, RelatedObjects=[part])
    else:
        model.rooted(relation, RelatingStructure=whole, RelatedElements=[part])


def _contain(model: Trouble, structure: Entity, number: int) -> None:
    element = model.more(number)
    model.contained.remove(element)
    model.rooted("IfcRelContainedInSpatialStructure", RelatingStructure=structure, RelatedElements=[element])


def assemblies_in_a_chain(model: Trouble, size: int) -> None:
    """Carriers that are parts of carriers that are parts of carriers."""
    whole = model.first
    for number in range(size):
        part = model.more(number)
        model.contained.remove(part)
        model.rooted("IfcRelAggregates", RelatingObject=whole, RelatedObjects=[part])
        whole = part


def groups_in_a_ring(model: Trouble, size: int) -> None:
    """Circuits that are members of each other, each with an outlet and a cable of its own."""
    circuits = [model.rooted("IfcDistributionCircuit", Name=f"C{number}") for number in range(size)]
    for number, (one, other) in enumerate(zip(circuits, [*circuits[1:], circuits[0]], strict=True)):
        outlet = model.element("IfcOutlet", f"X{number}", (0.0, 1000.0 * number, 0.0))
        cable = model.element("IfcCableSegment", f"W{number}", (0.0, 1000.0 * number, 0.0))
        model.rooted("IfcRelAssignsToGroup", RelatingGroup=one, RelatedObjects=[other, outlet, cable])
        model.rooted("IfcRelAggregates", RelatingObject=one, RelatedObjects=[other])


def groups_in_a_chain(model: Trouble, size: int) -> None:
    """Systems in systems in systems, with a member at each."""
    around = model.rooted("IfcDistributionSystem", Name="All")
    for number in range(size):
        inner = model.rooted("IfcDistributionSystem", Name=f"S{number}")
        outlet = model.element("IfcOutlet", f"X{number}", (0.0, 1000.0 * number, 0.0))
        model.rooted("IfcRelAssignsToGroup", RelatingGroup=around, RelatedObjects=[inner, outlet])
        around = inner


def ports_in_a_ring(model: Trouble, size: int) -> None:
    """Ports of different elements, each connected with the next."""
    ports = [model.port(model.more(number), (0.0, 10_000.0 + 1000.0 * number, 0.0)) for number in range(size)]
    for one, other in zip(ports, [*ports[1:], ports[0]], strict=True):
        model.rooted("IfcRelConnectsPorts", RelatingPort=one, RelatedPort=other)


def a_port_with_many_links(model: Trouble, size: int) -> None:
    """One port that is connected with thousands, both ways, and with itself."""
    hub = model.port(model.first, (4000.0, 0.0, 0.0))
    model.rooted("IfcRelConnectsPorts", RelatingPort=hub, RelatedPort=hub)
    for number in range(size):
        port = model.port(model.more(number), (0.0, 10_000.0 + 1000.0 * number, 0.0))
        model.rooted("IfcRelConnectsPorts", RelatingPort=hub, RelatedPort=port)
        model.rooted("IfcRelConnectsPorts", RelatingPort=port, RelatedPort=hub)


def ports_owned_by_many(model: Trouble, size: int) -> None:
    """One port that every element claims, and elements with a great many ports."""
    shared = model.rooted("IfcDistributionPort", ObjectPlacement=model.place((0.0, 0.0, 0.0)))
    for number in range(size):
        model.rooted("IfcRelNests", RelatingObject=model.more(number), RelatedObjects=[shared])
        model.port(model.first, (float(number), 0.0, 0.0))


def all_at_one_place(model: Trouble, size: int) -> None:
    """Carriers and fittings all at the origin, as a careless export leaves them."""
    bar = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    for number in range(size):
        model.carrier(f"Q{number}", (0.0, 0.0, 0.0), (500.0, 0.0, 0.0), bar)
        fitting = model.element("IfcCableCarrierFitting", f"F{number}", (0.0, 0.0, 0.0), PredefinedType="BEND")
        fitting.Representation = model.shape(model.solid())


PLACES: dict[str, Builder] = {
    builder.__name__.replace("_", " "): builder
    for builder in (
        long_chain, chain_with_elements, placement_loop, placements_of_themselves, wholes_in_a_ring, nests_in_a_ring,
        containers_in_a_ring, deep_spaces, assemblies_in_a_chain, groups_in_a_ring, groups_in_a_chain, ports_in_a_ring,
        a_port_with_many_links, ports_owned_by_many, all_at_one_place,
    )
}  # fmt: skip

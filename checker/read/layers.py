"""Which presentation layers an element lies on: those of its representations, of their items, and of what is mapped into them."""

from typing import Any

from checker.read.relations import all_of, many

Entity = Any


class Layers:
    """The layers of a model; read only when asked."""

    def __init__(self, model: Entity) -> None:
        self._model = model
        self._by_item: dict[int, list[str]] | None = None

    def of(self, element: Entity) -> tuple[str, ...]:
        """Names of the element's layers."""
        if self._by_item is None:
            self._by_item = {}
            for layer in all_of(self._model, "IfcPresentationLayerAssignment"):
                for item in many(layer.AssignedItems):
                    self._by_item.setdefault(item.id(), []).append(str(layer.Name or ""))
        found: list[str] = []
        for representation in many(getattr(getattr(element, "Representation", None), "Representations", None)):
            items = [representation, *many(representation.Items)]
            for item in list(items):
                mapped = getattr(getattr(item, "MappingSource", None), "MappedRepresentation", None)
                items += [mapped, *many(getattr(mapped, "Items", None))] if mapped is not None else []
            found += [name for item in items for name in self._by_item.get(item.id(), ())]
        return tuple(dict.fromkeys(found))

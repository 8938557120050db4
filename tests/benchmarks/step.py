"""Writes IFC text line by line, so that a large model needs no more memory than its relationships."""

import base64
from collections.abc import Iterable
from typing import TextIO

Point = tuple[float, float, float]

#: An odd number of 128 bits: multiples of it are all different and lie scattered, as GlobalIds in real files do.
_SCATTER = 0x9E3779B97F4A7C15F39CC0605CEDC835
_BASE64 = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"
_IFC = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
_TO_IFC = bytes.maketrans(_BASE64, _IFC)

HEADER = """ISO-10303-21;
HEADER;
FILE_DESCRIPTION(('ViewDefinition [ReferenceView]'),'2;1');
FILE_NAME('model.ifc','2026-11-02T09:00:00',(''),(''),'wayroom benchmarks','wayroom benchmarks','');
FILE_SCHEMA(('IFC4'));
ENDSEC;
DATA;
"""
FOOTER = "ENDSEC;\nEND-ISO-10303-21;\n"


def global_id(number: int) -> str:
    """The GlobalId of the n-th rooted entity: 128 bits in 22 characters, the first of which holds two bits only."""
    value = number * _SCATTER % (1 << 128)
    return base64.b64encode((value << 12).to_bytes(18))[:22].translate(_TO_IFC).decode("ascii")


class StepFile:
    """A STEP file that is written from top to bottom. Methods give the reference (``#n``) of what they wrote."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._lines = 0
        self._rooted = 0
        stream.write(HEADER)

    def add(self, text: str) -> str:
        """Any entity, as ``IFCDIRECTION((0.,0.,1.))``."""
        self._lines += 1
        self._stream.write(f"#{self._lines}={text};\n")
        return f"#{self._lines}"

    def rooted(self, name: str, rest: str) -> str:
        """An entity with a GlobalId and no owner; ``rest`` are its attributes from the name on."""
        self._rooted += 1
        return self.add(f"{name}('{global_id(self._rooted)}',$,{rest})")

    def point(self, at: Point) -> str:
        return self.add(f"IFCCARTESIANPOINT(({at[0]:.1f},{at[1]:.1f},{at[2]:.1f}))")

    def placement(self, within: str, at: Point, axis: str = "$", across: str = "$") -> str:
        """A local placement of its own; ``axis`` and ``across`` are directions."""
        frame = self.add(f"IFCAXIS2PLACEMENT3D({self.point(at)},{axis},{across})")
        return self.add(f"IFCLOCALPLACEMENT({within},{frame})")

    def shape(self, context: str, kind: str, item: str) -> str:
        """A body of one item."""
        body = self.add(f"IFCSHAPEREPRESENTATION({context},'Body','{kind}',({item}))")
        return self.add(f"IFCPRODUCTDEFINITIONSHAPE($,$,({body}))")

    def property_set(self, name: str, values: Iterable[tuple[str, str]]) -> str:
        """A property set; values as ``("NominalWidth", "IFCPOSITIVELENGTHMEASURE(225.)")``."""
        items = ",".join(self.add(f"IFCPROPERTYSINGLEVALUE('{key}',$,{value},$)") for key, value in values)
        return self.rooted("IFCPROPERTYSET", f"'{name}',$,({items})")

    def relate(self, name: str, one: str, many: Iterable[str], *, many_first: bool = False) -> None:
        """A relationship of one with many; nothing where there are none."""
        listed = f"({','.join(many)})"
        if listed != "()":
            sides = f"{listed},{one}" if many_first else f"{one},{listed}"
            self.rooted(name, f"$,$,{sides}")

    def end(self) -> None:
        self._stream.write(FOOTER)

"""Small models as STEP text for the tests of annotations, with odd but lawful ways of writing among them."""

from collections.abc import Mapping

from checker.annotate.facts import Annotation, Fact

HEADER = (
    "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('m.ifc','2026-11-02T09:00:00',(''),(''),'','','');\n"
    "FILE_SCHEMA(('{schema}'));\nENDSEC;\nDATA;\n"
)
FOOTER = "ENDSEC;\nEND-ISO-10303-21;\n"
T1, T2 = "0000000000000000000001", "0000000000000000000002"
CARRIERS = (
    f"#1=IFCCABLECARRIERSEGMENT('{T1}',$,'T1',$,$,$,$,'T1',.CABLETRUNKINGSEGMENT.);",
    f"#2=IFCCABLECARRIERSEGMENT('{T2}',$,'T2',$,$,$,$,'T2',.CABLETRUNKINGSEGMENT.);",
)
OTHERS_SET = (
    "#3=IFCPROPERTYSINGLEVALUE('Note',$,IFCTEXT('mine'),$);",
    "#4=IFCPROPERTYSET('0000000000000000000004',$,'Site_Notes',$,(#3));",
    "#5=IFCRELDEFINESBYPROPERTIES('0000000000000000000005',$,$,$,(#1),#4);",
)


def model(*lines: str, schema: str = "IFC4") -> bytes:
    """A model of some lines."""
    return (HEADER.format(schema=schema) + "".join(f"{line}\n" for line in lines) + FOOTER).encode()


def _odd() -> Mapping[str, bytes]:
    plain = model(*CARRIERS)
    return {
        "plain": plain,
        "other line ends": plain.replace(b"\n", b"\r\n"),
        "no line ends": plain.replace(b"\n", b""),
        "the end on the last line": plain.replace(b"\nENDSEC;\nEND-", b"ENDSEC;\nEND-"),
        "the end indented": plain.replace(b"ENDSEC;\nEND-", b"  endsec ;\nEND-"),
        "a comment before the end": plain.replace(b"ENDSEC;\nEND-", b"/* ENDSEC; 'T' */\nENDSEC;\nEND-"),
        "a comment after the end": plain.replace(b"ENDSEC;\nEND-", b"ENDSEC;\n/* #9=IFCWALL('x'); */\nEND-"),
        "the end in a name": model(CARRIERS[0].replace("'T1',$", "'it''s; ENDSEC; /* DATA;',$"), CARRIERS[1]),
        "one carrier over lines": plain.replace(b"#2=", b"#2 /* its = */ =\n ").replace(
            b"SEGMENT('", b"SEGMENT\n( /*'*/ '"
        ),
        "lower case": plain.replace(b"IFCCABLECARRIERSEGMENT", b"IfcCableCarrierSegment"),
        "letters beyond ASCII": plain.replace(b"'T2'", "'Trasse Süd 例'".encode()),
        "letters of Windows": plain.replace(b"'T2'", "'Trasse Süd'".encode("cp1252")),
        "a byte order mark": b"\xef\xbb\xbf" + plain,
        "an earlier number last": model(CARRIERS[1].replace("#2=", "#0700="), CARRIERS[0]),
        "two sections of data": plain.replace(b"#2=", b"ENDSEC;\nDATA('b',('IFC4'));\n#2="),
        "nothing after it": plain.rstrip(b"\n"),
        "a set of others": model(*CARRIERS, *OTHERS_SET),
    }


#: Lawful ways of writing a model of the two carriers, by name.
ODD = _odd()


def said(global_id: str = T1, verdict: str = "pass", fill: float = 0.25) -> Annotation:
    """A short annotation of one carrier."""
    facts = (Fact("Fill", "IfcRatioMeasure", fill), Fact("WorstVerdict", "IfcLabel", verdict))
    return Annotation(global_id, global_id, f"carrier {global_id[-1]}", facts)


BOTH = (said(T1), said(T2, "fail", 0.5))

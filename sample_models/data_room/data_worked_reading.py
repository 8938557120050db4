"""What must be read out of the model, worked out from the drawing's legend: kinds, sizes, ways of joining, and what must be said.

Typed in by hand from the plan; nothing is taken from what the checker says.
"""

# tags, kind, how the kind is told: `class` (the predefined type), `said` (the user's own word, with a blank behind it),
# `words` (only the type's name says it)
KINDS: tuple[tuple[str, str, str], ...] = (
    ("LA-01 LA-02 LA-03 LA-04 LA-05 LA-06 LA-07 LA-09 LA-10 LA-11 LA-12 LA-21 LA-22 LA-31", "ladder", "class"),
    ("LB-01 LB-02 LB-03 LB-04 LB-05 LB-06 LB-07 LB-09 LB-10 LB-11 LB-12 LB-21 LB-22", "ladder", "class"),
    (
        "BD-01 BD-02 BD-11 BD-12 BD-13 BD-21 BD-22 BD-23 BD-41 BD-42 BR-00 BR-01 BR-02 BR-04 BR-05 BR-06 BE-01 BX-01",
        "tray",
        "class",
    ),
    ("BU-01 BU-03 BU-04", "tray", "class"),
    ("BU-02", "tray", "said"),
    ("BD-31 BD-32", "tray", "words"),
)

# tags, width, height (0: unknown), where the size comes from: `section` (the profile of a sweep along the run), `plan` (the
# plan rectangle, extruded upward), `box` (the extent of an outline or of triangles), `quantity`, `name`, `none`
SIZES: tuple[tuple[str, float, float, str], ...] = (
    ("LA-01 LA-02 LA-05 LB-01 LB-02 LB-05", 400, 100, "section"),
    ("LA-03 LA-04 LA-09 LA-10 LB-03 LB-04 LB-09 LB-10", 400, 100, "box"),
    ("LA-06 LA-07 LA-11 LA-12 LA-21 LA-22 LA-31 LB-06 LB-07 LB-21 LB-22", 300, 100, "section"),
    ("LB-11 LB-12", 300, 100, "quantity"),  # 300 and 100 where the unit is the metre
    ("BD-01 BD-02", 400, 60, "box"),
    ("BR-01 BR-02 BR-05 BR-06", 300, 60, "box"),
    ("BD-11 BD-12 BD-13 BD-21 BD-22 BD-23 BD-41 BD-42 BR-00 BR-04 BE-01", 300, 60, "plan"),
    ("BD-31", 200, 60, "plan"),
    ("BD-32", 200, 60, "name"),  # "Cable basket 200 x 60"; it has no body
    ("BU-01 BU-02 BU-03 BU-04", 100, 50, "plan"),
    ("BX-01", 0, 0, "none"),
)

LEFT_OUT = {"BE-02": "demolished", "SA-1": "a duct", "CHW-1": "a pipe"}

# kind of problem, the elements that it must name, words of which its text must have one, why
PROBLEMS: tuple[tuple[str, str, str, str], ...] = (
    ("correction", "LB-11 LB-12", "300", "300 m wide and 100 m high: millimetres, typed where the unit is the metre"),
    ("gap", "BX-01", "size|width|section", "no body, no size, and none in a name: it can't be judged"),
    ("gap", "BD-31 BD-32", "60", "their ends are 60 mm apart"),
    ("gap", "BU-03 BU-04", "60", "their ends are 60 mm apart"),
    ("gap", "LD-02", "way|routed|join", "BU-04 is joined to nothing"),
    ("inference", "BD-31", "name|word", "only its type's name says that it is a basket"),
    ("inference", "BD-32", "name|word", "its kind and its size are only in its type's name"),
    ("assumption", "ME-01", "compartment", "the schedule lays a control cable where the project has power"),
)

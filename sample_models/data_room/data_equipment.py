"""Everything that a circuit starts from or goes to, each near the carrier that serves it, and what other trades have here.

The centre of each body is the point from which the nearest carrier is sought.
"""

from data_plan import Equipment, Point

BOARD, STORE, NETWORK = "IfcElectricDistributionBoard", "IfcElectricFlowStorageDevice", "IfcCommunicationsAppliance"
SENSOR, CONTROLLER, COOLER = "IfcSensor", "IfcUnitaryControlElement", "IfcUnitaryEquipment"
SWITCHBOARD, DISTRIBUTION, APPLIANCE = "SWITCHBOARD", "DISTRIBUTIONBOARD", "NETWORKAPPLIANCE"

FRAME, TAP_BOX, CABINET, SMALL = (
    (600.0, 1100.0, 2200.0),
    (200.0, 200.0, 300.0),
    (800.0, 800.0, 2000.0),
    (100.0, 100.0, 100.0),
)
PLANT_A, PLANT_B, MEET, HALL = "0.01", "0.02", "0.03", "1.01"
RACK_X_MM = (4000.0, 4800.0, 5600.0, 6400.0, 7200.0, 8000.0)
# row: y of its racks, of their tap boxes on supply A and on supply B
ROWS: tuple[tuple[int, float, float, float], ...] = ((1, 4100.0, 3500.0, 4700.0), (2, 8100.0, 7500.0, 8700.0))


def _racks() -> tuple[Equipment, ...]:
    """Six racks a row, R101 to R106 and R201 to R206, each with a tap box on either supply."""
    made = []
    for row, rack_y, a_y, b_y in ROWS:
        for place, x in enumerate(RACK_X_MM, start=1):
            number = f"{row}{place:02d}"
            made += [
                Equipment(f"R{number}", f"Rack {number}", NETWORK, APPLIANCE, 1, HALL, (x, rack_y, 5600), FRAME),
                Equipment(
                    f"PDU-A{number}",
                    f"Tap box A of rack {number}",
                    BOARD,
                    DISTRIBUTION,
                    1,
                    HALL,
                    (x, a_y, 6000),
                    TAP_BOX,
                ),
                Equipment(
                    f"PDU-B{number}",
                    f"Tap box B of rack {number}",
                    BOARD,
                    DISTRIBUTION,
                    1,
                    HALL,
                    (x, b_y, 6000),
                    TAP_BOX,
                ),
            ]
    return tuple(made)


EQUIPMENT: tuple[Equipment, ...] = (
    Equipment("SB-A", "Switchboard, supply A", BOARD, SWITCHBOARD, 0, PLANT_A, (8000, 1500, 1000), CABINET),
    Equipment("UPS-A", "Battery supply A", STORE, "UPS", 0, PLANT_A, (4500, 1500, 1000), CABINET),
    Equipment("SB-B", "Switchboard, supply B", BOARD, SWITCHBOARD, 0, PLANT_B, (8000, 10500, 1000), CABINET),
    Equipment("UPS-B", "Battery supply B", STORE, "UPS", 0, PLANT_B, (4500, 10500, 1000), CABINET),
    Equipment(
        "RPP-A", "Row panel, supply A", BOARD, DISTRIBUTION, 1, HALL, (2000, 2100, 5550), (600.0, 1400.0, 2100.0)
    ),
    Equipment(
        "RPP-B", "Row panel, supply B", BOARD, DISTRIBUTION, 1, HALL, (3000, 9900, 5400), (600.0, 1400.0, 1800.0)
    ),
    *_racks(),
    Equipment("CRAC-1", "Cooling unit 1", COOLER, "AIRCONDITIONINGUNIT", 1, HALL, (9800, 2600, 5400), CABINET),
    Equipment("CRAC-2", "Cooling unit 2", COOLER, "AIRCONDITIONINGUNIT", 1, HALL, (9800, 9600, 5400), CABINET),
    Equipment("NR-1", "Network rack of row 1", NETWORK, APPLIANCE, 1, HALL, (11600, 5000, 5600), FRAME),
    Equipment("NP-1", "Network panel, supply A", BOARD, DISTRIBUTION, 1, HALL, (11634, 5800, 5900), TAP_BOX),
    Equipment("NR-2", "Network rack of row 2", NETWORK, APPLIANCE, 1, HALL, (11600, 7400, 5600), FRAME),
    Equipment("MM-1", "Meet-me frame", NETWORK, APPLIANCE, 0, MEET, (11500, 7000, 1000), FRAME),
    Equipment("OLD-1", "Old rack", NETWORK, APPLIANCE, 1, HALL, (7000, 9600, 5600), FRAME),
    Equipment("CAM-1", "Camera recorder", NETWORK, APPLIANCE, 1, HALL, (10000, 6500, 7000), SMALL),
    Equipment("ENV-1", "Sensor hub, row 1", NETWORK, APPLIANCE, 1, HALL, (3700, 5500, 7000), SMALL),
    Equipment("ENV-2", "Sensor hub, row 2", NETWORK, APPLIANCE, 1, HALL, (3700, 6900, 7000), SMALL),
    Equipment(
        "BC-1",
        "Building controls panel",
        CONTROLLER,
        "CONTROLPANEL",
        1,
        HALL,
        (1800, 6400, 5500),
        (400.0, 200.0, 600.0),
    ),
    Equipment("TS-1", "Air sensor, west", SENSOR, "TEMPERATURESENSOR", 1, HALL, (4000, 6300, 4900), SMALL),
    Equipment("TS-2", "Air sensor, middle", SENSOR, "TEMPERATURESENSOR", 1, HALL, (7500, 6300, 4900), SMALL),
    Equipment("TS-3", "Air sensor, east", SENSOR, "TEMPERATURESENSOR", 1, HALL, (10500, 6300, 4900), SMALL),
    Equipment("LK-1", "Leak detector, middle", SENSOR, "MOISTURESENSOR", 1, HALL, (9500, 6400, 4600), SMALL),
    Equipment("LK-2", "Leak detector, east", SENSOR, "MOISTURESENSOR", 1, HALL, (12500, 6400, 4600), SMALL),
)

# tag, name, class, predefined type, from, to, width, height (0: round)
OTHER_TRADES: tuple[tuple[str, str, str, str, Point, Point, float, float], ...] = (
    ("SA-1", "Supply air duct beside the cable ladder", "IfcDuctSegment", "RIGIDSEGMENT",
     (10500, 1000, 8200), (10500, 11000, 8200), 600.0, 300.0),
    ("CHW-1", "Chilled water pipe", "IfcPipeSegment", "RIGIDSEGMENT", (10900, 1000, 4900), (10900, 11000, 4900), 60.0, 0.0),
)  # fmt: skip

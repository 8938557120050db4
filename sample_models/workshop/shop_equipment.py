"""The boards, outlets, lights and devices of the workshop, and what the model says in words about what feeds them."""

from shop_plan import Equipment, Point

BOARD: Point = (1.6, 0.6, 3.0)
OUTLET: Point = (0.3, 0.3, 0.3)
LIGHT: Point = (0.5, 0.5, 0.3)


def _machine(number: int, what: str, x: float, y: float, poles: str) -> Equipment:
    return Equipment(
        f"MO-{number:02d}", f"Machine outlet, {what}", "IfcFlowTerminal", "IfcOutletType", "POWEROUTLET", (x, y, 3.6),
        OUTLET, circuit=("Shop data", "Feed ref", poles, "Fed from", "DP-1"),
    )  # fmt: skip


def _receptacle(number: int, at: Point, circuit: str) -> Equipment:
    return Equipment(
        f"RO-{number}", "Receptacle, duplex", "IfcFlowTerminal", "IfcOutletType", "POWEROUTLET", at, OUTLET,
        circuit=("Electrical - Loads", "Circuit Number", circuit, "Panel", "LP-1"),
    )  # fmt: skip


def _light(tag: str, at: Point, circuit: str) -> Equipment:
    return Equipment(
        tag, "High bay light", "IfcFlowTerminal", "IfcLightFixtureType", "POINTSOURCE", at, LIGHT,
        circuit=("Electrical - Loads", "Circuit Number", circuit, "Panel", "LP-1"),
    )  # fmt: skip


EQUIPMENT: tuple[Equipment, ...] = (
    Equipment("DP-1", "DP-1", "IfcElectricDistributionPoint", "", "DISTRIBUTIONBOARD", (1, 20, 4.5), BOARD),
    Equipment("LP-1", "LP-1", "IfcElectricDistributionPoint", "", "DISTRIBUTIONBOARD", (1, 10, 4.5), BOARD),
    Equipment("DP-2", "DP-2", "IfcElectricDistributionPoint", "", "DISTRIBUTIONBOARD", (76, 30, 4.5), BOARD),
    Equipment(
        "FACP", "Fire alarm panel", "IfcDistributionControlElement", "IfcControllerType", "TWOPOSITION", (1, 30, 5),
        (1.2, 0.4, 1.5),
    ),
    Equipment(
        "RACK-1", "Data rack", "IfcFlowTerminal", "IfcElectricApplianceType", "COMPUTER", (10, 42, 13), (2, 2, 3.5), 1
    ),
    _machine(1, "table saw", 8, 20, "1,3,5"),
    _machine(2, "planer", 24, 20, "2,4,6"),
    _machine(3, "band saw", 28, 20, "7,9,11"),
    _machine(4, "dust collector", 40, 20, "8,10,12"),
    _machine(5, "router table", 32, 24, "13,15,17"),
    _machine(6, "wood lathe", 32, 28, "14,16,18"),
    _machine(7, "mill", 32, 33, "19,21,23"),
    _machine(8, "welder", 50, 20, "20,22,24"),
    _machine(9, "press", 56, 20, "25,27,29"),
    _machine(10, "drill", 70, 20, "26,28,30"),
    _machine(11, "compressor", 32, 40, "31,33,35"),
    _machine(12, "grinder", 14, 20, "32,34,36"),
    _receptacle(1, (12, 10, 1.7), "1"),
    _receptacle(2, (18.3, 10, 5), "3"),
    _receptacle(3, (16, 10, 4.6), "5"),
    _receptacle(4, (14.5, 10.4, 5), "7"),
    _receptacle(5, (30.3, 6, 5), "9"),
    _receptacle(6, (28, 6, 4.6), "11"),
    _receptacle(7, (64, 18.5, 14.5), "13"),
    _receptacle(8, (68, 18.5, 14.5), "15"),
    _receptacle(9, (72.3, 18.5, 15), "17"),
    _light("LF-1", (60, 30.4, 15), "2"),
    _light("LF-2", (60, 25, 14.5), "4"),
    _light("LF-3", (5, 16.4, 12), "6"),
    _light("LF-4A", (40, 10, 7.6), "8"),
    _light("LF-4B", (40, 10.3, 7.7), "8"),
    _light("LF-5", (40.5, 10, 9), "10"),
    _light("LF-6", (36, 34.4, 12.5), "38"),
    _light("LF-7", (70, 40, 15), "<unnamed>"),
    Equipment(
        "DET-1", "Smoke detector", "IfcDistributionControlElement", "IfcSensorType", "SMOKESENSOR", (46.3, 31, 13),
        OUTLET,
    ),
    Equipment(
        "HORN-1", "Horn", "IfcDistributionControlElement", "IfcAlarmType", "SIREN", (46, 31.3, 12.6), OUTLET
    ),
    Equipment(
        "WO-1", "Data outlet", "IfcFlowTerminal", "IfcOutletType", "COMMUNICATIONSOUTLET", (20, 43, 13.5), OUTLET, 1
    ),
    Equipment("WO-2", "Data outlet", "IfcFlowTerminal", "IfcOutletType", "COMMUNICATIONSOUTLET", (34, 26, 13.6), OUTLET),
    Equipment(
        "WO-3", "Data outlet", "IfcFlowTerminal", "IfcOutletType", "COMMUNICATIONSOUTLET", (44.5, 42, 14.5), OUTLET
    ),
    Equipment("SO-1", "Welding bay outlet", "IfcFlowTerminal", "IfcOutletType", "POWEROUTLET", (50, 44, 12.5), OUTLET),
    Equipment("SO-2", "Oven outlet", "IfcFlowTerminal", "IfcOutletType", "POWEROUTLET", (54, 44, 12.5), OUTLET),
    Equipment("SO-3", "Shear outlet", "IfcFlowTerminal", "IfcOutletType", "POWEROUTLET", (68, 44, 12.5), OUTLET),
)  # fmt: skip

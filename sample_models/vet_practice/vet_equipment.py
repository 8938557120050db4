"""Everything that a circuit starts from or goes to, each near the carrier that serves it.

The centre of each body is the point from which the nearest carrier is sought.
"""

from vet_plan import Equipment

BOARD, PANEL, SMALL, LAMP, PLANT = (
    (400.0, 150.0, 700.0),
    (400.0, 150.0, 500.0),
    (90.0, 90.0, 50.0),
    (300.0, 300.0, 80.0),
    (500.0, 500.0, 500.0),
)
OUTLET, LIGHT, OTHER, BATTERY = "IfcOutlet", "IfcLightFixture", "IfcElectricAppliance", "IfcElectricFlowStorageDevice"
POWER, DATA, OWN = "POWEROUTLET", "DATAOUTLET", "USERDEFINED"
CONTROLLER, BOX, ACTUATOR = "IfcUnitaryControlElement", "IfcElectricDistributionBoard", "IfcActuator"
NETWORK = "IfcCommunicationsAppliance"

EQUIPMENT: tuple[Equipment, ...] = (
    # --- where circuits start
    Equipment("DB-G", "Distribution board, ground floor", BOX, "DISTRIBUTIONBOARD", 0, (2500, 5050, 1400), BOARD),
    Equipment("DB-1", "Distribution board, first floor", BOX, "DISTRIBUTIONBOARD", 1, (14450, 7100, 5500), BOARD),
    Equipment("FAP", "Fire alarm panel", CONTROLLER, "ALARMPANEL", 0, (4000, 5400, 1400), PANEL),
    Equipment("CBU", "Central battery unit", BATTERY, "BATTERY", 0, (450, 3000, 1000), BOARD),
    Equipment("RACK", "Data rack", NETWORK, OWN, 0, (6500, 7150, 1000), (600, 600, 1800)),
    Equipment("BMS", "Building controls panel", CONTROLLER, "CONTROLPANEL", 0, (800, 4950, 1200), PANEL),
    # --- ground floor, fed from the floor trunking and its conduit
    Equipment("SO-G01", "Reception desk outlets", OUTLET, POWER, 0, (4500, 3450, 50), SMALL),
    Equipment("SO-G02", "Reception waiting outlets", OUTLET, POWER, 0, (8000, 3450, 50), SMALL),
    Equipment("SO-G03", "Consulting room 1 east outlets", OUTLET, POWER, 0, (12000, 3450, 50), SMALL),
    Equipment("SO-G04", "Consulting room 1 table outlets", OUTLET, POWER, 0, (10450, 1800, 50), SMALL),
    Equipment("SO-G05", "Consulting room 2 table outlets", OUTLET, POWER, 0, (15000, 1450, 50), SMALL),
    Equipment("SO-G06", "Pharmacy outlets", OUTLET, POWER, 0, (21200, 3450, 50), SMALL),
    Equipment("SO-G07", "Pharmacy bench outlets", OUTLET, POWER, 0, (23550, 1000, 1150), SMALL),
    Equipment("SO-G08", "Pharmacy fridge outlet", OUTLET, POWER, 0, (23300, 850, 1050), SMALL),
    Equipment("SO-G09", "Pharmacy counter outlets", OUTLET, POWER, 0, (22450, 1900, 50), SMALL),
    Equipment("SO-G10", "Pharmacy cold store, later", OUTLET, POWER, 0, (20400, 2550, 50), SMALL),
    Equipment("XR-1", "X-ray generator", OTHER, OWN, 0, (17300, 3600, 500), PLANT),
    Equipment("DENT-1", "Dental suite", OTHER, OWN, 0, (18500, 1800, 300), PLANT),
    Equipment("ULTRA-1", "Ultrasound table", OTHER, OWN, 0, (12800, 3550, 300), PLANT),
    Equipment("UPS-1", "Battery supply of the data rack", BATTERY, "UPS", 0, (5550, 6300, 400), PLANT),
    Equipment("UFH-1", "Reception floor heating", OTHER, OWN, 0, (3600, 2500, 100), SMALL),
    Equipment("WASH-1", "Instrument washer", OTHER, OWN, 0, (14500, 4200, 400), PLANT),
    Equipment("HYD-1", "Hydrotherapy pool plant", OTHER, OWN, 0, (9450, 1300, 400), PLANT),
    Equipment("TH-1", "Consulting room 1 floor sensor", "IfcSensor", "TEMPERATURESENSOR", 0, (9000, 2650, 20), SMALL),
    Equipment("TH-2", "X-ray room floor sensor", "IfcSensor", "TEMPERATURESENSOR", 0, (15500, 2650, 20), SMALL),
    Equipment("DO-G01", "Reception desk data", OUTLET, DATA, 0, (5000, 2550, 50), SMALL),
    Equipment("DO-G02", "Waiting area data", OUTLET, DATA, 0, (7500, 2550, 50), SMALL),
    Equipment("DO-G03", "Consulting room 1 data", OUTLET, DATA, 0, (12500, 2550, 50), SMALL),
    Equipment("DO-G04", "Consulting room 2 data", OUTLET, DATA, 0, (15500, 1450, 50), SMALL),
    Equipment("DO-G05", "Pharmacy data", OUTLET, DATA, 0, (19500, 2550, 50), SMALL),
    # --- ground floor, fed from wall trunking and its conduit
    Equipment("SO-G21", "Reception counter outlets", OUTLET, POWER, 0, (8300, 4950, 1200), SMALL),
    Equipment("SO-G22", "Reception till outlet", OUTLET, POWER, 0, (8250, 5050, 950), SMALL),
    Equipment("SO-G23", "Microscope bench outlets", OUTLET, POWER, 0, (11400, 3350, 1500), SMALL),
    Equipment("SO-G24", "Examination light outlet", OUTLET, POWER, 0, (11650, 3450, 1500), SMALL),
    Equipment("LI-EXT", "Outside lights, east", LIGHT, "DIRECTIONSOURCE", 0, (21850, 5050, 2650), LAMP),
    Equipment("LI-G01", "Reception lights", LIGHT, "POINTSOURCE", 0, (7000, 4600, 2500), LAMP),
    Equipment("LI-G02", "Reception exit light, self-contained", LIGHT, "SECURITYLIGHTING", 0, (8900, 4600, 2500), LAMP),
    # --- ground floor, fed from the corridor tray
    Equipment("CT-1", "CT scanner", OTHER, OWN, 0, (18600, 8000, 2300), PLANT),
    Equipment("AUTO-1", "Autoclave", OTHER, OWN, 0, (14600, 8000, 2300), PLANT),
    Equipment("LAUN-1", "Laundry machines", OTHER, OWN, 0, (13400, 9000, 2300), PLANT),
    Equipment("KEN-1", "Kennel heating", OTHER, OWN, 0, (17400, 9200, 2300), PLANT),
    Equipment("AHU-1", "Air handling unit", "IfcUnitaryEquipment", "AIRHANDLER", 0, (18000, 11200, 2650), PLANT),
    Equipment("COMP-1", "Medical air compressor", OTHER, OWN, 0, (16500, 6500, 2300), PLANT),
    Equipment("VAC-1", "Dental suction pump", OTHER, OWN, 0, (15200, 6500, 2300), PLANT),
    Equipment("LI-G03", "Corridor lights", LIGHT, "POINTSOURCE", 0, (12500, 6400, 2450), LAMP),
    Equipment("LI-G04", "Theatre lights", LIGHT, "POINTSOURCE", 0, (14450, 7000, 2450), LAMP),
    Equipment("ACT-1", "Theatre dampers", ACTUATOR, "ELECTRICACTUATOR", 0, (13550, 7700, 2700), SMALL),
    Equipment("DO-G06", "Imaging data", OUTLET, DATA, 0, (18000, 9900, 800), SMALL),
    # --- first floor
    Equipment("AC-1", "Roof air conditioning", "IfcUnitaryEquipment", "SPLITSYSTEM", 1, (20500, 5500, 6500), PLANT),
    Equipment("AC-2", "Office air conditioning", "IfcUnitaryEquipment", "SPLITSYSTEM", 1, (15000, 5500, 6500), PLANT),
    Equipment("SO-101", "Office outlets west", OUTLET, POWER, 1, (16000, 7500, 4550), SMALL),
    Equipment("SO-102", "Laboratory outlets", OUTLET, POWER, 1, (20800, 7500, 4550), SMALL),
    Equipment("SO-103", "Kitchen outlets east", OUTLET, POWER, 1, (12900, 7500, 4550), SMALL),
    Equipment("SO-104", "Laboratory bench outlets", OUTLET, POWER, 1, (20500, 9850, 3850), SMALL),
    Equipment("LI-104", "Laboratory bench lights", LIGHT, "POINTSOURCE", 1, (20200, 9350, 3800), LAMP),
    Equipment("SO-106", "Kitchen outlets west", OUTLET, POWER, 1, (11450, 8500, 4550), SMALL),
    Equipment("OVEN-1", "Kitchen oven", OTHER, OWN, 1, (7950, 10000, 4450), PLANT),
    Equipment("LI-101", "Kitchen lights", LIGHT, "POINTSOURCE", 1, (8200, 10350, 4700), LAMP),
    Equipment("LI-102", "Corridor lights", LIGHT, "POINTSOURCE", 1, (16500, 5600, 6050), LAMP),
    Equipment("LI-103", "Corridor exit light, self-contained", LIGHT, "SECURITYLIGHTING", 1, (8500, 6400, 6050), LAMP),
    Equipment("ACT-2", "Roof plant dampers", ACTUATOR, "ELECTRICACTUATOR", 1, (21200, 6400, 6300), SMALL),
    Equipment("DO-101", "Office data", OUTLET, DATA, 1, (16800, 7500, 4550), SMALL),
    Equipment("DO-102", "Laboratory data", OUTLET, DATA, 1, (20000, 7500, 4550), SMALL),
    Equipment("WAP-1", "Meeting room access point", NETWORK, "NETWORKAPPLIANCE", 1, (7500, 5600, 6100), SMALL),
    # --- fire alarm devices
    Equipment("SD-G1", "Corridor smoke detector, east", "IfcSensor", "SMOKESENSOR", 0, (17700, 5750, 2450), SMALL),
    Equipment("SND-G1", "Entrance sounder", "IfcAlarm", "SIREN", 0, (2800, 5850, 2550), SMALL),
    Equipment("MCP-G1", "Entrance call point", "IfcAlarm", "BREAKGLASSBUTTON", 0, (2650, 5800, 2400), SMALL),
    Equipment("SND-G2", "Reception sounder", "IfcAlarm", "SIREN", 0, (7800, 4650, 2500), SMALL),
    Equipment("SD-11", "First floor smoke detector", "IfcSensor", "SMOKESENSOR", 1, (15700, 5750, 6100), SMALL),
    Equipment("SND-11", "First floor sounder", "IfcAlarm", "SIREN", 1, (9300, 5750, 6100), SMALL),
    # --- emergency luminaires on the central battery
    Equipment("EL-G1", "Corridor exit light, west", LIGHT, "SECURITYLIGHTING", 0, (5500, 6450, 2100), LAMP),
    Equipment("EL-G2", "Corridor exit light, east", LIGHT, "SECURITYLIGHTING", 0, (11500, 6450, 2100), LAMP),
    Equipment("EL-G3", "Plant room exit light", LIGHT, "SECURITYLIGHTING", 0, (3700, 3000, 2150), LAMP),
    Equipment("EL-11", "First floor exit light", LIGHT, "SECURITYLIGHTING", 1, (18100, 6500, 5750), LAMP),
)

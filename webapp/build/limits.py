"""How much of everything a build may hold; beyond it an entry is taken for a slip."""

import datetime as dt

EARLIEST_DAY = dt.date(1950, 1, 1)
LATEST_DAY = dt.date(2150, 12, 31)
MOST_HOURS = 10_000.0
MOST_WAIT_HOURS = 100_000.0
MOST_DAYS_AWAY = 3_650.0
MOST_SPACE_LITRES = 100_000.0
MOST_COST = 1_000_000_000.0
MOST_CURRENCY_CHARACTERS = 12
MOST_PEOPLE = 20
MOST_OF_A_STATION = 100
MOST_RANK = 1_000_000
MOST_TASKS = 2_000
MOST_DEPENDENCIES = 20_000
"""So much the command plans in 30 s, and pages are to show in 2 s; see DEVELOPERS.md."""
MOST_PARTS = 5_000
MOST_WISHES = 1_000
MOST_LOG_ENTRIES = 50_000
MOST_SUBSYSTEMS = 500
MOST_SETUPS = 200
MOST_ANSWERS = 200
MOST_STATIONS = 200
MOST_DAY_EXCEPTIONS = 5_000
MOST_RANGES = 200
MOST_RANGE_DAYS = 366
"""Of one range of days: hours that last longer are a shop week with a first day."""
MOST_LATER_WEEKS = 100
MOST_GIVEN_AWAY = 5_000
MOST_LOOKED_AT = 10_000
MOST_EARLIER_RECORDS = 10
MOST_EARLIER_HOURS = 1_000_000_000.0
MOST_EARLIER_WEEKS = 10_000
MOST_LOG_SQUARES = 1_000_000.0
LEAST_CONFIDENCE = 0.5
MOST_CONFIDENCE = 0.99
MOST_NAME_CHARACTERS = 500
MOST_TEXT_CHARACTERS = 10_000
MOST_DOCUMENT_BYTES = 64_000_000
"""Of a whole build as it is written down; no document that is larger is read."""
MOST_STEPS_OF_A_TASK = 200
MOST_MEASURES_OF_A_TASK = 100
MOST_STEPS = 10_000
MOST_MEASURES = 5_000
"""Of all tasks of a build together."""
MOST_LIST_ROWS = MOST_TASKS
MOST_LIST_COLUMNS = 100
MOST_LIST_BYTES = 2_000_000
"""Of a list that is pasted or uploaded."""
MOST_COMPONENTS = 1_000
MOST_PORTS = 60
"""Of one component."""
MOST_CIRCUITS = 100
MOST_RUNS = 2_000
MOST_PIECES = 40
"""Of one run."""
MOST_CLAMPS = 2 * (MOST_PIECES + 1)
"""Of one run: two at each of its joints."""
MOST_SHELF_LINES = 2_000
MOST_SOLD = 500
MOST_ON_THE_SHELF = 9_999
"""Of one thing."""
LEAST_SIZE_MM = 1.0
MOST_SIZE_MM = 500.0
LEAST_LENGTH_MM = 1.0
MOST_LENGTH_MM = 20_000.0
MOST_WALL_MM = 50.0
MOST_ANGLE = 180.0
MOST_BAR = 2_500.0
MOST_LITRES_INSIDE = 5_000.0
LEAST_FROST_C = -100.0
"""Nowhere on earth is it colder."""
MOST_PLUMBING_KEY_CHARACTERS = 60
"""Of keys and names of ports, which together make the address of a port."""
MOST_SIZE_NAME_CHARACTERS = 60
MOST_ROOMS = 200
MOST_IN_A_ROOM = 60
MOST_OWN_LIMITS = 500
MOST_OF_A_LIMIT = 1_000_000.0
MOST_WIRES = 500
MOST_AMPS = 3_000.0
MOST_WIRE_MM2 = 300.0
MOST_WIRE_M = 100.0
LEAST_WIRE_C, MOST_WIRE_C = -40.0, 200.0
MOST_BELTS = 50
MOST_PULLEYS = 20
"""Of one belt."""
MOST_PULLEY_MM = 2_000.0
MOST_BELT_MM = 20_000.0
MOST_CUT_LENGTH_MM = 1_000_000.0
"""Of a piece or a bar in a cut list: hose comes in coils."""
MOST_KERF_MM = 50.0
MOST_STOCK_PRICE = 1_000_000.0
MOST_STOCK_LINES = 500
MOST_CUT_PIECES = 5_000
"""Of one cut list, counted one by one."""
MOST_PHOTOGRAPH_BYTES = 30_000_000
"""Of one picture as it comes from a camera."""
MOST_PHOTOGRAPH_PIXELS = 50_000_000
LONGEST_PHOTOGRAPH_SIDE_PX = 2_000
SMALL_PHOTOGRAPH_SIDE_PX = 400
"""So long a side pictures are kept with: the whole one, and the small one of lists and cards."""
MOST_PHOTOGRAPHS = 1_000
MOST_PHOTOGRAPHS_BYTES = 150_000_000
"""Of all photographs of a build together, as they are kept; no more are added beyond it."""
MOST_FULL_DOCUMENT_BYTES = MOST_DOCUMENT_BYTES + 200_000_000 * 4 // 3
"""Of a document with its photographs: base64 makes four bytes of three. They are made anew as
they are read, and may come out a little larger: so there is room for more than may be added."""
MOST_START_ANSWERS = 100
MOST_SIGNATURES = 10_000
MOST_READINGS = 12
"""Of one signature."""
MOST_OF_A_READING = 1_000_000.0
MOST_CHECK_CHANGES = 1_000
MOST_OWN_CHECKS = 200
MOST_OPENINGS = 20_000
MOST_REACHES = 400
"""Of one opening."""
MOST_ENGINE_RUNS = 5_000
MOST_STOP_LINES = 20
LEAST_SECONDS_BETWEEN_SIGNATURES = 8.0
"""Of one person: who signs faster has not looked."""
MOST_SECONDS_TO_TAKE_BACK = 5.0
LEAST_WORDS_OF_A_REASON = 3

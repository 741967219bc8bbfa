"""The pages of the program that the browser looks at, one of each route at least.

`tests/pages/test_page_list.py` fails where a route answers with a page that is not among them.
"""

ROOMS = (
    *("shop", "shop/people", "shop/setups", "shop/subsystems", "shop/units", "shop/build"),
    *("shop/copies", "shop/later", "shop/sharing", "shop/network", "own-list"),
)
EVENING = (
    *("bench", "bench/cards", "order", "path", "tasks?find=bracket", "tasks/new"),
    *("tasks/rad_bracket", "drop-tasks?task=rad_bracket", "remove-task?key=loom_crimp", "list"),
    *("list?of=parts", "list?of=log", "list?of=wishes", "tables", "report"),
    *("find?words=hose", "photographs?task=rad_bracket"),
)
SUNDAY = (
    *(
        "week",
        "week/2026-W05",
        "week/compare",
        "log",
        "record",
        "scope",
        "soundness",
        "journal",
        "money",
    ),
    *("wishes", "wishes/a-lamp-behind-the-seat", "remove-wish?key=a-lamp-behind-the-seat"),
    *("parts", "parts/new", "parts/bulkhead_unions", "parts-list"),
    "remove-part?key=bulkhead_unions",
)
PLUMBING = (
    *("plumbing", "plumbing/coolant", "plumbing/vacuum", "buy-list", "joints", "shelf", "room"),
    *("coolant?circuit=coolant", "runs/cold1"),
    *("runs/w_top?typing=piece", "cut-list", "cut-list?what=hose+38+coolant", "new-circuit"),
    *("circuit-form?key=coolant", "new-component?circuit=coolant", "component?key=rad"),
    *("new-component?circuit=coolant&kind=radiator", "new-port?component=rad"),
    *("port?key=rad.drain", "new-run?circuit=coolant", "run-form?key=cold1"),
    *("piece?run=cold1&at=1", "new-on-shelf", "remove-run?key=cold1"),
    *("remove-component?key=rad", "remove-circuit?key=coolant", "remove-port?key=rad.drain"),
    "tasks-of-run?key=cold1",
)
SIZING = (
    *("sizing", "data-sheet", "data-sheet?asked=filter_m3_h", "fill-day", "wire", "belt?key=belt"),
    "limit?check=charge_speed&at=hot1",
)
FIRST_START = (
    *("first-start", "first-start/stage?key=dry", "first-start/check?key=battery_off"),
    *("first-start/answers", "first-start/stop-lines", "first-start/own-check"),
    *("first-start/circuit?key=coolant", "first-start/open?kind=check"),
    *("first-start/day", "first-start/sheet", "first-start/sheet?whole=1"),
)
PAGES = (*EVENING, *SUNDAY, *ROOMS, *PLUMBING, *SIZING, *FIRST_START)
"""Below The Heron, with a wish that is logged there."""
LINKED = (
    ("log", "log-entry?", ""),
    ("shelf", "shelf-thing?", ""),
    ("photographs?task=rad_bracket", "photographs/", ""),
    ("photographs?task=rad_bracket", "photographs/", "/remove"),
    ("/copies", "/put-back?", ""),
    ("/own-lists", "/own-list?", ""),
)
"""A page, how the address of the page begins that its first such link leads to, and
what is put behind its path. Below The Heron, but for those that begin with a stroke."""
STARTED = ("starter", "order", "record")
"""Below a build that was begun from a starter list, with the record of The Heron."""
OUTSIDE = (
    *("/", "/copies", "/feeds", "/network", "/own-lists", "/builds/new", "/builds/import"),
    "/builds/the-heron/delete",
)

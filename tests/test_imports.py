"""Imports point one way, room by room; documents name what is there.

The rooms are those of the house: pages -> services -> storage, exchange -> planning -> build.
"""

import ast
import re
from collections.abc import Set
from functools import cache
from itertools import groupby
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
WEBAPP = ROOT / "webapp"

BUILD = ("build", "build/time", "build/checks", "build/verbs", "build/starter")
PLANNING = tuple(
    f"planning/{room}"
    for room in (
        *("network", "simulator", "order", "chances"),
        *("tighten", "record", "bridge", "proof"),
    )
)
BESIDE_PLANNING = ("plumbing", "sizing", "first_start")
"""All in their order: a room may import those before it and never one behind it."""
CORE = {*BUILD, *PLANNING, *BESIDE_PLANNING}
PAGES = ("pages", "pages/words", "pages/forms", "pages/frame", "pages/*")
"""`pages` holds the addresses; `pages/*` are the folders of one page each."""
REPORT = "pages/report"
"""A page that is a file as well: the command makes it too."""
MIDDLE = {"settings", "storage", "exchange", "services"}

MAY_IMPORT: dict[str, set[str]] = {
    **{room: {*BUILD[: place + 1]} for place, room in enumerate(BUILD)},
    **{room: {*BUILD, *PLANNING[: place + 1]} for place, room in enumerate(PLANNING)},
    **{room: {*BUILD, *BESIDE_PLANNING[: place + 1]} for place, room in enumerate(BESIDE_PLANNING)},
    "pictures": {*CORE, "pictures"},
    "settings": {"settings"},
    "storage": {*CORE, "settings", "storage"},
    "exchange": {*CORE, "exchange"},
    "services": {*CORE, *MIDDLE},
    "pages": {"pages"},
    "pages/words": {*CORE, "pages/words"},
    "pages/forms": {*CORE, *MIDDLE, *PAGES[:3]},
    "pages/frame": {*CORE, *MIDDLE, *PAGES[:4]},
    "pages/*": {*CORE, *MIDDLE, *PAGES, "pictures"},
    REPORT: {*CORE, *MIDDLE, *PAGES, "pictures", REPORT},
    "app": {*MIDDLE, *PAGES},
    "command": {*CORE, *MIDDLE, "command", "app", "pages/words", REPORT},
    "__main__": {"command", REPORT},
}
"""Room -> rooms it may import; a room is a folder of webapp/ or a module beside them."""
OUTSIDE_OF_PURE = {"fastapi", "starlette", "sqlmodel", "sqlalchemy", "jinja2", "os", "pathlib"}
"""What no pure room may import: the web, the database, files."""
PURE = ("build", "planning", "pictures", *BESIDE_PLANNING)

MODULES = sorted(WEBAPP.rglob("*.py"))


def room_of(path: str) -> str:
    """The room of a module under webapp/, "planning/order/path.py"; "" for empty packages."""
    parts = path.removesuffix(".py").removesuffix("/__init__").split("/")
    name = "/".join(parts[:2])
    if parts[0] == "pages" and len(parts) > 1:
        if path.count("/") == 1:
            return "pages"
        return name if name in (*PAGES, REPORT) else "pages/*"
    if parts[0] in ("build", "planning"):
        return name if name in CORE else parts[0]
    return parts[0] if parts[0] != "__init__" else ""


@cache
def imported(module: Path) -> Set[str]:
    """Dotted names a module imports, at its top or within its functions."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module} imports relatively"
            names.add(node.module or "")
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def modules_imported(module: Path) -> set[str]:
    """The modules of webapp/ that a module imports, "planning/order/path.py"."""
    found = set()
    for name in imported(module):
        path = name.removeprefix("webapp.").replace(".", "/") + ".py"
        if name.startswith("webapp.") and (WEBAPP / path).exists():
            found.add(path)
    return found


ROOMS = {
    room: tuple(modules)
    for room, modules in groupby(
        sorted(MODULES, key=lambda module: room_of(str(module.relative_to(WEBAPP)))),
        key=lambda module: room_of(str(module.relative_to(WEBAPP))),
    )
}


@pytest.mark.parametrize("room", ROOMS)
def test_every_import_points_inwards(room: str) -> None:
    wrong = {
        str(module.relative_to(ROOT)): outwards
        for module in ROOMS[room]
        if (outwards := imported_outwards(module, room))
    }
    assert not wrong


def imported_outwards(module: Path, room: str) -> set[str]:
    """What a module of a room imports and may not: rooms, of an empty package any module."""
    modules = modules_imported(module)
    if not room or (module.name == "__init__.py" and room == "planning"):
        return modules
    return {room_of(path) for path in modules} - MAY_IMPORT[room]


def test_every_module_stands_in_a_room_of_the_house() -> None:
    rooms = {room_of(str(module.relative_to(WEBAPP))) for module in MODULES}
    # Nothing stands in planning/ itself, outside of its rooms.
    loose = [m.name for m in (WEBAPP / "planning").glob("*.py")]
    assert loose == ["__init__.py"]
    assert rooms - {"", "planning"} <= set(MAY_IMPORT)


@pytest.mark.parametrize("room", PURE)
def test_the_pure_rooms_know_no_web_no_database_and_no_files(room: str) -> None:
    for module in (WEBAPP / room).rglob("*.py"):
        tops = {name.split(".")[0] for name in imported(module)}
        assert not tops & OUTSIDE_OF_PURE, module


@pytest.mark.parametrize("room", PURE)
def test_the_pure_rooms_ask_no_clock(room: str) -> None:
    for module in (WEBAPP / room).rglob("*.py"):
        text = module.read_text("utf-8")
        assert not re.search(r"datetime\.now\(|date\.today\(|utcnow\(", text), module


def test_the_proof_shares_nothing_with_the_simulator() -> None:
    """Not even by way of others: the values of a plan, and the build, are all it reads."""
    seen: set[str] = set()
    ahead = {str(m.relative_to(WEBAPP)) for m in (WEBAPP / "planning/proof").glob("*.py")}
    while ahead:
        path = ahead.pop()
        seen.add(path)
        ahead |= modules_imported(WEBAPP / path) - seen
    shared = {path for path in seen if not path.startswith(("build/", "planning/proof/"))}
    assert shared == {"planning/order/plan.py", "planning/network/obstacles.py"}
    assert not {path for path in seen if path.startswith("build/time/")}


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_the_documents_name_files_that_are_there(document: str) -> None:
    text = (ROOT / document).read_text("utf-8")
    named = set(
        re.findall(r"[`(]((?:webapp|tests|templates|static|migrations|seed_data)/[\w./-]+)", text)
    )
    assert named
    missing = [path for path in named if not (ROOT / path.rstrip("/.")).exists()]
    assert not missing


def test_the_top_of_the_tree_holds_nothing_else() -> None:
    wanted = {
        *("README.md", "DEVELOPERS.md", "pyproject.toml", "requirements.lock"),
        *("webapp", "migrations", "templates", "static", "tests", "seed_data"),
    }
    there = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    built = {"dist", "build"} | {n for n in there if n.endswith(".egg-info")}
    assert there - built == wanted

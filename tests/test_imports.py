"""Imports point one way: pages -> storage, exchange -> planning; documents name what is there."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
WEBAPP = ROOT / "webapp"
INNER = ("planning", "plumbing", "sizing")
MAY_IMPORT = {
    "planning": {"planning"},
    "plumbing": {"plumbing"},
    "sizing": {"sizing"},
    "pictures": {"pictures", *INNER},
    "storage": {"storage", "settings", *INNER},
    "exchange": {"exchange", *INNER},
    "settings": {"settings"},
    "pages": {"pages", "pictures", "storage", "exchange", "settings", *INNER},
    "app": {"pages", "storage", "settings"},
    "command": {"command", "app", "storage", "exchange", "settings", *INNER},
    "__main__": {"command"},
}
"""Room -> rooms it may import; a room is a folder of webapp/ or a module beside them."""
OUTSIDE_OF_PURE = {"fastapi", "starlette", "sqlmodel", "sqlalchemy", "jinja2", "os", "pathlib"}
"""What no pure room may import: the web, the database, files."""

MODULES = sorted(WEBAPP.rglob("*.py"))


def room_of(module: Path) -> str:
    first = module.relative_to(WEBAPP).parts[0]
    return first.removesuffix(".py")


def imported(module: Path) -> set[str]:
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


@pytest.mark.parametrize("module", MODULES, ids=lambda m: str(m.relative_to(ROOT)))
def test_every_import_points_inwards(module: Path) -> None:
    room = room_of(module)
    if room == "__init__":
        return
    rooms = {n.split(".")[1] for n in imported(module) if n.startswith("webapp.")}
    assert rooms - {"__init__", "__file__"} <= MAY_IMPORT[room]


@pytest.mark.parametrize("room", ["planning", "pictures"])
def test_the_pure_rooms_know_no_web_no_database_and_no_files(room: str) -> None:
    for module in (WEBAPP / room).rglob("*.py"):
        tops = {name.split(".")[0] for name in imported(module)}
        assert not tops & OUTSIDE_OF_PURE, module


def test_the_pure_rooms_ask_no_clock() -> None:
    for module in (WEBAPP / "planning").rglob("*.py"):
        text = module.read_text("utf-8")
        assert not re.search(r"datetime\.now\(|date\.today\(|utcnow\(", text), module


def test_the_checks_share_nothing_with_the_simulator() -> None:
    checks = {"plan_checks", "plan_facts", "plan_reason_checks", "open_hours"}
    simulator = {"simulate", "variant_block", "windows", "pools", "work_arrays", "shop_calendar"}
    for name in checks:
        names = imported(WEBAPP / "planning" / f"{name}.py")
        assert not {n.split(".")[-1] for n in names} & simulator, name


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

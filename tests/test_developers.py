"""What DEVELOPERS.md teaches is the code as it is: its names and its code blocks are tried."""

import ast
import builtins
import importlib
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", TEXT, re.S)
NO_NAMES = {"keyturn", "download", "style", "name", "later"}
"""Words in backquotes that are commands, attributes or words of a page, not names of the code."""


def imported_names() -> list[tuple[str, str]]:
    """Every name that a code block imports from the program, with its module."""
    return [
        (node.module, alias.name)
        for block in BLOCKS
        for node in ast.walk(ast.parse(block))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("webapp")
        for alias in node.names
    ]


def names_in_text() -> list[str]:
    """Every word in backquotes that looks like a name of the code."""
    outside = re.sub(r"```.*?```", "", TEXT, flags=re.S)
    return sorted(set(re.findall(r"`([A-Za-z_]\w+)(?:\(\))?`", outside)) - NO_NAMES)


def names_in_the_house() -> frozenset[str]:
    """Every word of its code, every module and folder, every file at its top."""
    code = [path for folder in ("webapp", "tests") for path in (ROOT / folder).rglob("*.py")]
    words = {word for path in code for word in re.findall(r"\w+", path.read_text("utf-8"))}
    modules = {path.stem for path in ROOT.glob("webapp/**/*.py")}
    folders = {path.name for path in (ROOT / "webapp").rglob("*") if path.is_dir()}
    return frozenset(words | modules | folders | {path.name for path in ROOT.iterdir()})


def test_there_is_something_to_try() -> None:
    assert len(imported_names()) > 10
    assert len(names_in_text()) > 30


@pytest.mark.parametrize(("module", "name"), imported_names())
def test_a_name_that_a_code_block_imports_is_there(module: str, name: str) -> None:
    if not hasattr(importlib.import_module(module), name):
        importlib.import_module(f"{module}.{name}")


@pytest.mark.parametrize("block", BLOCKS)
def test_a_code_block_uses_no_name_that_it_does_not_have(block: str) -> None:
    """It is run as a module: its functions are made, its decorators and annotations looked up."""
    exec(compile(block, "DEVELOPERS.md", "exec"), {"__name__": "taught"})
    tree = ast.parse(block)
    made = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    known = {
        alias.asname or alias.name
        for n in ast.walk(tree)
        if isinstance(n, ast.ImportFrom)
        for alias in n.names
    }
    known |= {node.arg for node in ast.walk(tree) if isinstance(node, ast.arg)}
    known |= {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
    known |= {
        n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)
    }
    assert made <= known | set(dir(builtins))


def test_every_name_that_is_told_of_stands_in_the_code() -> None:
    there = names_in_the_house()
    assert [name for name in names_in_text() if name not in there] == []

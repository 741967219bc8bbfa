"""The pages, one folder each: routes (HTTP only), forms (text to input), views (strings)."""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fastapi import APIRouter

PAGES = (
    *(
        "frame",
        "cards",
        "bench",
        "order",
        "path",
        "wishes",
        "scope",
        "week",
        "sharing",
        "shop",
        "parts",
        "money",
        "plumbing",
        "sizing",
        "fill_day",
        "first_start",
        "photographs",
        "tasks",
        "lists",
        "tables",
        "report",
    ),
    *("starter", "journal", "find", "copies", "feeds", "network", "own_lists", "builds"),
)
"""In the order their addresses are tried: `builds` has the widest ones."""


def routers() -> "tuple[APIRouter, ...]":
    """The router of every page, from its `routes` module."""
    return tuple(import_module(f"webapp.pages.{page}.routes").router for page in PAGES)

"""Loads the whole program: for the process that the others are forked off (`forked_server.py`)."""

import gc
import importlib
import pkgutil

import webapp

SOLVERS = ("ortools.sat.python.cp_model", "ortools.linear_solver.pywraplp")
"""What the program loads only when it looks for the best order or the best cut."""


def load_the_whole_program() -> None:
    """Have every module of the program at hand, and its solvers."""
    for module in pkgutil.walk_packages(webapp.__path__, "webapp."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    for name in ("webapp.__main__", *SOLVERS):
        importlib.import_module(name)


load_the_whole_program()
gc.collect()
gc.freeze()  # what is forked off shares it, as long as nobody looks through it

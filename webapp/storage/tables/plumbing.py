"""Every table of what is plumbed, in the order in which they are written."""

from webapp.storage.tables.circuits import CIRCUIT_HOLDS, CIRCUIT_WAIVERS, CIRCUITS
from webapp.storage.tables.components import COMPONENT_PORTS, COMPONENT_VOLUMES, COMPONENTS
from webapp.storage.tables.runs import RUN_PIECES, RUN_TASKS, RUNS
from webapp.storage.tables.shelf import PART_PLUMBING, SHELF, SOLD

PLUMBING_NOUNS = (
    *(CIRCUITS, CIRCUIT_HOLDS, CIRCUIT_WAIVERS),
    *(COMPONENTS, COMPONENT_VOLUMES, COMPONENT_PORTS),
    *(RUNS, RUN_TASKS, RUN_PIECES, SHELF, PART_PLUMBING, SOLD),
)
"""What is referred to before what refers to it."""

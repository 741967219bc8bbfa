"""A circuit as a pipe drawing, for any graph of components and runs: broad, and for a phone."""

from webapp.pictures.circuit_broad import in_breadth
from webapp.pictures.circuit_column import in_column
from webapp.pictures.circuit_model import CircuitModel, CircuitPicture
from webapp.pictures.circuit_order import arranged


def circuit_pictures(model: CircuitModel) -> tuple[CircuitPicture, CircuitPicture]:
    """The picture for a broad page and the one for a phone."""
    order = arranged(model)
    broad = in_breadth(model, order) or in_column(model, order, form="column")
    return broad, in_column(model, order, form="upright")

"""What is open of a circuit as a whole, at the foot of its picture: a stub and its words."""

from webapp.pictures.circuit_drawing import drawn_port
from webapp.pictures.circuit_model import (
    CircuitModel,
    DrawnRun,
    PicturePort,
    Words,
    fitted,
    words_at,
)

EDGE, LINE, BEHIND_STUB = 14.0, 22.0, 36.0


def whole_lines(
    model: CircuitModel, width: float, bottom: float
) -> tuple[list[DrawnRun], list[Words], float]:
    """The stubs, the words and the height of the picture with them."""
    runs, words = [], []
    y = bottom + 14
    for text in model.whole:
        port = PicturePort(key=text, box="", name=text)
        runs.append(drawn_port(port, (EDGE, y), is_down=False))
        said = fitted(f"open: {text}", width - 2 * EDGE - BEHIND_STUB, "bold")
        words.append(words_at(said, EDGE + BEHIND_STUB, y + 4, "bold"))
        y += LINE
    return runs, words, (y - 4 if model.whole else bottom)

"""Words of photographs: what is offered as a caption, and what is said where there is none."""

from webapp.build.build_input import Photograph
from webapp.build.checks.size_checks import megabytes
from webapp.build.limits import MOST_PHOTOGRAPH_BYTES, MOST_PHOTOGRAPHS, MOST_PHOTOGRAPHS_BYTES
from webapp.pages.words.quoted import shown

USUAL_CAPTIONS = (
    "Dry fit",
    "Hose labels",
    "Wire colours",
    "Before it came apart",
    "Measure taken",
)
TOO_LARGE = (
    f"They are larger than {megabytes(MOST_PHOTOGRAPH_BYTES)} together. Choose fewer at once, or "
    "take them with fewer megapixels; what was typed is kept."
)
NONE_CHOSEN = "No photograph was chosen. Take one, or choose a file, and send it again."
CHOOSE_AGAIN = "Choose the photographs once more: a browser does not keep them."
FILE_NOT_THERE = "The picture's file is not there."
HOW_TO_FIND = "Look for the folder of photographs that lay beside the data file."
HOW_TO_BRING_BACK = (
    "It lay in the folder of photographs beside the data file. Put the folder back from a copy, "
    "or remove this photograph and take it anew."
)
TOO_MANY = (
    f"A build may have {MOST_PHOTOGRAPHS:,} photographs, and {megabytes(MOST_PHOTOGRAPHS_BYTES)} "
    "of them: these are too many. Remove some first."
)


def left_out_words(count: int) -> str:
    """What is said of photographs that an export can not have; "" where it has all."""
    if not count:
        return ""
    if count == 1:
        return "Left out of it is 1 photograph: its file is not there."
    return f"Left out of it are {count:,} photographs: their files are not there."


def called(photograph: Photograph, task_name: str) -> str:
    """What a photograph shows, as far as anybody said: "Dry fit", "Photograph of “Weld it”"."""
    return photograph.caption or f"Photograph of “{shown(task_name)}”"

"""What is said of a list that is pasted."""

ARRIVED = "It is here"
LOGGED_LATER = "That day is still to come. A wish is logged on the day it was had."
NOUNS = {"size": "quick size"}
ASKED = {
    "sure": "Some rows are asked about. If they are right as they stand, tick that they are.",
    "finished": "Some rows are about tasks that are finished. Say what their hours belong to.",
}
"""Below a list, by the field that answers it."""
FINISHED_CHOICES = (
    ("", "not said"),
    ("stays", "to the work that is finished"),
    ("open", "they open the task again"),
)


def title(many: str) -> str:
    """What the page is called: "Paste a list of parts"."""
    return f"Paste a list of {many}"


def part_again(name: str) -> str:
    """A part of the same name is there already."""
    return f"There is a part “{name}” already. Leave the row out, or tick that it is another one."


def wish_again(text: str) -> str:
    """A wish of the same words is there already."""
    return (
        f"The wish “{text}” is logged already. Leave the row out, or tick that it is another one."
    )


def not_there(what: str, name: str) -> str:
    """A name that nothing has."""
    return f"There is no {what} “{name}”. Make it in the shop first, or leave the column out."


def neither_yes_nor_no(label: str, word: str) -> str:
    """A cell that is to say yes or no."""
    return f"{label}: “{word}” is neither yes nor no. Write yes, or leave the cell empty."


def as_many(numbers: int, names: int) -> str:
    """Numbers in a cell that do not go with the names in another."""
    return (
        f"There are {numbers} numbers for {names} parts. Give one for each of them, with "
        "semicolons between, or none."
    )

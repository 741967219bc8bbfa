"""What is said of the tables that go out."""

from webapp.pages.words import amounts

NO_TABLE = "There is no such table. These go out: tasks, parts, log, wishes and weeks."
TITLES = {
    "tasks": "Tasks",
    "parts": "Parts",
    "log": "Time log",
    "wishes": "Wishes",
    "weeks": "Figures of the weeks",
}
_NOUNS = {
    "tasks": ("task", "tasks"),
    "parts": ("part", "parts"),
    "log": ("entry", "entries"),
    "wishes": ("wish", "wishes"),
}


def note(name: str, count: int | None) -> str:
    """How much is in a table."""
    if count is None:
        return "hours promised, workable and worked, week by week; it only goes out"
    return amounts.count(count, *_NOUNS[name])

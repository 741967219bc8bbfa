"""What is to be entered before first start can have a date."""

from webapp.build.build_input import BuildInput
from webapp.build.circuit_dependencies import as_planned
from webapp.pages.words.the_end import of_the_end
from webapp.planning.order.known_date import Missing, what_is_missing

MISSING_WORDS: dict[Missing, str] = {
    "tasks": "No task stands before first start yet: enter what has to be done before it.",
    "hours": "No task before first start has hours yet: enter the likely hours of each.",
}
SHORT_WORDS: dict[Missing, str] = {
    "tasks": "not known: no task before it yet",
    "hours": "not known: no task has hours yet",
}


def missing_words(build: BuildInput) -> str:
    """What has to be entered before first start can have a date, "" where nothing is missing."""
    missing = what_is_missing(as_planned(build))
    return of_the_end(MISSING_WORDS[missing]) if missing else ""

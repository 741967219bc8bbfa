"""What is to be entered before first start can have a date."""

from webapp.planning.order.known_date import Missing

MISSING_WORDS: dict[Missing, str] = {
    "tasks": "No task stands before first start yet: enter what has to be done before it.",
    "hours": "No task before first start has hours yet: enter the likely hours of each.",
}
SHORT_WORDS: dict[Missing, str] = {
    "tasks": "not known: no task before it yet",
    "hours": "not known: no task has hours yet",
}

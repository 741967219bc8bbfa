"""First start if every promised hour is worked and every estimate holds, and what lies between."""

from webapp.pages.words import amounts as words
from webapp.pages.words.how import factor, percent
from webapp.pages.words.the_end import the_end


def as_promised_words(
    day: str, *, days: int, tasks: str, level: float, weeks: str, attendance: float
) -> str:
    """The date, by how many `days` the likely one is later, and what of the record makes it so.

    `tasks` and `weeks`, in words, stand behind the factors `level` and `attendance`; "" where there
    is no record or it does not count.
    """
    said = f"If every promised hour is worked and every estimate holds, {the_end()} is {day}"
    if not days:
        return f"{said}: the likely date."
    apart = f"{words.days(abs(days))} before" if days > 0 else f"{words.days(-days)} after"
    record = []
    if tasks:
        record.append(f"work takes {factor(level)} of its estimate ({tasks})")
    if weeks:
        worked = f"{percent(attendance)} of the hours that can be worked are worked"
        record.append(f"{worked} ({weeks})")
    spread = "that the three hours of tasks reach further up than down"
    made = f"your record: {words.listed(record)}" if record else spread
    return f"{said}, {apart} the likely date. What makes the difference is {made}."

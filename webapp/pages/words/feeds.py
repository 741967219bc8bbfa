"""What a calendar says of a build, and what the page of its addresses says."""

import datetime as dt
from collections.abc import Sequence

from webapp.pages.words import amounts
from webapp.pages.words.the_end import capital_end, the_end

NAMED = 2
"""So many tasks are named in the title of a session; all of them stand in its text."""
ALL_BUILDS = "all builds"
NO_NAME = "Give it a name, so that you know it again: my phone, the laptop."
LONG_NAME = "The name is long: 60 characters are the most."
NO_SUCH_BUILD = "That build is not there any more. Pick one that is."
TOO_MANY = "There are 50 addresses, and that is the most. Take one back that is not used."
GONE = "That address is not there any more."
NOT_HERE = (
    "There is no calendar at this address. It may have been changed or taken back: make one on "
    "the page “In your calendar” of the program.\n"
)
NOT_READY = "The dates are being worked out. Ask again in half a minute.\n"


def taken_back(name: str) -> str:
    """What is said once an address was taken back."""
    return f"The address “{name}” leads nowhere any more. A calendar that follows it stays empty."


def not_kept(why: str) -> str:
    """What is said where an address could not be written down."""
    return f"Nothing was changed, for it could not be kept: {why}. Make room, and press it again."


def address_note(
    build: str | None, *, made_on: dt.date, used_on: dt.date | None, today: dt.date
) -> str:
    """What an address is about (None: a build that is gone), and when it was used last."""
    about = build or "a build that was deleted"
    used = "not used yet" if used_on is None else f"used {_on(used_on, today)}"
    return f"{about}; made {_on(made_on, today)}, {used}"


def _on(day: dt.date, today: dt.date) -> str:
    return "today" if day == today else amounts.day(day, today=today)


def session_title(names: Sequence[str]) -> str:
    """ "Shop: Weld the bracket; Bend the tubes and 2 more"."""
    more = len(names) - NAMED
    told = "; ".join(names[:NAMED])
    return f"Shop: {told} and {more} more" if more > 0 else f"Shop: {told}"


def share(name: str, hours: float, caution: str) -> str:
    """One task of a session, with its caution whole."""
    line = f"{name}: {amounts.tenth_hours(hours)}"
    return f"{line}\nCaution: {caution}" if caution else line


def helper_title(names: Sequence[str]) -> str:
    """ "The helper is needed: Lower the engine in"."""
    return f"The helper is needed: {amounts.listed(list(names))}"


def helper_text(times: Sequence[tuple[int, int]]) -> str:
    """The sessions of the day that are with the helper."""
    said = [f"{amounts.clock_minute(a)} to {amounts.clock_minute(b)}" for a, b in times]
    return f"In the shop with the helper {amounts.listed(said)}."


def order_title(name: str, *, order_by: dt.date, today: dt.date, supplier: str) -> str:
    """ "Last day to order: Bulkhead unions (Marsh Fittings)"."""
    of = f"{name} ({supplier})" if supplier else name
    if order_by < today:
        return f"Order now: {of}"
    return f"Last day to order: {of}"


def order_text(
    *, order_by: dt.date, latest: dt.date, lead_days: float, today: dt.date, tasks: Sequence[str]
) -> str:
    """What an order-by day rests on."""
    need = f"Must be here by {amounts.day(latest, today=today)}, takes {amounts.days(lead_days)}."
    late = amounts.days_apart(order_by, today)
    if late > 0:
        was = amounts.day(order_by, today=today)
        need = f"Overdue by {amounts.days(late)}: order by was {was}. {need}"
    return " ".join([need, *_for_tasks(tasks)])


def needed_title(name: str) -> str:
    """Of a part whose lead time is not known: the day that it is needed by."""
    return f"Needed here by this day: {name}"


def needed_text(tasks: Sequence[str]) -> str:
    """The same, in full."""
    said = "Its lead time is not known: enter it to get an order-by date."
    return " ".join([said, *_for_tasks(tasks)])


def due_title(name: str, *, said: dt.date, today: dt.date) -> str:
    """A part on its way."""
    if said < today:
        return f"Part overdue: {name}, was to come {amounts.short_day(said, today=today)}"
    return f"Part comes: {name}"


def due_text(basis: str, tasks: Sequence[str]) -> str:
    """What its day rests on, "" where it was entered itself."""
    return " ".join([*([f"{amounts.sentence(basis)}."] if basis else []), *_for_tasks(tasks)])


def _for_tasks(tasks: Sequence[str]) -> list[str]:
    return [f"For {amounts.listed(list(tasks))}."] if tasks else []


def wait_title(task: str, why: str) -> str:
    """ "Over: sealant cure (Seal the sump)"."""
    return f"Over: {why or 'wait'} ({task})"


def wait_text(after: Sequence[str]) -> str:
    """What can go on then."""
    return f"Then {amounts.listed(list(after))} can go on, if nothing else holds it."


def back_title(task: str, *, is_out: bool) -> str:
    """Outside work that comes back."""
    return f"Back: {task}" if is_out else f"Back by the plan: {task}"


def by_itself_title(task: str) -> str:
    """Work that runs without hands."""
    return f"Done by itself: {task}"


def wanted_title() -> str:
    """The wanted-by date."""
    return f"{capital_end()} is wanted by this day"


def likely_title() -> str:
    """The date of the plan."""
    return f"{capital_end()}, likely"


def likely_text() -> str:
    """What likely means."""
    return "Reached in 5 of 10 draws of your hours. It is the date that the pages show."


def firm_title(odds: str) -> str:
    """The firm date, with its share of the draws."""
    return f"{capital_end()}, firm ({odds})"


def firm_text(odds: str) -> str:
    """What firm means."""
    return f"Reached in {odds} draws of your hours."


def done_title() -> str:
    """First start, once it is over."""
    return f"{capital_end()}: done"


def calendar_name(builds: Sequence[str]) -> str:
    """What a calendar is called where its program shows it."""
    return builds[0] if len(builds) == 1 else "Keyturn"


def in_it() -> tuple[str, ...]:
    """What a calendar has in it."""
    return (
        "each session of the next 400 days in which work is planned, with its tasks, their hours "
        "and their cautions",
        "the days to order parts by, and those on which parts come",
        "the days on which the helper is needed",
        "the ends of cures and other waits, and the days on which outside work is back",
        f"the wanted-by date, and {the_end()}, likely and firm",
    )

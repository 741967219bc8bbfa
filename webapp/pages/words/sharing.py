"""What is said of hours that several builds share."""

import datetime as dt

from webapp.build.sharing import Sharing
from webapp.build.time.shared_sessions import SharedSession
from webapp.pages.words import amounts as words
from webapp.pages.words.quoted import shown

EVENING_FROM_HOUR = 16
NOT_SHARED = "Each build has all of its hours."
ONE_BUILD = (
    "There is one build in this data file. Once there is another, this room says whose each "
    "evening is."
)
CHANGED_MEANWHILE = (
    "How the builds share was changed in another window meanwhile. Below is what holds now; look "
    "at it and enter yours once more."
)
TOO_FEW = "Tick at least two builds, or choose that each has all of its hours."
WAYS = (
    ("alone", "each build has all of its hours"),
    (
        "order",
        "an order of builds: the first has every session that its plan has work in until it "
        "runs, the next has the others",
    ),
    (
        "week",
        "a share of every week: so many sessions for one, so many for another, dealt out in turn",
    ),
)
SAID = {
    "shared": "This holds from now on. What is over stays as it was.",
    "handed": "The session is given to the other build.",
    "freed": "These sessions are the build\u2019s own again.",
}
NOT_SETTLED = (
    "These dates are still being worked out and may move by some days: press “Show the dates "
    "again” in a moment."
)
SAME_PLACE = "Two builds have the same place. Give each a place of its own."


def session_name(session: SharedSession, now: dt.datetime) -> str:
    """ "Tonight", "Today", "Thu 4 June"."""
    if session.date != now.date():
        return words.day(session.date, today=now.date())
    return "Tonight" if session.opens.hour >= EVENING_FROM_HOUR else "Today"


def session_words(session: SharedSession, now: dt.datetime) -> str:
    """The same with its hours: "Tonight, 18:30 to 21:30"."""
    hours = (session.opens_minute, session.closes_minute)
    opens, closes = map(words.clock_minute, hours)
    return f"{session_name(session, now)}, {opens} to {closes}"


def rule_words(sharing: Sharing, names: dict[str, str]) -> str:
    """A rule in a sentence."""
    called = [(shown(names.get(one.slug, one.slug)), one.sessions) for one in sharing.builds]
    if not called:
        return NOT_SHARED
    if sharing.way == "order":
        first, *others = (name for name, _ in called)
        return (
            f"{first} goes first, in every session that its plan has work in; then "
            f"{words.listed(others)}."
        )
    shares = words.listed([f"{name} {count}" for name, count in called])
    return f"The sessions of every week are dealt out, to {shares}, in turn."


def after_words(others: list[tuple[str, str]]) -> str:
    """What the second of an order is told: whose date its own hangs on, with the date."""
    told = words.listed([f"{shown(name)}, which is likely on {date}" for name, date in others])
    return (
        f"Comes after {told}: the evenings are free from then on, and the firm date here takes "
        "that date as given."
    )


def date_moved(name: str, now: str, then: str) -> str:
    """A date by another rule beside the one now: "The Boat: Thu 12 May, was Fri 3 April"."""
    if now == then:
        return f"{shown(name)}: {now}, as now."
    return f"{shown(name)}: {then}, was {now}."


def belongs_words(session: SharedSession, owner: str, now: dt.datetime) -> str:
    return f"{session_words(session, now)}: {shown(owner)}"


def asked_at_begin(session: SharedSession, owner: str, now: dt.datetime) -> str:
    """What is asked before work is begun in a session of another build."""
    when = session_name(session, now)
    return (
        f"{when} is {shown(owner)}\u2019s. Begin here all the same? Then this session is this "
        "build\u2019s, and the other\u2019s date moves."
    )

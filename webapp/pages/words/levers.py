"""Levers in words: what each is, what it asks of the person, what leads to it."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.money import Offer, offers_of
from webapp.pages.words import amounts as words
from webapp.pages.words.money import cents
from webapp.pages.words.the_end import the_end
from webapp.planning.chances.firm_by import MOST_HOURS
from webapp.planning.chances.levers import Lever


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverWords:
    """What it is, a note below it, and what the button says."""

    name: str
    note: str
    press: str


def lever_words(build: BuildInput, lever: Lever, *, today: dt.date) -> LeverWords:
    """The name of a lever as a tired person would put it."""
    session = lever.session
    if lever.kind == "wish":
        wish = get_by_key(build.wishes, lever.what)
        decided = wish.decision.decided_on if wish.decision else today
        note = f"a wish, accepted {words.day(decided, today=today)}"
        return LeverWords(
            name=f"{wish.text}: fitted after {the_end()}", note=note, press="See the wish"
        )
    if lever.kind == "part":
        part = get_by_key(build.parts, lever.what)
        note = f"from {part.supplier}" if part.supplier else "a part that is waited for"
        return LeverWords(name=f"{part.name}: a week earlier", note=note, press="Change the part")
    if lever.kind == "outside":
        task = get_by_key(build.tasks, lever.what)
        note = f"outside work, {words.days(task.outside_days or 0)}"
        return LeverWords(name=f"{task.name}: a week earlier", note=note, press="Change the days")
    if lever.kind == "offer":
        task = get_by_key(build.tasks, lever.what)
        offer = _offer(build, lever)
        an_hour = offer.cents_an_hour
        per = f", {cents(an_hour)} an hour saved" if an_hour is not None else ""
        note = f"{cents(offer.cents)} for {words.days(offer.days)}{per}"
        return LeverWords(name=f"{task.name}: have it done", note=note, press="Change the task")
    if lever.kind == "order":
        return LeverWords(
            name="The order tightened", note="what a moment's search found", press="Tighten"
        )
    if lever.kind == "attendance" or session is None:
        return LeverWords(
            name="Every promised hour worked",
            note="nothing lost of the hours you promised",
            press="See the record",
        )
    day = words.WEEKDAY_NAMES[session.weekday]
    opens, closes = (
        words.clock_minute(minute)
        for minute in (session.hours.opens_minute, session.hours.closes_minute)
    )
    if lever.kind == "evening":
        return LeverWords(
            name=f"One more evening, {day} for instance",
            note=f"{opens} to {closes}; which day hardly matters",
            press="Add a session",
        )
    if lever.kind == "longer":
        return LeverWords(
            name=f"{day} until {closes}", note="an hour longer", press="Make it longer"
        )
    return LeverWords(
        name=f"The helper on {day} too",
        note="work waits for two pairs of hands",
        press="Ask the helper",
    )


def _offer(build: BuildInput, lever: Lever) -> Offer:
    """The offer that a lever would take."""
    return next(one for one in offers_of(build) if one.task == lever.what)


def asks_words(build: BuildInput, lever: Lever) -> str:
    """What it asks: "a call", "3 h a week", "300 kr", "nothing"."""
    if lever.kind == "offer":
        return cents(_offer(build, lever).cents)
    if lever.kind in ("part", "outside"):
        return "a call"
    if lever.kind == "helper":
        return f"{words.tenth_hours(lever.hours_a_week)} a week of the helper"
    if lever.costs_hours:
        return f"{words.tenth_hours(lever.hours_a_week)} a week"
    return "its work moves to later" if lever.kind == "wish" else "nothing"


def firm_by_words(more_hours: float | None, day: str) -> str:
    """What it takes to be firm by a day."""
    if more_hours is None:
        return (
            f"No {MOST_HOURS} more hours a week make it firm by {day}: what is waited for decides."
        )
    if not more_hours:
        return f"It is firm by {day} already."
    return f"To be firm by {day} it takes {words.tenth_hours(more_hours)} more a week."

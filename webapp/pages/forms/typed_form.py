"""What a person typed into a form, read field by field into values."""

import datetime as dt
import re
from collections.abc import Callable, Iterable
from typing import Any

from webapp.build import limits
from webapp.build.build_input import Moment
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_fields import TypedFields
from webapp.pages.forms.typed_values import (
    FIRST_YEAR,
    LAST_YEAR,
    parse_date,
    parse_day_minute,
    parse_decimal,
    parse_hours,
)
from webapp.pages.words.quoted import shown


class TypedForm(TypedFields):
    """A form that is read: whatever can not be is a fault at its field."""

    def text(
        self,
        name: str,
        label: str,
        *,
        needed: bool = False,
        limit: int = limits.MOST_NAME_CHARACTERS,
    ) -> str:
        """One line of text, spaces at its ends and doubled ones dropped."""
        if name in self._exact:
            return str(self._exact[name])
        return self._checked(name, label, " ".join(self.typed(name).split()), needed, limit)

    def long_text(self, name: str, label: str, *, limit: int = limits.MOST_TEXT_CHARACTERS) -> str:
        """Text of several lines, line ends as "\\n"."""
        if name in self._exact:
            return str(self._exact[name])
        lines = self.typed(name).replace("\r\n", "\n").replace("\r", "\n")
        return self._checked(name, label, lines.strip(), False, limit)

    def _checked(self, name: str, label: str, text: str, needed: bool, limit: int) -> str:
        if needed and not text:
            self.fault(name, f"{label} is missing. Type it in.")
        if len(text) > limit:
            self.fault(
                name,
                f"{label} has {len(text):,} characters; {limit:,} is the most. Shorten it.",
            )
        return text

    def read(self, name: str, label: str, reader: Callable[[str], tuple[Any, str]]) -> Any:
        """What `reader` makes of a field: a value, and a sentence where it can not be read."""
        if name in self._exact:
            return self._exact[name]
        value, why_not = reader(self.typed(name).strip())
        if why_not:
            self.fault(name, f"{label}: {why_not}")
        return value

    def hours(
        self, name: str, label: str, *, needed: bool = False, at_most: float = limits.MOST_HOURS
    ) -> float | None:
        """Hours of 0 or more; None where nothing was typed or what was typed is no number."""
        how = "hours like 2.5, 2,5 or 2:30"
        return self._number(name, label, parse_hours, how=how, needed=needed, at_most=at_most)

    def decimal(
        self, name: str, label: str, *, needed: bool = False, at_most: float = limits.MOST_COST
    ) -> float | None:
        """A number of 0 or more; None where nothing was typed or it is no number."""
        how = "a number like 12 or 12.5"
        return self._number(name, label, parse_decimal, how=how, needed=needed, at_most=at_most)

    def paid(self, name: str, label: str) -> float | None:
        """A sum that was paid; with a minus before it, one that came back."""
        is_back = self.typed(name).strip().startswith(("-", "\N{MINUS SIGN}"))

        def parse(text: str) -> float | None:
            return parse_decimal(text[1:].strip() if is_back else text)

        if name in self._exact:
            exact: float | None = self._exact[name]
            return exact
        how = "a sum like 12 or 12.50, with a minus where it came back"
        most = limits.MOST_COST
        sum_of = self._number(name, label, parse, how=how, needed=False, at_most=most)
        return -sum_of if is_back and sum_of else sum_of

    def _number(
        self,
        name: str,
        label: str,
        parse: Callable[[str], float | None],
        *,
        how: str,
        needed: bool,
        at_most: float,
    ) -> float | None:
        if name in self._exact:
            exact: float | None = self._exact[name]
            return exact
        text = self.typed(name).strip()
        number = parse(text)
        if not text:
            if needed:
                self.fault(name, f"{label}: nothing is typed. Type {how}.")
            return None
        if number is None:
            self.fault(name, f"{label}: “{shown(text)}” can not be read. Type {how}.")
            return None
        if number < 0:
            self.fault(name, f"{label}: “{shown(text)}” is less than nothing. Type 0 or more.")
            return None
        if number > at_most:
            self.fault(name, f"{label}: “{shown(text)}” is too much. {at_most:,.0f} is the most.")
            return None
        return abs(number)  # "-0" is nothing, without a sign

    def whole(
        self, name: str, label: str, *, at_least: int, at_most: int, default: int | None = None
    ) -> int | None:
        """A whole number between two bounds; `default` where nothing was typed."""
        if self._exact.get(name) is not None:
            return int(self._exact[name])
        text = self.typed(name).strip()
        if not text and default is not None:
            return default
        if not re.fullmatch(r"-?[0-9]{1,9}", text) or not at_least <= int(text) <= at_most:
            what = f"“{shown(text)}” will not do" if text else "nothing is typed"
            self.fault(name, f"{label}: {what}. Type a whole number from {at_least} to {at_most}.")
            return None
        return int(text)

    def date(self, name: str, label: str, *, needed: bool = False) -> dt.date | None:
        """A date; None where nothing was typed or what was typed is no date."""
        moment: Moment | None = self._exact.get(name)
        if moment is not None:
            return moment.date() if isinstance(moment, dt.datetime) else moment
        text = self.typed(name).strip()
        if not text:
            if needed:
                self.fault(name, f"{label}: no date is given. Pick one, or type it: 2026-03-02.")
            return None
        date = parse_date(text)
        if date is None:
            self.fault(
                name,
                f"{label}: “{shown(text)}” is no date from {FIRST_YEAR} to {LAST_YEAR}."
                " Pick one, or type year, month and day: 2026-03-02.",
            )
        return date

    def moment(self, name: str, label: str) -> Moment | None:
        """A date, with its time of day where the field says what is stored."""
        if name in self._exact:
            stored: Moment | None = self._exact[name]
            return stored
        return self.date(name, label)

    def day_minute(self, name: str, label: str) -> int | None:
        """A time of day, in minutes after midnight; 24:00 is 1440."""
        if self._exact.get(name) is not None:
            return int(self._exact[name])
        text = self.typed(name).strip()
        minute = parse_day_minute(text)
        if minute is None:
            what = f"“{shown(text)}” is no time of day" if text else "no time is typed"
            self.fault(name, f"{label}: {what}. Type it like 18:30; midnight at the end is 24:00.")
        return minute

    def one_of(self, name: str, label: str, allowed: Iterable[str]) -> str | None:
        """One of the offered values; "" (none of them) gives None."""
        if name in self._exact:
            key: str | None = self._exact[name]
            return key
        value = self.typed(name).strip()
        if not value:
            return None
        if value not in set(allowed):
            self.fault(name, f"{label}: “{shown(value)}” is not in the list. Pick one that is.")
            return None
        return value

    def picked(self, name: str, label: str, picks: PickList) -> str | None:
        """The key of a thing named by typing; None where none is named, or there is none."""
        if name in self._exact:
            key: str | None = self._exact[name]
            return key
        text = self.typed(name).strip()
        if not text:
            return None
        found, why_not = picks.find(text)
        if found is None:
            self.fault(name, f"{label}: {why_not}")
        return found

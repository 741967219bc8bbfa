"""What a person typed into a form, read field by field, with every fault kept beside its field.

One object serves both ways: filled from a build it shows a form for the first time, filled from a
posted body it is read, gathers faults and shows the same form again with nothing typed lost.
"""

import datetime as dt
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from starlette.datastructures import FormData

from webapp.build import limits
from webapp.build.build_input import Moment
from webapp.pages.forms.carried import read_carried, settled, text_of_carried
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.settled_field import without_controls
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_values import (
    FIRST_YEAR,
    LAST_YEAR,
    parse_date,
    parse_day_minute,
    parse_decimal,
    parse_hours,
)
from webapp.pages.words.quoted import shown

CARRIED = "shown"
"""The hidden field that holds what a form was shown with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldFault:
    """A mistake in a form: `field` is the name of the field, "" where no field is to blame."""

    field: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Something that is not there yet and is offered to be made: a tick called `field`.

    `what` is its noun, `name` what was typed for it; `ticked` once it was ticked; `note`
    says what it begins with. A setup has a field for the hours to get it out, `hours` as typed.
    """

    field: str
    what: str
    name: str
    ticked: bool = False
    note: str = ""
    hours_field: str = ""
    hours: str = ""


class TypedForm:
    """The typed values of one form and the faults found while reading them.

    `scope` keeps the ids of its fields apart from those of other forms on the same page.
    `carried` is the hidden text of what it was shown with.
    """

    def __init__(
        self,
        values: Mapping[str, Sequence[str]] | None = None,
        *,
        scope: str = "",
        carried: str = "",
    ) -> None:
        self.scope = scope
        self.carried = carried
        self._exact: dict[str, Any] = {}
        self._values: dict[str, tuple[str, ...]] = {
            name: tuple(without_controls(value) for value in given)
            for name, given in (values or {}).items()
        }
        self._faults: dict[str, list[FieldFault]] = {}  # by field, for a list has thousands
        self.offers: tuple[Offer, ...] = ()

    @classmethod
    def of(cls, posted: FormData, *, scope: str = "") -> "TypedForm":
        """The form as a browser posted it; files in it are left out."""
        values: dict[str, list[str]] = {}
        for name, value in posted.multi_items():
            if isinstance(value, str):
                values.setdefault(name, []).append(value)
        carried = values.pop(CARRIED, [""])[-1]
        return cls(values, scope=scope, carried=carried)

    @classmethod
    def opened(cls, shown: Shown, *, scope: str = "") -> "TypedForm":
        """The form of a thing as it is stored."""
        return cls(shown.texts, scope=scope, carried=text_of_carried(shown.texts))

    def with_blanks(self, *names: str) -> "TypedForm":
        """The same form, as typed, with room for more."""
        more = dict.fromkeys(names, ("",))
        return TypedForm({**self._values, **more}, scope=self.scope, carried=self.carried)

    def put(self, name: str, text: str) -> None:
        """Write a text into a field of its own, one that nobody types into."""
        self._values[name] = (text,)

    def settle(self, now: Shown, rows: Iterable[Rows] = ()) -> bool:
        """Hold the form against what is stored now, before it is read; whether it differs.

        What its person did not touch then means what is stored; what was changed elsewhere
        meanwhile as well is a fault that asks. From then on it carries what is stored now.
        """
        typed = {name: given[-1] for name, given in self._values.items() if given}
        out = settled(typed, read_carried(self.carried), now, rows)
        self._values, self._exact = out.texts, out.exact
        self.carried = text_of_carried(now.texts)
        for name, question in out.questions.items():
            self.fault(name, question)
        return any(self.typed(name) and name not in self._exact for name in self._values) or any(
            one.text and name not in self._exact for name, one in now.fields.items()
        )

    def was_shown(self, name: str) -> str:
        """The text that a field was shown with; "" where the form does not say."""
        return (read_carried(self.carried) or {}).get(name, "")

    def is_as_stored(self, name: str) -> bool:
        """Whether a field means what is stored: there is nothing to read."""
        return name in self._exact

    def id_of(self, name: str) -> str:
        """The id of a field on the page."""
        return f"{self.scope}-{name}" if self.scope else name

    @property
    def values(self) -> Mapping[str, tuple[str, ...]]:
        """Everything that was typed, by field."""
        return self._values

    # what was typed -------------------------------------------------------------------------
    def typed(self, name: str) -> str:
        """The text of a field, "" where it was left out; the last one counts of a repeated one."""
        given = self._values.get(name, ())
        return given[-1] if given else ""

    def chosen(self, name: str) -> tuple[str, ...]:
        """Every value of a field that may be picked several times."""
        return self._values.get(name, ())

    def ticked(self, name: str) -> bool:
        """Whether a tick box was ticked."""
        return self.typed(name) not in ("", "off", "0", "false")

    def row_numbers(self, stem: str) -> tuple[int, ...]:
        """The numbers N of the fields named "stem-N", ascending."""
        pattern = re.compile(re.escape(stem) + r"-([0-9]{1,6})")
        found = {int(match[1]) for name in self._values if (match := pattern.fullmatch(name))}
        return tuple(sorted(found))

    # faults ---------------------------------------------------------------------------------
    def fault(self, field: str, text: str) -> None:
        """Note a mistake; a mistake already noted in the same words is not repeated."""
        fault, there = FieldFault(field=field, text=text), self._faults.setdefault(field, [])
        if fault not in there:
            there.append(fault)

    def fault_instead(self, field: str, text: str) -> None:
        """Note a mistake in place of what was noted at its field: it says more."""
        self._faults.pop(field, None)
        self.fault(field, text)

    @property
    def faults(self) -> tuple[FieldFault, ...]:
        """Every mistake found so far, in the order of the fields on the page."""
        place = {name: number for number, name in enumerate(self._values)}
        fields = sorted(self._faults, key=lambda field: place.get(field, len(place)))
        return tuple(fault for field in fields for fault in self._faults[field])

    def faults_at(self, field: str) -> tuple[str, ...]:
        """The sentences that stand beside one field."""
        return tuple(fault.text for fault in self._faults.get(field, ()))

    def faults_in(self, row: int) -> tuple[str, ...]:
        """The sentences about the fields of row N, "stem-N"."""
        ends = f"-{row}"
        return tuple(fault.text for fault in self.faults if fault.field.endswith(ends))

    def wrong_in(self, row: int) -> tuple[str, ...]:
        """The fields of row N that have a fault."""
        ends = f"-{row}"
        return tuple(dict.fromkeys(f.field for f in self.faults if f.field.endswith(ends)))

    # reading --------------------------------------------------------------------------------
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

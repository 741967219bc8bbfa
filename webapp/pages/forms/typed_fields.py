"""The fields of one form: what was typed, what is stored of it, and every fault beside its field.

One object serves both ways: filled from a build it shows a form for the first time, filled from a
posted body it is read, gathers faults and shows the same form again with nothing typed lost.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Self

from starlette.datastructures import FormData

from webapp.pages.forms.carried import read_carried, settled, text_of_carried
from webapp.pages.forms.settled_field import MEANWHILE, without_controls
from webapp.pages.forms.shown import Rows, Shown

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


class TypedFields:
    """What was typed into the fields of one form, and the faults found in it.

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
    def of(cls, posted: FormData, *, scope: str = "") -> Self:
        """The form as a browser posted it; files in it are left out."""
        values: dict[str, list[str]] = {}
        for name, value in posted.multi_items():
            if isinstance(value, str):
                values.setdefault(name, []).append(value)
        carried = values.pop(CARRIED, [""])[-1]
        return cls(values, scope=scope, carried=carried)

    @classmethod
    def opened(cls, shown: Shown, *, scope: str = "") -> Self:
        """The form of a thing as it is stored."""
        return cls(shown.texts, scope=scope, carried=text_of_carried(shown.texts))

    def with_blanks(self, *names: str) -> Self:
        """The same form, as typed, with room for more."""
        more = dict.fromkeys(names, ("",))
        return type(self)({**self._values, **more}, scope=self.scope, carried=self.carried)

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

    def takes_out(self, tick: str, now: Shown, rows: Iterable[Rows] = (), *, what: str) -> bool:
        """Whether the box that takes `what` out is ticked; it is held against what is stored then.

        Where that is not what the form was shown with, it is asked first whether it is to go.
        """
        if not self.ticked(tick):
            return False
        was = read_carried(self.carried)
        self.settle(now, rows)
        if was is not None and was != read_carried(self.carried):
            self.fault(tick, f"{what} was {MEANWHILE}. Save again if it is to go all the same.")
        return True

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

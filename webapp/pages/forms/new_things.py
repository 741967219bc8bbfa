"""Things made by naming them: where a name is not known, it is offered once for all that name it.

A field takes the name of a subsystem, a setup or a station. A name that no thing has is no
mistake of every row that says it: it is one question, with a tick that makes the thing.
"""

import zlib
from collections.abc import Iterable
from dataclasses import dataclass, field

from webapp.build.folded_name import folded_name
from webapp.pages.forms.picking import Named, PickList, new_key
from webapp.pages.forms.typed_fields import Offer
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.amounts import count
from webapp.pages.words.new_things import OFFER_NOTES, hours_words
from webapp.pages.words.quoted import shown

MAKE = "make_"
"""What the names of ticks begin with that make something."""
HOURS = "_hours"
TAKES_HOURS = frozenset({"setup"})
"""What is made with hours: those of getting it out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewName:
    """A thing that is to be made: the key it gets and the name as it was first typed."""

    key: str
    name: str
    hours: float = 0.0


@dataclass(slots=True)
class NewThings:
    """The things of one kind that a form names, those there are and those to be made.

    `what` is the noun of the kind; `where` how a place in the form that names one is counted.
    """

    what: str
    picks: PickList
    where: str = "row"
    made: dict[str, NewName] = field(default_factory=dict)
    _ticked: frozenset[str] = frozenset()
    _hours: dict[str, float] = field(default_factory=dict)
    _offered: dict[str, tuple[str, list[str]]] = field(default_factory=dict)

    @classmethod
    def of(
        cls, form: TypedForm, what: str, things: Iterable[Named], *, where: str = "row"
    ) -> "NewThings":
        """Those of `things`, and those that are ticked in the form to be made."""
        stem = _stem(what)
        ticked = [
            (name, number)
            for number in form.row_numbers(stem)
            if (name := form.typed(f"{stem}-{number}")).strip()
        ]
        hours = {
            folded_name(name): form.hours(f"{stem}{HOURS}-{number}", hours_words(name)) or 0.0
            for name, number in ticked
            if what in TAKES_HOURS
        }
        return cls(
            what=what,
            picks=PickList.of(what, things),
            where=where,
            _ticked=frozenset(folded_name(name) for name, _ in ticked),
            _hours=hours,
        )

    def key_of(self, form: TypedForm, name: str) -> str | None:
        """The key of what a field names; None where it names none, or something to be offered."""
        if form.is_as_stored(name):
            return form.picked(name, "", self.picks)
        return self.named(form.typed(name), name)

    def named(self, typed: str, place: str) -> str | None:
        """The same of a text, `place` being the field that it is told at."""
        text = " ".join(typed.split())
        if not text:
            return None
        found = self.picks.exactly(text)
        if found is not None:
            return found
        folded = folded_name(text)
        if folded in self._ticked:
            if folded not in self.made:
                taken = {key for key, _ in self.picks.labels}
                taken |= {new.key for new in self.made.values()}
                self.made[folded] = NewName(
                    key=new_key(text, taken), name=text, hours=self._hours.get(folded, 0.0)
                )
            return self.made[folded].key
        self._offered.setdefault(folded, (text, []))[1].append(place)
        return None

    def offer(self, form: TypedForm) -> None:
        """Note one fault for each name that is not known, and offer to make what it names."""
        for text, places in self._offered.values():
            near = [
                label for _, label in self.picks.labels if folded_name(text) in folded_name(label)
            ]
            meant = f" Or did you mean “{near[0]}”?" if len(near) == 1 else ""
            named = "" if len(places) == 1 else f"; {count(len(places), self.where)} name it"
            form.fault(
                places[0],
                f"There is no {self.what} “{shown(text)}” yet{named}. Tick that it is to be made, "
                f"or type another.{meant}",
            )
        names = [(text, False) for text, _ in self._offered.values()]
        names += [(new.name, True) for new in self.made.values()]
        form.offers += tuple(
            Offer(
                field=_field_of(self.what, name),
                what=self.what,
                name=name,
                ticked=ticked,
                note=OFFER_NOTES.get(self.what, ""),
                hours_field=(at := _hours_field_of(self.what, name)),
                hours=form.typed(at),
            )
            for name, ticked in names
        )


def _hours_field_of(what: str, name: str) -> str:
    """The field of its hours beside an offer; "" where it takes none."""
    if what not in TAKES_HOURS:
        return ""
    return f"{_stem(what)}{HOURS}-{_field_of(what, name).rpartition('-')[2]}"


def _stem(what: str) -> str:
    return f"{MAKE}{what}"


def _field_of(what: str, name: str) -> str:
    """The field of an offer: the same for the same name, in whichever row it stands."""
    return f"{_stem(what)}-{zlib.crc32(folded_name(name).encode()) % 1_000_000}"

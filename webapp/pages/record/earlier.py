"""Records of earlier builds on the page of the record: what they do, and taking, switching them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.earlier_record import EarlierRecord
from webapp.build.edited import Edited
from webapp.build.verbs.earlier_records import with_record, without_record
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words import earlier_records as said
from webapp.pages.words.quoted import shown
from webapp.services.changes import Edit
from webapp.services.earlier_records import shows_the_same

TAKE, ON, OFF, DROP = "take", "on", "off", "drop"


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """One button: what it does to the record of the build `key`, and the date that comes of it.

    `seen` is what the other build showed when it was offered. `date` is "" while that is worked
    out, or where there is none.
    """

    do: str
    key: str
    words: str
    date: str = ""
    seen: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierLine:
    """A record of this build, or one of another build that can be taken along.

    `now` is what that other build shows by now, where that is something else.
    """

    name: str
    shows: str
    is_off: bool = False
    now: str = ""
    presses: tuple[Press, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierView:
    """`date` is first start as it stands; `working` while a date is being worked out."""

    lines: tuple[EarlierLine, ...]
    others: tuple[EarlierLine, ...]
    date: str
    working: bool


class _Dates:
    """What first start would be with other records, and whether one is still being worked out."""

    def __init__(self, page: PageContext) -> None:
        self._page = page
        self.working = False

    def of(self, after: BuildInput) -> str:
        answer = self._page.planned.first_start_with(after.earlier_records)
        self.working = self.working or not answer.ready
        return "" if answer.value is None else words.day(answer.value, today=self._page.today)


def earlier_view(page: PageContext, there: tuple[EarlierRecord, ...]) -> EarlierView:
    """The records of the build and those of the other builds of the data file, `there`."""
    build, dates = page.build, _Dates(page)
    now = {record.key: record for record in there}
    lines = tuple(_line(build, record, now, dates, page) for record in build.earlier_records)
    others = tuple(
        EarlierLine(
            name=shown(record.name),
            shows=said.shows(record),
            presses=(_take(build, record, said.TAKE_ALONG, dates),),
        )
        for record in there
        if find_by_key(build.earlier_records, record.key) is None
    )
    at = page.plan.first_start_at if page.plan is not None else None
    return EarlierView(
        lines=lines,
        others=others,
        date=words.day(at, today=page.today) if at else "",
        working=dates.working,
    )


def _line(
    build: BuildInput,
    record: EarlierRecord,
    there: Mapping[str, EarlierRecord],
    dates: _Dates,
    page: PageContext,
) -> EarlierLine:
    other = there.get(record.key)
    differs = other is not None and not shows_the_same(other, record)
    to = OFF if record.counts else ON
    switch = Press(
        do=to,
        key=record.key,
        words=said.SWITCH[to],
        date=dates.of(_switched(build, record, counts=not record.counts)),
    )
    presses = [switch]
    if other is not None and differs:
        presses.append(_take(build, other, said.TAKE_AS_IT_IS, dates))
    presses.append(Press(do=DROP, key=record.key, words=said.LET_GO))
    return EarlierLine(
        name=shown(record.name),
        shows=said.taken_words(record, page.today),
        is_off=not record.counts,
        now=said.shows(other) if other is not None and differs else "",
        presses=tuple(presses),
    )


def _take(build: BuildInput, record: EarlierRecord, press: str, dates: _Dates) -> Press:
    return Press(
        do=TAKE,
        key=record.key,
        words=press,
        date=dates.of(with_record(build, record)),
        seen=said.shows(record),
    )


def _switched(build: BuildInput, record: EarlierRecord, *, counts: bool) -> BuildInput:
    one = replace(record, counts=counts)
    return replace(build, earlier_records=replaced_by_key(build.earlier_records, one))


def edit_earlier(form: TypedForm, there: tuple[EarlierRecord, ...]) -> Edit[str]:
    """The edit of one press; what is made says why nothing was stored, "" else.

    Which way a record is switched is said, never "the other way": two windows may press. A record
    is taken only as it was shown.
    """
    do, key = form.typed("do"), form.typed("key")

    def edit(build: BuildInput) -> Edited[str]:
        record, other = find_by_key(build.earlier_records, key), find_by_key(there, key)
        if do == TAKE and other is not None:
            if form.typed("seen") != said.shows(other):
                return Edited(build=build, made=said.SHOWS_OTHERWISE, is_refused=True)
            return Edited(build=with_record(build, other), made="")
        if do in (ON, OFF) and record is not None:
            return Edited(build=_switched(build, record, counts=do == ON), made="")
        if do == DROP:
            return Edited(build=without_record(build, key), made="")
        return Edited(build=build, made=said.NOT_THERE, is_refused=True)

    return edit

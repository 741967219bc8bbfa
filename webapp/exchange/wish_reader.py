"""Reads the wishes of a build document, each with its parts and its decision."""

from collections.abc import Iterator

from webapp.build.build_input import Fault, WayFigures, Wish, WishDecision, WishPart
from webapp.build.checks.fault_words import Thing
from webapp.exchange import document_models as models
from webapp.exchange.document_values import found
from webapp.exchange.entry_reader import Fields, plain, read_entry, read_list


def read_wishes(raw: Fields, whole: Thing, faults: list[Fault], unread: set[str]) -> Iterator[Wish]:
    """The wishes that could be read; `unread` gets "wishes" where not all could."""
    for position, fields in read_list(raw, "wishes", whole, faults, unread):
        wish = _WishReader(fields, position, faults, unread).wish()
        if wish is None:
            unread.add("wishes")
        else:
            yield wish


class _WishReader:
    """Goes through one wish, adding to the reader's faults."""

    def __init__(self, raw: Fields, position: int, faults: list[Fault], unread: set[str]) -> None:
        self.raw = raw
        self.faults = faults
        self.unread = unread
        key, text = plain(raw.get("key")), plain(raw.get("text"))
        name = text.partition("\n")[0] or ("" if key else f"number {position}")
        self.thing = Thing(kind="wish", key=key, name=name)

    def wish(self) -> Wish | None:
        entry = read_entry(
            models.WishHead,
            _all_but(self.raw, {"parts", "decision"}),
            self.thing,
            self.faults,
            stand_ins={"key": ""},
            known=models.WishEntry,
        )
        parts, decision = tuple(self._parts()), self._decision()
        if entry is None:
            return None
        return Wish(
            key=entry.key,
            text=entry.text,
            logged_on=entry.logged_on,
            subsystem=entry.subsystem,
            after=entry.after,
            before=entry.before,
            size=entry.size,
            hours=entry.hours,
            setup=entry.setup,
            rough_in_hours=entry.rough_in_hours,
            later_extra_hours=entry.later_extra_hours,
            parts=parts,
            cost=entry.cost,
            decision=decision,
        )

    def _parts(self) -> Iterator[WishPart]:
        for position, raw in read_list(self.raw, "parts", self.thing, self.faults, self.unread):
            thing = self._within(f"part {plain(raw.get('name')) or position}")
            entry = read_entry(
                models.WishPartEntry, raw, thing, self.faults, stand_ins={}, spot="parts"
            )
            if entry is not None:
                yield WishPart(
                    name=entry.name, lead_days=entry.lead_days or 0.0, cost=entry.cost or 0.0
                )

    def _decision(self) -> WishDecision | None:
        raw = self.raw.get("decision")
        if raw is None:
            return None
        if not isinstance(raw, dict):
            words = f'"decision" must be an object with its fields, not {found(raw)}.'
            self.faults.append(self.thing.fault("decision", words))
            return None
        thing = self._within("its decision")
        entry = read_entry(
            models.DecisionHead,
            _all_but(raw, {"figures"}),
            thing,
            self.faults,
            stand_ins={},
            spot="decision",
            known=models.DecisionEntry,
        )
        figures = tuple(self._figures(raw, thing))
        if entry is None:
            return None
        return WishDecision(
            way=entry.way, decided_on=entry.decided_on, why=entry.why or "", figures=figures
        )

    def _figures(self, raw: Fields, thing: Thing) -> Iterator[WayFigures]:
        for position, figures in read_list(raw, "figures", thing, self.faults, self.unread):
            named = self._within(f"figures {plain(figures.get('way')) or position}")
            entry = read_entry(
                models.WayEntry, figures, named, self.faults, stand_ins={}, spot="decision"
            )
            if entry is not None:
                yield WayFigures(
                    way=entry.way,
                    likely=entry.likely,
                    safe=entry.safe,
                    likely_days=entry.likely_days,
                    safe_days=entry.safe_days,
                    headroom_hours=entry.headroom_hours,
                    hours=entry.hours,
                    cost=entry.cost,
                )

    def _within(self, what: str) -> Thing:
        """A thing inside the wish, told by the wish's own name."""
        name = f"{self.thing.name}, {what}" if self.thing.name else what
        return Thing(kind="wish", key=self.thing.key, name=name)


def _all_but(fields: Fields, names: set[str]) -> Fields:
    return {name: value for name, value in fields.items() if name not in names}

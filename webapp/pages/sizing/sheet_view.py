"""What the page of the data sheet shows: its fields part by part, and what else is typed in."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.data_sheet import FIGURES, Belt, FigureName, OwnLimit, Wire
from webapp.build.typed_figures import figure_text, own_unit
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.seen import Named
from webapp.pages.sizing.sheet_forms import PARTS, READ_IN, SURE, SheetPart
from webapp.pages.words import sizes
from webapp.pages.words.amounts import count, sentence
from webapp.pages.words.data_sheet_fields import figure_hint, limit_words
from webapp.pages.words.sizing import with_unit
from webapp.sizing.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetField:
    """One figure: `options` where it is one of some words, `grey` what is reckoned with while it
    is empty, `is_asked` where its person was asked whether it is right."""

    name: FigureName
    label: str
    hint: str
    grey: str
    options: tuple[tuple[str, str], ...]
    is_asked: bool
    has_focus: bool

    @property
    def source(self) -> str:
        """The field of where it was read."""
        return f"{READ_IN}-{self.name}"

    @property
    def sure(self) -> str:
        """The box that says that it is right."""
        return f"{SURE}-{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFold:
    """Fields that are folded together, and how many of them are typed."""

    key: str
    name: str
    told: str
    is_open: bool
    fields: tuple[SheetField, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """The page: the folds of its form, and the lists beside it with their pages."""

    folds: tuple[SheetFold, ...]
    wires: tuple[tuple[Named, str], ...]
    belts: tuple[tuple[Named, str], ...]
    limits: tuple[tuple[Named, str], ...]


def sheet_view(build: BuildInput, slug: str, form: TypedForm, asked: str = "") -> SheetView:
    """The page; the fold of the figure that was asked for stands open, and those with a fault."""
    sheet = build.data_sheet
    wrong = {fault.field for fault in form.faults}
    is_first = not sheet.figures and not wrong and not asked
    folds = tuple(
        _fold(build, part, form, asked, wrong, is_first=is_first and part is PARTS[0])
        for part in PARTS
    )
    return SheetView(
        folds=folds,
        wires=tuple((_wire(slug, one), _wire_told(one)) for one in sheet.wires),
        belts=tuple((_belt(slug, one), count(len(one.pulleys), "pulley")) for one in sheet.belts),
        limits=tuple(_limits(build, slug)),
    )


def _fold(
    build: BuildInput,
    part: SheetPart,
    form: TypedForm,
    asked: str,
    wrong: Collection[str],
    *,
    is_first: bool,
) -> SheetFold:
    sheet = Sheet(build.data_sheet)
    typed = sum(sheet.typed(name) is not None for name in part.figures)
    names = {*part.figures, *(f"{READ_IN}-{name}" for name in part.figures)}
    return SheetFold(
        key=part.key,
        name=part.name,
        told=f"{typed} of {len(part.figures)} typed",
        is_open=is_first or asked in part.figures or bool(names.intersection(wrong)),
        fields=tuple(_field(sheet, name, form, asked) for name in part.figures),
    )


def _field(sheet: Sheet, name: FigureName, form: TypedForm, asked: str) -> SheetField:
    kind, own = FIGURES[name], own_unit(name, sizes.shop_units())
    unit = f", {own}" if own else ""
    return SheetField(
        name=name,
        label=f"{sentence(kind.words)}{unit}",
        hint=figure_hint(name),
        grey=_grey(sheet, name, own),
        options=(("", "not said"), *((word, word) for word in kind.choices))
        if kind.choices
        else (),
        is_asked=f"{SURE}-{name}" in form.values,
        has_focus=asked == name,
    )


def _grey(sheet: Sheet, name: FigureName, own: str) -> str:
    """What is reckoned with while nobody types it."""
    if sheet.typed(name) is not None:
        return ""
    figure = sheet.figure(name)
    if figure is None or isinstance(figure.value, str):
        return ""
    return f"{figure_text(figure.value, FIGURES[name].unit, own)} assumed"


def _wire(slug: str, wire: Wire) -> Named:
    return Named(name=wire.name, address=addresses.wire(slug, wire.key), key=wire.key)


def _wire_told(wire: Wire) -> str:
    return (
        f"{with_unit(wire.current_a, 'A')}, {with_unit(wire.area_mm2, 'mm²')},"
        f" {with_unit(wire.out_and_back_m, 'm')} out and back"
    )


def _belt(slug: str, belt: Belt) -> Named:
    return Named(name=belt.name, address=addresses.belt(slug, belt.key), key=belt.key)


def _limits(build: BuildInput, slug: str) -> Iterator[tuple[Named, str]]:
    for one in build.data_sheet.limits:
        yield _limit(slug, one), one.source


def _limit(slug: str, one: OwnLimit) -> Named:
    address = addresses.limit(slug, one.check, one.at)
    return Named(name=sentence(limit_words(one)), address=address)

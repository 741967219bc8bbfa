"""The parts list to print: what is to be ordered and what is under way, by supplier."""

from dataclasses import dataclass

from webapp.build.build_input import Part
from webapp.build.money import cents_of
from webapp.pages.frame.context import PageContext
from webapp.pages.parts.views import PartLine, parts_view
from webapp.pages.words import amounts as words
from webapp.pages.words.money import cents
from webapp.pages.words.names import named

NO_SUPPLIER = "No supplier entered"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLine:
    """One part: its number on the list, what to do by when, its lead time and price."""

    number: int
    name: str
    when: str
    lead: str
    price: str
    serves: str
    brings: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplier:
    """What is to come from one place, and what it costs as far as that is known."""

    name: str
    lines: tuple[BuyLine, ...]
    sum: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsList:
    suppliers: tuple[Supplier, ...]
    working: bool


def parts_list(page: PageContext) -> PartsList:
    """Parts not here, each supplier with its most pressing part first; those without one last."""
    view = parts_view(page)
    parts = {part.key: part for part in page.build.parts}
    groups: dict[str, list[PartLine]] = {}
    for line in (*view.pressing, *view.to_order, *view.on_the_way):
        groups.setdefault(" ".join(line.supplier.split()), []).append(line)
    names = [name for name in groups if name] + [name for name in groups if not name]
    suppliers, number = [], 0
    for name in names:
        lines = []
        for line in groups[name]:
            number += 1
            lines.append(_line(number, line, parts[line.key]))
        there = [parts[line.key] for line in groups[name]]
        suppliers.append(Supplier(name=name or NO_SUPPLIER, lines=tuple(lines), sum=_sum(there)))
    return PartsList(suppliers=tuple(suppliers), working=view.working)


def _line(number: int, line: PartLine, part: Part) -> BuyLine:
    return BuyLine(
        number=number,
        name=line.name,
        when=line.when,
        lead="" if part.lead_days is None else words.days(part.lead_days),
        price=line.cost,
        serves=f"for {named(task.name for task in line.serves)}" if line.serves else "",
        brings=line.brings,
    )


def _sum(parts: list[Part]) -> str:
    costs = [cents_of(part.cost) for part in parts if part.cost is not None]
    if not costs:
        return "No price is known."
    unknown = len(parts) - len(costs)
    said = f"{cents(sum(costs))} together"
    return f"{said}, {words.count(unknown, 'price')} not known." if unknown else f"{said}."

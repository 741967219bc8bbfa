"""Sums of money as the build writes them: to the cent, with its own word or sign behind.

Which word that is, the page that is being made says (`write_money_in`), as with units.
"""

from contextvars import ContextVar

from webapp.build.money import cents_of
from webapp.pages.words.amounts import MINUS

_CURRENCY: ContextVar[str] = ContextVar("currency", default="")


def write_money_in(currency: str) -> None:
    """From here on, in this request, money is written with this word or sign."""
    _CURRENCY.set(currency)


def cents(sum_of: int) -> str:
    """Whole hundredths as a sum: "1,240", "1,240.50 kr", with a minus sign where it came back."""
    whole, part = divmod(abs(sum_of), 100)
    text = f"{whole:,}.{part:02}" if part else f"{whole:,}"
    currency = _CURRENCY.get()
    text = f"{text} {currency}" if currency else text
    return f"{MINUS}{text}" if sum_of < 0 else text


def money(value: float) -> str:
    """A sum as it was typed."""
    return cents(cents_of(value))

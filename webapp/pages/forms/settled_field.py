"""One field of a form held against what is stored now, and the sentence that asks about it."""

import re
from dataclasses import dataclass, field

from webapp.pages.forms.field_words import label_of
from webapp.pages.forms.shown import Said, Shown, ShownField

MEANWHILE = "changed elsewhere meanwhile"


@dataclass(slots=True)
class Settled:
    """A form after it was held against what is stored now.

    texts : what each field says; exact : the value of each field that means what is stored;
    questions : field -> the sentence that asks about it
    """

    texts: dict[str, tuple[str, ...]] = field(default_factory=dict)
    exact: dict[str, object] = field(default_factory=dict)
    questions: dict[str, str] = field(default_factory=dict)

    def as_stored(self, name: str, stored: ShownField) -> None:
        self.texts[name] = (stored.text,)
        self.exact[name] = stored.value

    def as_typed(self, name: str, text: str) -> None:
        self.texts[name] = (text,)


def settle_field(out: Settled, name: str, typed: str, was: str, now: Shown) -> None:
    """What a field says once it is held against what it was shown with and what is stored now."""
    stored = now.fields.get(name)
    if stored is None:
        out.as_typed(name, typed)
        return
    if same(typed, stored.text) or same(typed, was):
        out.as_stored(name, stored)
        return
    out.as_typed(name, typed)
    if not same(was, stored.text):
        label = stored.label or label_of(name)
        out.questions[name] = (
            f"{label}: {MEANWHILE}: {both(stored.text, typed, stored.said)}."
            " Save again to write yours, or type what is right."
        )


def same(one: str, other: str) -> bool:
    """Two texts as a browser may send them: line ends and spaces at the ends do not count."""
    return plain(one) == plain(other)


def plain(text: str) -> str:
    """A text without what does not count."""
    return without_controls(text).replace("\r\n", "\n").replace("\r", "\n").strip()


_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


def without_controls(text: str) -> str:
    """The text without what no keyboard types and no page can hold."""
    return _CONTROL.sub("", text)


def quoted(text: str) -> str:
    """A text in a sentence, not too long for it."""
    flat = " ".join(text.split())
    return f"“{flat[:80]}”" if flat else "nothing"


def both(stored: str, typed: str, said: Said) -> str:
    """What is stored and what was typed, side by side."""
    now, here = quoted(said(stored, typed)), quoted(said(typed, stored))
    return f"it says {now} now, and you typed {here}"

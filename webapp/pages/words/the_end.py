"""What the end of a build is called: first start, or as the build itself calls it.

An electric conversion has its first drive, a boat its first run. Every sentence about the end takes
its name from here. The page that is being made says whose build it is about (`call_the_end`), as
one says in which language a page is written; each request has a name of its own.
"""

from contextvars import ContextVar

from webapp.build.build_input import FIRST_START, BuildInput
from webapp.pages.words.amounts import sentence

END_HINT = "A conversion may say first drive, a boat first run. Empty it for the usual name."

_CALLED: ContextVar[str] = ContextVar("the_end", default=FIRST_START)


def call_the_end(build: BuildInput) -> None:
    """From here on, in this request, the end is that of this build."""
    _CALLED.set(build.the_end)


def the_end() -> str:
    """What the end is called, within a sentence: "first start"."""
    return _CALLED.get()


def capital_end() -> str:
    """The same at the beginning of a sentence: "First start"."""
    return sentence(_CALLED.get())


def of_the_end(text: str) -> str:
    """A fixed sentence of the program about first start, with the name of the end in it."""
    return text.replace(FIRST_START, the_end()).replace(sentence(FIRST_START), capital_end())

"""A question before something goes: what it showed of that, and what has come since.

The question carries what goes with the thing, as digests. Where that is not what it was when the
answer comes, nothing goes: the question is asked again and names what came since.
"""

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.pages.forms.carried import read_carried
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words.amounts import sentence

SEEN = "seen"
"""The hidden field of a question that holds what it showed."""
NOT_ASKED = "Nothing has gone yet. Look at what goes with it, and press again if it is to go."


@dataclass(frozen=True, slots=True, kw_only=True)
class GoesWith:
    """One of the things that go with what is to be removed.

    `state` is what it is, compared by its digest; `now` says so in words that go on a sentence,
    "its clock runs".
    """

    name: str
    state: object
    now: str

    @property
    def digest(self) -> str:
        return hashlib.sha256(repr(self.state).encode()).hexdigest()[:16]


def seen_of(going: Sequence[GoesWith]) -> str:
    """What a question showed, as its hidden field holds it."""
    return json.dumps({one.name: one.digest for one in going})


def is_as_asked(form: TypedForm, going: Sequence[GoesWith]) -> bool:
    """Whether what goes is what the question showed; if not, what came since is a fault."""
    seen = read_carried(form.typed(SEEN))
    if seen is None:
        form.fault("", NOT_ASKED)
        return False
    came = [one.now for one in going if seen.get(one.name) != one.digest]
    if came:
        form.fault(
            "",
            "Nothing has gone: it was changed elsewhere since you were asked."
            f" {sentence('; '.join(came))}. Press again if it is to go all the same.",
        )
    return not came

"""What the Bench holds, ready to be printed."""

from dataclasses import dataclass

from webapp.pages.bench.waiting import WaitingList
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.photographs.views import PicturesView
from webapp.pages.sharing.views import WhoseLine
from webapp.pages.tasks.step_lines import HandList

STOP_FIELDS = ("worked", "left", "setup")


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskCard:
    """A task to work on, with everything that must stand beside it."""

    key: str
    name: str
    address: str
    facts: tuple[str, ...]
    caution: str
    notes: str
    hands: HandList
    photographs: PicturesView


@dataclass(frozen=True, slots=True, kw_only=True)
class Asks:
    """What is asked before an outcome is stored, and the button that means it."""

    outcome: str
    title: str
    texts: tuple[str, ...]
    button: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBench:
    """The task on the bench. `stop` is there while its stop form is open.

    `setup_name` is what has to be got out for it, "" where it needs nothing; `focus` is the field
    to type into first.
    """

    card: TaskCard
    clock: str
    since: str
    stop: TypedForm | None
    setup_name: str
    hint: str
    then_name: str | None
    asks: Asks | None = None

    @property
    def focus(self) -> str:
        if self.stop is None or self.asks is not None:
            return ""
        wrong = [fault.field for fault in self.stop.faults]
        return next((field for field in wrong if field in STOP_FIELDS), STOP_FIELDS[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTask:
    """One of the next tasks. `begin` names the button, None where it cannot be begun now."""

    card: TaskCard
    when: str
    why: str
    begin: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """A task of tonight's session, and how much of it fits."""

    name: str
    address: str
    fits: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tonight:
    title: str
    tasks: tuple[Fitting, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WhileOut:
    """Other tasks for the setup that is out, and what doing them now saves."""

    setup: str
    saves: str
    tasks: tuple[TaskCard, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchView:
    on_bench: OnBench | None
    now: NextTask | None
    """What to do now, while nothing is on the bench: the first that can begin."""
    next: tuple[NextTask, ...]
    not_tonight: str
    """The names of what is passed over for tonight."""
    by_itself: tuple[NextTask, ...]
    """Work that can be set going now and then needs no hands: to be sent out, or an oven."""
    tonight: Tonight | None
    while_out: tuple[WhileOut, ...]
    waiting: WaitingList
    whose: WhoseLine | None
    """Whose the session is, where builds share their hours."""
    nothing: str | None
    """Why there is nothing to begin, where that is so."""

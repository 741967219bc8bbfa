"""A person on the day with a phone: presses what a screen shows, types into its fields alone."""

import re
from dataclasses import dataclass, field

from tests.benchmarks.forms_found import Form, forms_in
from tests.pages.first_start.conftest import Bay
from webapp.first_start.list_facts import facts_of

DAY = "first-start/day"


@dataclass
class Hand:
    """`page` is the screen now, `seen` every screen with what it asked, in order."""

    bay: Bay
    page: str = ""
    seen: list[tuple[str, str]] = field(default_factory=list)
    posts: int = 0

    def look(self, address: str = DAY) -> None:
        self.page = self.bay.get(address)

    @property
    def screen(self) -> str:
        found = re.search(r'data-screen="([^"]*)"', self.page)
        assert found, self.page
        return found[1]

    @property
    def asked(self) -> str:
        found = re.search(r'name="check" value="([^"]*)"', self.page)
        return found[1] if found else ""

    @property
    def buttons(self) -> list[str]:
        return re.findall(r"<button[^>]*>([^<]*)</button>", self.page.partition("<main")[2])

    def form(self, way: str) -> Form | None:
        """The form of the screen that is sent to `way` of the day."""
        address = f"/builds/{self.bay.slug}/{DAY}" + (f"/{way}" if way else "")
        return next((one for one in forms_in(self.page) if one.action == address), None)

    def press(self, way: str, **typed: str | list[str]) -> None:
        """Send a form that stands on the screen, with what is typed into its fields."""
        assert self.send(way, **typed) == 200, self.page

    def send(self, way: str, **typed: str | list[str]) -> int:
        """The same; how it was answered."""
        form = self.form(way)
        assert form is not None, (way, self.screen, self.buttons)
        boxes = {name for name, _ in form.unticked}
        radios = set(re.findall(r'type="radio" name="([^"]*)"', self.page))
        assert typed.keys() <= form.sent.keys() | boxes | radios, (typed, form)
        answer = self.bay.client.post(form.action, data={**form.sent, **typed})
        assert answer.status_code < 500
        self.page, self.posts = answer.text, self.posts + 1
        return int(answer.status_code)

    def sign(self) -> None:
        """Sign what is asked, or type its figures: whatever the screen has a field for."""
        key, way = self.asked, "figures" if self.form("figures") else ""
        form = self.form(way)
        assert form is not None, (self.screen, self.buttons)
        self.bay.wait(seconds=9)
        if self.send(way, **self._typed(form, key)) == 422:
            asked_again = self.form(way)  # an unlikely unit: it is said to be right
            assert asked_again is not None
            assert any(name.startswith("sure-") for name, _ in asked_again.unticked), self.page
            self.press(way, **self._typed(asked_again, key))

    def _typed(self, form: Form, key: str) -> dict[str, str | list[str]]:
        """What a person types of it: no more than the form has fields for."""
        fields = form.sent.keys() | {name for name, _ in form.unticked}
        return {
            name: value
            for name, value in self.bay.filled(key).items()
            if name in fields and name not in ("version", "shown_at")
        }

    def step(self) -> bool:
        """One screen further; False where nothing more is to be done."""
        screen = self.screen
        self.seen.append((screen, self.asked))
        if screen in ("sign", "figures"):
            self.sign()
        elif screen == "turn":
            self._turn()
        elif screen == "cranking":
            self.bay.wait(seconds=4)
            self.press("fired" if self.form("fired") else "over")
        elif screen == "running":
            self.bay.wait(seconds=5)
            self.press("over" if self.form("over") else "stands")
        elif screen == "it ran":
            self.press("it-ran")
        elif screen in ("wait", "watch"):
            if self.asked:
                self.sign()
            else:
                self.bay.wait(minutes=10)
                self.look()
        else:
            return False
        return True

    def _turn(self) -> None:
        if self.form(""):  # pressure shows: signed beside the next crank
            self.sign()
        elif self.form("begin"):
            self.press("begin")
        else:
            self.bay.wait(seconds=20)
            self.look()

    def to(self, screen: str, asked: str = "") -> None:
        """Screen by screen until one is shown."""
        for _ in range(150):
            if self.screen == screen and asked in ("", self.asked):
                return
            assert self.step(), (self.screen, self.page)
        raise AssertionError(f"never came to {screen}: {self.seen[-12:]}")

    @property
    def place(self) -> str:
        return facts_of(self.bay.standing.checks).place_stage

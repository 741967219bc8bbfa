"""How things stand when races begin: so many states that each writing route has a form in one.

The first ones are looked at whole, link by link; the others where the form is that they are for.
"""

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from tests.benchmarks.forms_found import Form
from tests.benchmarks.race_course import BUILD, ODD_KEY, State, Work
from tests.first_start.lists import ENGINE, start_build
from tests.first_start.walker import Walker, still, to_the_key, type_all
from tests.pages.conftest import NOW as HERON_NOW
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput, Step
from webapp.build.plumbing import Component
from webapp.first_start.list_facts import facts_of
from webapp.services.devices import Devices, Paired
from webapp.services.own_lists import make_list
from webapp.services.seed_builds import demo_build
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.own_lists import take_out_own_list

HERON, BOAT = "the-heron", "the-boat"
TUBE = "tube+19+steel"
EVERY_CHECK = 200


def raced_build() -> BuildInput:
    """A build with something of everything, a task that is done elsewhere, and odd keys."""
    tasks, parts, wishes = RICH_BUILD.tasks, RICH_BUILD.parts, RICH_BUILD.wishes
    plumbing = RICH_BUILD.plumbing
    mount, drain, coat, spare, start = tasks
    return replace(
        RICH_BUILD,
        tasks=(
            replace(
                mount,
                notes="Two lines, as one",  # its own hold what no page shows
                steps=(*mount.steps, Step(text="Grind the welds")),
            ),
            drain,
            coat,
            replace(spare, wish="lamp"),
            replace(start, wish=None),
            replace(
                coat, key=ODD_KEY, name="Weld elsewhere", begun_on=RICH_BUILD.now, finished_on=None
            ),
        ),
        parts=(*parts, replace(parts[2], key=ODD_KEY, name="Either part")),
        wishes=(*wishes, replace(wishes[3], key=ODD_KEY, text="Either wish")),
        plumbing=replace(
            plumbing,
            components=(
                *plumbing.components,
                Component(key="alone", name="Alone"),
                Component(key="lone", name="Alone as well"),
            ),
        ),
    )


def _post(address: str, **fields: str) -> Form:
    return Form(action=address, fields=tuple(fields.items()))


def _below(*pages: str) -> tuple[str, ...]:
    return tuple(f"{BUILD}/{page}" for page in pages)


def _two_devices(data_file: Path) -> None:
    """Two telephones are paired."""
    with closing(Database.open(data_file)) as database:
        devices = Devices(database)
        for name in ("Telephone", "Tablet"):
            paired = devices.pair(devices.show_code().text, name=name, by="192.168.0.9")
            assert isinstance(paired, Paired), paired


def _another_build(data_file: Path) -> None:
    """A build of the same work in the same week, to share it with."""
    with closing(Database.open(data_file)) as database, database.writing() as session:
        other = replace(demo_build(HERON_NOW), name="The Boat", log=(), on_bench=None)
        assert create_build(session, other) == BOAT


def _three_lists(data_file: Path) -> None:
    """Three starter lists of one's own, the last of them taken out."""
    with closing(Database.open(data_file)) as database, database.writing() as session:
        keys = [make_list(session, raced_build(), name) for name in ("One", "Two", "Three")]
        assert take_out_own_list(session, str(keys[-1])), keys


# first start --------------------------------------------------------------------------------
def _before_the_crank(one: Walker) -> None:
    to_the_key(one)
    one.wait(seconds=60)
    gate = facts_of(one.checks).gates.values()
    one.sign_all("start", only=lambda check: still(check) and check.key not in gate)


def _cranking(one: Walker) -> None:
    _before_the_crank(one)
    assert one.begin("start"), one.last
    one.wait(seconds=3)


def _running(one: Walker) -> None:
    _cranking(one)
    assert one.fire(), one.last
    one.wait(seconds=3)


def _stopped(one: Walker) -> None:
    _running(one)
    one.sign_all("start", only=lambda check: check.key not in ("normal_stop", "charging"))
    one.wait(seconds=20)
    assert one.end()


def _aborted(one: Walker) -> None:
    _running(one)
    assert one.abort(), one.last


def _it_ran(one: Walker) -> None:
    _stopped(one)
    type_all(one)
    one.wait(seconds=9)
    assert one.sign("normal_stop"), one.last
    one.wait(seconds=9)


def _just_signed(one: Walker) -> None:
    assert one.sign_all("dry")


def _walked(walk: Callable[[Walker], None], *pages: str, of_a_kind: int = 4) -> State:
    """The list of an engine walked to somewhere, and its pages; "{signed}" is signed last."""
    one = Walker(start_build(ENGINE), ENGINE)
    walk(one)
    last = one.build.start.signatures[-1].key if one.build.start.signatures else ""
    return State(
        build=lambda: replace(one.build, name="The Heron"),
        now=one.at.replace(tzinfo=None),
        begin=_below(*(page.format(signed=last) for page in pages)),
        within=_below("first-start"),
        of_a_kind=of_a_kind,
    )


def race_states() -> tuple[State, ...]:
    """All states, those that are looked at whole first."""
    heron = State(
        build=lambda: demo_build(HERON_NOW),
        now=HERON_NOW,
        posts=(
            _post(f"{BUILD}/parts/silicone_hose", name="Silicone", arrived="on"),
            *(
                _post(f"{BUILD}/run-work", about=key, does=does, run=key)
                for key in ("v1", "v2", "v3")
                for does in ("cut", "fitted", "clamped")
            ),
        ),
        begin=_below(
            "plumbing/vacuum",
            "buy-list",
            "shelf",
            "cut-list",
            "money",
            "tasks",
            "drop-tasks?task=rad_bracket",
        ),
        within=_below("plumbing/", "buy-list", "shelf", "cut-list"),
    )
    return (
        State(
            build=raced_build,
            posts=(_post(f"{BUILD}/bench/begin", task="mount"), _post(f"{BUILD}/scope")),
        ),
        State(build=raced_build),
        State(
            build=raced_build,
            work=Work(
                form=_post(f"{BUILD}/tighten", seconds="10"),
                page=f"{BUILD}/tightening",
                says="keep-order",
            ),
            begin=_below("path", "order", "tightening"),
            within=_below("tightening"),
        ),
        heron,
        replace(
            heron,
            posts=(),
            work=Work(
                form=_post(
                    f"{BUILD}/cut-list?what={TUBE}",
                    **{
                        "length-0": "2 m",
                        "price-0": "30",
                        "length-1": "3000",
                        "price-1": "50",
                        "kerf": "3",
                    },
                ),
                page=f"{BUILD}/cut-list?what={TUBE}",
                says="cut-to-shelf",
            ),
            begin=_below(f"cut-list?what={TUBE}"),
            within=_below("cut-list"),
        ),
        State(
            build=raced_build,
            posts=(_post("/feeds/new", name="Phone"), _post("/feeds/new", name="Laptop")),
            begin=("/feeds",),
            within=("/feeds",),
        ),
        State(
            build=raced_build,
            prepare=_two_devices,
            posts=(_post("/network/switch", turn="on"),),
            begin=("/network",),
            within=("/network",),
        ),
        State(
            build=raced_build,
            posts=(_post("/copies/new"),),
            begin=("/copies",),
            within=("/copies", "/put-back"),
        ),
        State(
            build=raced_build,
            prepare=_three_lists,
            begin=("/own-lists",),
            within=("/own-list",),
        ),
        State(
            build=raced_build,
            begin=_below("remove-component?key=alone", "remove-component?key=lone"),
            within=_below("remove-component"),
        ),
        State(
            build=heron.build,
            now=HERON_NOW,
            prepare=_another_build,
            posts=(
                _post(
                    f"{BUILD}/shop/sharing",
                    key="",
                    way="week",
                    sure="on",
                    **{f"in-{slug}": "on" for slug in (HERON, BOAT)},
                    **{f"share-{slug}": "1" for slug in (HERON, BOAT)},
                    **{f"place-{slug}": str(n) for n, slug in enumerate((HERON, BOAT), 1)},
                ),
            ),
            begin=_below("shop/sharing"),
            within=_below("shop/sharing"),
        ),
        _walked(_just_signed, "first-start/check?key=dry", "first-start/day?signed={signed}"),
        _walked(lambda _one: None, "first-start", of_a_kind=EVERY_CHECK),
        _walked(_before_the_crank, "first-start/day"),
        _walked(_cranking, "first-start/day"),
        _walked(_running, "first-start/day"),
        _walked(_aborted, "first-start/day", "first-start"),
        _walked(_stopped, "first-start/day", "first-start", of_a_kind=EVERY_CHECK),
        _walked(_it_ran, "first-start/day"),
    )

"""What deciding a wish brings into a build, and taking the decision back."""

from dataclasses import replace

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_decisions import accept, take_back
from webapp.build.verbs.wish_tasks import sized, with_wish
from webapp.build.wish import Wish, WishDecision, WishPart

TODAY = MONDAY.date()


def wish(likely: float = 4, **facts: object) -> Wish:
    said = {"hours": ThreePoint.certain(likely), "logged_on": TODAY, **facts}
    return Wish(key="w1", text="Second battery", **said)  # type: ignore[arg-type]


def chain(**rest: object) -> BuildInput:
    tasks = [task("a", (1, 2, 4)), task("b", (2, 3, 7)), task("z", 1)]
    return build_of(tasks, [("a", "b"), ("b", "z")], first_start="z", **rest)  # type: ignore[arg-type]


def test_what_is_missing_is_assumed_and_said_to_be() -> None:
    bare = Wish(key="w1", text="Work lights", logged_on=TODAY)
    of = sized(chain(), bare)
    assert of.hours == ThreePoint(optimistic=1.5, most_likely=3, pessimistic=5)
    assert of.assumed == (
        *("size", "rough_in_hours", "later_extra_hours"),
        *("parts", "after", "before"),
    )
    assert of.assumed_size is not None
    assert of.assumed_size.name == "an evening"
    told = wish(
        hours=ThreePoint(optimistic=1, most_likely=2, pessimistic=3),
        rough_in_hours=ThreePoint(optimistic=0.5, most_likely=1, pessimistic=2),
        later_extra_hours=1,
        cost=5,
        after="a",
        before="b",
    )
    assert sized(chain(), told).assumed == ()


def test_one_number_of_hours_gets_the_assumed_range_and_its_tasks_say_so() -> None:
    """4 h likely: 0.75 x 4 = 3 and 2 x 4 = 8; rough in 1 h of 4: a quarter of each."""
    of = sized(chain(), wish(4))
    assert of.hours == ThreePoint(optimistic=3, most_likely=4, pessimistic=8)
    assert of.rough_in_hours == ThreePoint(optimistic=0.75, most_likely=1, pessimistic=2)
    assert "range" in of.assumed
    made = [t for t in with_wish(chain(), wish(4), "rough in").tasks if t.wish == "w1"]
    assert [t.spread_assumed for t in made] == [True, True]
    said = wish(hours=ThreePoint(optimistic=1, most_likely=4, pessimistic=5))
    assert "range" not in sized(chain(), said).assumed
    (task_said,) = [t for t in with_wish(chain(), said, "fit now").tasks if t.wish == "w1"]
    assert task_said.hours == said.hours
    assert not task_said.spread_assumed


def test_accepting_makes_linked_and_marked_tasks_and_keeps_the_decision() -> None:
    build = chain(wishes=(wish(2, after="a", before="b"),))
    decision = WishDecision(way="fit now", decided_on=TODAY, why="light")
    accepted = accept(build, build.wishes[0], decision)
    made = [t for t in accepted.tasks if t.wish == "w1"]
    assert [t.name for t in made] == ["Second battery"]
    links = {(d.before, d.after) for d in accepted.dependencies}
    assert {("a", made[0].key), (made[0].key, "b")} <= links
    assert accepted.wishes[0].decision == decision


def test_a_decision_can_be_taken_back_until_its_tasks_are_begun() -> None:
    parts = (WishPart(name="Battery", lead_days=3),)
    build = chain(wishes=(wish(2, parts=parts),))
    decision = WishDecision(way="rough in", decided_on=TODAY)
    accepted = accept(build, build.wishes[0], decision)
    assert take_back(accepted, accepted.wishes[0]) == build
    key = next(t.key for t in accepted.tasks if t.wish == "w1")
    entry = LogEntry(task=key, on=TODAY, hours=1)
    assert take_back(replace(accepted, log=(entry,)), accepted.wishes[0]) is None


def test_after_first_start_a_wish_is_linked_to_it_no_more() -> None:
    done = task("z", 1, finished_on=TODAY)
    build = build_of([done, task("tidy", 1)], first_start="z")
    assert with_wish(build, wish(2), "fit now").dependencies == ()

"""Order and Path: a reason for every start, the price of the rules, the picture and its table."""

import re

from tests.benchmarks.forms_found import forms_of
from tests.pages.conftest import Shop
from webapp.build.house_rules import HOUSE_RULES, SOONEST_RULES
from webapp.planning.chances.levers import levers_of
from webapp.planning.chances.luck import DRAWS
from webapp.planning.chances.move_costs import task_costs
from webapp.planning.chances.rule_prices import rule_prices
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.calibration import factors_of
from webapp.services.planned_build import PlannedBuild


def test_the_order_lists_every_planned_task_under_its_week(shop: Shop) -> None:
    text = shop.page("order")
    build = shop.stored()
    names = {task.key: task.name for task in build.tasks}
    for planned in make_plan(build).tasks:
        assert names[planned.key] in text
    assert "Week 7" in text


def test_no_week_is_told_more_hours_of_work_than_it_is_promised(shop: Shop) -> None:
    """14 h a week: Tuesday and Thursday 3 h, Saturday 8. Week 8 has a Wednesday evening more,
    17 h; in week 10 the Saturday is closed, 6 h. Work is waiting, so each is nearly full."""
    text = shop.settled("order")
    weeks = re.findall(r"Week (\d+), [^<]*(?:</b> )?<span class=\"aside\">([\d.]+) h of work", text)
    told = {int(week): float(hours) for week, hours in weeks}
    assert len(told) > 4
    for week, promised in ((7, 14.0), (8, 17.0), (9, 14.0), (10, 6.0), (11, 14.0)):
        assert promised - 2.0 <= told[week] <= promised


def test_times_of_day_are_told_for_the_next_seven_days_alone(shop: Shop) -> None:
    """Today is Tuesday 10 February: times of day up to Monday the 16th."""
    days = re.split(r"<h3>", shop.settled("order").split('id="rules"')[0])[1:]
    times = [re.findall(r'class="time">([^<]*)<', day) for day in days]
    for day, told in zip(days, times, strict=True):
        near = re.match(r"\w+ 1[0-6] February<", day) is not None
        assert all((":" in one) == near for one in told), (day[:30], told)
    assert times[0]
    assert len(days) > 5


def test_later_weeks_are_one_line_each_until_every_week_is_asked_for(shop: Shop) -> None:
    """Today is Tuesday 10 February: weeks 7 and 8 begin within seven days, week 9 does not."""
    text = shop.page("order")
    weeks = re.findall(r'<(section|details) class="(?:more )?week"[^>]*id="week-2026-(\d+)"', text)
    assert weeks[:3] == [("section", "07"), ("section", "08"), ("details", "09")]
    assert {kind for kind, _ in weeks[3:]} == {"details"}
    assert not re.findall(r'<details class="more week"[^>]* open>', text)
    every = shop.page("order?every=1")
    opened = re.findall(r'<details class="more week"[^>]* open>', every)
    assert len(opened) == len(weeks) - 2
    assert "Show every week" in text
    assert "Show every week" not in every


def test_the_line_of_a_week_names_what_most_of_its_hours_go_to(shop: Shop) -> None:
    text = shop.settled("order")
    folded = text.split('id="week-2026-09"')[1]
    line = re.findall(r'class="why">([^<]*)<', folded)[0]
    named = line.split("; ")
    assert len(named) == 3
    assert named[2].endswith(" more")
    assert all(folded.count(name) > 1 for name in named[:2])  # they stand in the week itself too


def test_a_line_says_where_a_setup_is_got_out(shop: Shop) -> None:
    assert "Crimping bench cleared" in shop.page("order")


def test_every_rule_has_its_price_and_can_be_tried_without(shop: Shop) -> None:
    text = shop.settled("order")
    build = shop.stored()
    prices = rule_prices(build, factors_of(build)).switched
    priced = {rule: price.move.days for rule, price in zip(HOUSE_RULES, prices, strict=True)}
    assert priced["working_order"] != 0
    assert f"{abs(priced['working_order']):.1f}" in text
    without = shop.settled("order?rule=setup_out&rule=big_first&rule=longest_way")
    assert "Tried: the setup that is out, then the biggest piece, then the longest way." in without
    assert "Put it back" in without
    assert shop.client.get("/builds/the-heron/order?rule=lunch").status_code < 500


SOONEST = "rule=setup_out&rule=longest_way&rule=working_order&rule=big_first"


def test_other_rules_are_tried_let_hold_and_taken_back(shop: Shop) -> None:
    held = shop.settled("order")
    assert "Sooner by" in held
    tried = shop.settled(f"order?{SOONEST}")
    assert "Nothing is changed yet" in tried
    assert re.search(r"In the mean that is (about )?[0-9.]+ days sooner", tried)
    would = re.search(r"First start would be <b>([^<]+)</b>", tried)
    assert would is not None
    assert tried.count(would[1]) > 1  # its order ends on that day too
    form = next(
        form
        for form in forms_of(shop.client, f"/builds/the-heron/order?{SOONEST}")
        if form.action.endswith("/house-rules")
    )
    answer = shop.client.post(form.action, data=form.sent)
    assert answer.status_code == 200
    assert shop.stored().house_rules == SOONEST_RULES
    likely = re.search(
        r"First start, likely.*?([A-Z][a-z]{2} \d+ [A-Z][a-z]+)", shop.settled("order"), re.DOTALL
    )
    assert likely is not None
    assert likely[1] == would[1]  # what was said is what is seen
    again = shop.client.post(form.action, data=form.sent)  # a second tap
    assert again.status_code == 200
    others = {**dict(form.sent), "rule": "big_first"}
    refused = shop.client.post(form.action, data=others)  # from a window that shows the old rules
    assert refused.status_code == 422
    assert "Other rules hold by now: the setup that is out, then the longest way" in refused.text
    assert shop.stored().house_rules == SOONEST_RULES


def test_none_of_the_rules_is_an_answer_too(shop: Shop) -> None:
    shop.post("house-rules", rule="none", held="working_order")
    assert shop.stored().house_rules == HOUSE_RULES  # other rules hold than were shown
    shop.client.post("/builds/the-heron/house-rules", data={"rule": ["none"], "held": HOUSE_RULES})
    assert shop.stored().house_rules == ()
    assert "Put it back" in shop.settled("order")


def test_a_task_that_cannot_be_planned_is_named_with_what_to_mend(shop: Shop) -> None:
    shop.post("bench/begin", task="rad_bracket")
    shop.post(
        "bench/stop",
        task="rad_bracket",
        worked="1",
        left="1",
        outcome="set_aside",
        confirmed="set_aside",
    )
    text = shop.page("order")
    causes = text.split("Cannot be planned")[1].split("</section>")[0]
    assert causes.count("cannot be planned") == causes.count("Mend it") == 1
    assert "“Radiator lower bracket” is set aside" in causes
    # as many as are listed below it
    counted = re.search(r"(\d+) tasks cannot be planned", causes)
    assert counted is not None
    assert causes.split("<details")[1].count("<a href") == int(counted[1]) > 1
    for name in ("bench", "path", "parts", "shop", "tasks"):
        shop.page(name)


def test_the_picture_has_a_title_and_stands_beside_a_table(shop: Shop) -> None:
    text = shop.settled("path")
    assert re.search(r"<svg[^>]*>\s*<title", text)
    assert text.count("<table") >= 2
    for subsystem in shop.stored().subsystems:
        assert subsystem.name in text


def test_the_path_names_its_tasks_and_waits_in_order(shop: Shop) -> None:
    text = shop.settled("path").split("<h2>The path as a list")[1]
    planned = PlannedBuild(shop.stored())
    planned.forecast(wait_seconds=60)
    plan = planned.plan()
    assert plan is not None
    names = {task.key: task.name for task in shop.stored().tasks}
    tasks = [names[s.what] for s in plan.path if s.kind == "task"]
    assert len(tasks) > 5
    places = [text.index(name) for name in tasks]
    assert places == sorted(places)


def test_a_wait_of_the_path_says_what_would_shorten_it_as_the_levers_do(shop: Shop) -> None:
    """A part that comes a hundred days later than the Heron's own, and so decides the date."""
    part = next(one for one in shop.stored().parts if not one.arrived and one.serves)
    assert shop.post(f"parts/{part.key}", name=part.name, arrives_on="2026-09-01")[0] == 200
    text = shop.settled("path")
    build = shop.stored()
    lever = next(one for one in levers_of(build, factors_of(build)) if one.what == part.key)
    assert lever.days_won > 5
    listed = text.split("<h2>The path as a list")[1]
    wait = next(row for row in listed.split("<li")[1:] if f"part: {part.name}" in row)
    found = re.search(r"a week earlier would win (?:about )?([\d.]+) days", wait)
    assert found is not None, wait
    assert abs(float(found[1]) - lever.days_won) < 0.06


def test_the_cost_in_days_is_that_of_the_planner_largest_first(shop: Shop) -> None:
    table = shop.settled("path").split("What each task costs")[1]
    build = shop.stored()
    priced = task_costs(build, factors_of(build), draws=DRAWS)
    costs = sorted((move.added_days for move in priced.values()), reverse=True)
    first_of_row = r'</th><td class="n">\s*(?:about )?(-?[\d.]+)'
    shown = [float(n) for n in re.findall(first_of_row, table)]
    assert shown[: len(shown) // 2] == sorted(shown[: len(shown) // 2], reverse=True)
    assert abs(shown[0] - costs[0]) < 0.06

"""Print the table of benchmarks; name a part of a row's group to run that group alone."""

import sys

from tests.benchmarks import (
    bays,
    chains,
    copy_kills,
    cut_lists,
    forecast,
    kills,
    largest,
    lives,
    moves,
    pages,
    planner,
    races,
    rules,
    second_builds,
    several_people,
    stored,
    tighten,
    undos,
    week,
)
from tests.benchmarks.timing import Table
from tests.benchmarks.year.group import year_of_two_builds

GROUPS = (
    planner.plans,
    planner.variants_side_by_side,
    planner.critical_path_dates,
    several_people.plans_of_several_people,
    stored.stored_build,
    pages.pages_over_http,
    bays.bay_on_pages,
    largest.largest_build_planned,
    largest.largest_build_on_pages,
    largest.step_ticked_on_the_largest,
    forecast.forecasts,
    forecast.wish_prices,
    moves.moves_of_first_start,
    rules.house_rules_of_builds,
    week.bridge_of_five_causes,
    lives.lives_of_each_kind,
    lives.lives_at_an_attendance_of_eight_in_ten,
    lives.lives_of_wishes_as_planned,
    week.attendance_of_two_years,
    second_builds.earlier_records_of_second_builds,
    week.week_sheet_over_http,
    year_of_two_builds,
    tighten.tightened_psplib,
    tighten.tightened_workshop_builds,
    tighten.searched_over_draws,
    tighten.searched_by_two,
    tighten.psplib_over_draws,
    chains.chains_from_a_shelf,
    cut_lists.cut_lists_of_a_shop,
    cut_lists.thousand_pieces_to_cut,
    undos.rows_of_changes_taken_back,
    kills.endurance_of_kills,
    copy_kills.endurance_of_copies,
    races.endurance_of_races,
)


def main(wanted: list[str]) -> None:
    """Run all groups, or those whose name holds one of the words given."""
    table = Table.begun()
    for group in GROUPS:
        if not wanted or any(word in group.__name__ for word in wanted):
            group(table)


main(sys.argv[1:])

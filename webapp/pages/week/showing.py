"""The page of a week as an answer: what was asked of it, and an answer in it that was not taken."""

from fastapi.responses import Response

from webapp.pages.frame.context import PageContext
from webapp.pages.frame.notice import NO_NOTICE, Notice
from webapp.pages.frame.rendering import render
from webapp.pages.order.kept import searched_again_view
from webapp.pages.week.to_do import Answered
from webapp.pages.week.views import week_view
from webapp.planning.record.week_figures import IsoWeek
from webapp.services.program import Services
from webapp.services.snapshots import headings_of

PAGE = "Week"


def show_week(
    services: Services,
    page: PageContext,
    week: IsoWeek,
    *,
    status: int = 200,
    said: str = "",
    notice: Notice = NO_NOTICE,
    since: str = "",
    as_today: bool = False,
    answered: Answered | None = None,
) -> Response:
    """The page of a week; `said` is a sentence on why something was not done.

    `answered` is a line of what there is to do whose answer was not taken.
    """
    view = week_view(
        services,
        page,
        headings_of(services, page.slug),
        week,
        since=since,
        as_today=as_today,
        answered=answered,
    )
    return render(
        "week/week.html",
        status=status,
        title=view.title,
        page=page,
        view=view,
        searched=searched_again_view(page) if view.to_do else None,
        said=said,
        notice=notice,
    )

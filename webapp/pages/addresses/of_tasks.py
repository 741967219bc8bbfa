"""Addresses of tasks, parts, the shop and the lists of them."""

from urllib.parse import urlencode

from webapp.pages.addresses.at_the_bench import bench
from webapp.pages.addresses.joined import build, encoded, thing_in


def parts(slug: str) -> str:
    return f"{build(slug)}/parts"


def shop(slug: str, room: str = "") -> str:
    """A room of the shop, by its name in `shop.rooms`; the first one without."""
    address = f"{build(slug)}/shop"
    return f"{address}/{encoded(room)}" if room else address


def new_task(slug: str, name: str = "", after: str = "") -> str:
    """Entering tasks; `name` and what comes `after` it stand in the first row already."""
    said = {"name": name, "after": after} if name else {}
    return f"{build(slug)}/tasks/new{f'?{urlencode(said)}' if said else ''}"


def tasks(slug: str) -> str:
    return f"{build(slug)}/tasks"


def tasks_shown(slug: str, **fields: str) -> str:
    """The table of tasks as it is filtered and turned over: find, subsystem, only, after."""
    said = {name: value for name, value in fields.items() if value}
    return f"{tasks(slug)}?{urlencode(said)}" if said else tasks(slug)


def new_list(slug: str, of: str = "tasks") -> str:
    """Where a list from a spreadsheet is pasted or uploaded, `of` as in `lists.forms.KINDS`."""
    return f"{build(slug)}/list" + (f"?of={of}" if of != "tasks" else "")


def tables(slug: str) -> str:
    """Where the tables of a build are taken out and brought in."""
    return f"{build(slug)}/tables"


def table(slug: str, name: str) -> str:
    """One table as a CSV file."""
    return f"{tables(slug)}/{encoded(name)}.csv"


def report(slug: str) -> str:
    """What is to be in the report of a build."""
    return f"{build(slug)}/report"


def report_file(slug: str) -> str:
    """The report, as one file."""
    return f"{report(slug)}/file"


def task_row(slug: str, query: str = "") -> str:
    """Where one row of the table of tasks is sent alone; `query` is what the table was asked."""
    return f"{build(slug)}/task-row" + (f"?{query}" if query else "")


def drop_tasks(slug: str, keys: tuple[str, ...] = (), back: str = "") -> str:
    """The question whether several tasks are to be dropped; `back` is the query of the table."""
    fields = [("task", key) for key in keys] + ([("back", back)] if back else [])
    address = f"{build(slug)}/drop-tasks"
    return f"{address}?{urlencode(fields)}" if fields else address


def task(slug: str, key: str) -> str:
    return thing_in(tasks(slug), key)


def remove_task(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-task?{urlencode({'key': key})}"


def job_cards(slug: str) -> str:
    """Job cards of the coming session, to be printed; below the Bench, whose cookie it reads."""
    return f"{bench(slug)}/cards"


def parts_list(slug: str) -> str:
    """What is to be ordered and what is under way by supplier, to be printed."""
    return f"{build(slug)}/parts-list"


def task_steps(slug: str, key: str) -> str:
    """The steps in the form of a task, unfolded."""
    address = task(slug, key)
    return f"{address}{'&' if '?' in address else '?'}open=steps#fold-steps"


def move_step(slug: str) -> str:
    """Where a step of a task is moved among the others."""
    return f"{build(slug)}/move-step"


def tick_step(slug: str) -> str:
    """Where a step of a task is ticked."""
    return f"{build(slug)}/tick-step"


def new_part(slug: str) -> str:
    return f"{build(slug)}/parts/new"


def part(slug: str, key: str) -> str:
    return thing_in(parts(slug), key)


def part_here(slug: str) -> str:
    return f"{build(slug)}/part-here"


def part_ordered(slug: str) -> str:
    return f"{build(slug)}/part-ordered"


def remove_part(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-part?{urlencode({'key': key})}"


def share_hours(slug: str) -> str:
    """Where the rule between builds is sent."""
    return f"{build(slug)}/shop/sharing"


def share_by_hand(slug: str) -> str:
    """Where one session is given to another build."""
    return f"{build(slug)}/shop/sharing/hand"


def free_sessions(slug: str) -> str:
    """Where what came with a document is taken back."""
    return f"{build(slug)}/shop/sharing/free"


def shop_form(slug: str, form: str) -> str:
    """Where a form of the shop page is sent; `form` as in `shop.kinds.FORMS`."""
    return f"{build(slug)}/shop/{form}"

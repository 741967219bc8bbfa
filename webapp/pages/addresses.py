"""Every address of the program, in one place. Templates know this module as `to`."""

from urllib.parse import quote, urlencode, urlsplit


def _part(text: str) -> str:
    return quote(text, safe="")


def _thing(list_address: str, key: str) -> str:
    """The page of one thing; a key that a path can not carry stands in the query."""
    if key in ("new", ".", "..") or "/" in key or not key.isprintable():
        return f"{list_address}?{urlencode({'key': key})}"
    return f"{list_address}/{_part(key)}"


def builds() -> str:
    return "/"


def new_build() -> str:
    return "/builds/new"


def import_build() -> str:
    return "/builds/import"


def copies() -> str:
    return "/copies"


def new_copy() -> str:
    return "/copies/new"


def copies_elsewhere() -> str:
    return "/copies/elsewhere"


def network() -> str:
    return "/network"


def network_switch() -> str:
    return "/network/switch"


def network_code() -> str:
    """A new code that pairs one device."""
    return "/network/code"


def turn_device_away() -> str:
    return "/network/turn-away"


def leave_network() -> str:
    """Where a device has itself turned away."""
    return "/network/leave"


def pair(code: str = "") -> str:
    """Where a device that is not paired sends its code."""
    return f"/pair?{urlencode({'code': code})}" if code else "/pair"


def put_back(name: str) -> str:
    return f"/put-back?{urlencode({'key': name})}"


def own_lists() -> str:
    """The starter lists of one's own."""
    return "/own-lists"


def own_list(key: str) -> str:
    return f"/own-list?{urlencode({'key': key})}"


def rename_own_list(key: str) -> str:
    return f"/own-list/name?{urlencode({'key': key})}"


def take_out_own_list(key: str) -> str:
    return f"/own-list/take-out?{urlencode({'key': key})}"


def put_back_own_list(key: str) -> str:
    return f"/own-list/put-back?{urlencode({'key': key})}"


def make_own_list(slug: str) -> str:
    """Where a build is made into a starter list."""
    return f"{build(slug)}/own-list"


def feeds() -> str:
    """Where addresses for calendars are made and taken back."""
    return "/feeds"


def new_feed() -> str:
    return "/feeds/new"


def change_feed(key: str) -> str:
    return f"/feeds/change?{urlencode({'key': key})}"


def take_back_feed(key: str) -> str:
    return f"/feeds/take-back?{urlencode({'key': key})}"


def feed(secret: str) -> str:
    """The calendar of a secret: whoever knows the address needs nothing else."""
    return f"/feed/{_part(secret)}.ics"


def secret_of_feed(path: str) -> str:
    """The secret in the address of a calendar, of which `is_feed` holds."""
    return path.removeprefix("/feed/").removesuffix(".ics")


def is_feed(path: str) -> bool:
    """Whether an address is one that a calendar asks for, which brings nothing but its secret."""
    return path.startswith("/feed/") and path.endswith(".ics")


def build(slug: str) -> str:
    return f"/builds/{_part(slug)}"


def bench(slug: str) -> str:
    return f"{build(slug)}/bench"


def bench_begin(slug: str) -> str:
    return f"{build(slug)}/bench/begin"


def bench_stop(slug: str) -> str:
    return f"{build(slug)}/bench/stop"


def bench_stopping(slug: str, then: str = "") -> str:
    """The Bench with the stop form open; `then` is the task to begin after it."""
    fields = {"stop": "1"} | ({"then": then} if then else {})
    return f"{bench(slug)}?{urlencode(fields)}"


def bench_not_tonight(slug: str) -> str:
    return f"{bench(slug)}/not-tonight"


def bench_done(slug: str) -> str:
    return f"{build(slug)}/bench/done"


def bench_wish(slug: str) -> str:
    return f"{build(slug)}/bench/wish"


def bench_logged(slug: str, key: str, *, again: bool = False) -> str:
    """The Bench, with the word that a wish is logged; `again`: that it was already."""
    fields = {"logged": key} | ({"again": "1"} if again else {})
    return f"{bench(slug)}?{urlencode(fields)}#logged"


def order(slug: str, rules: tuple[str, ...] | None = None, *, every: bool = False) -> str:
    """The job order, by other house rules, or (`every`) with every week drawn out."""
    fields = [] if rules is None else [("rule", rule) for rule in rules or ("none",)]
    fields += [("every", "1")] if every else []
    address = f"{build(slug)}/order"
    return f"{address}?{urlencode(fields)}" if fields else address


def tighten(slug: str) -> str:
    return f"{build(slug)}/tighten"


def tightening(slug: str) -> str:
    """How far tightening has come, alone, asked for again while it is on."""
    return f"{build(slug)}/tightening"


def tightening_on_path(slug: str) -> str:
    """The place on the Path page where tightening stands."""
    return f"{path(slug)}#tighten"


def stop_tightening(slug: str) -> str:
    return f"{build(slug)}/stop-tightening"


def keep_order(slug: str) -> str:
    return f"{build(slug)}/keep-order"


def house_rules(slug: str) -> str:
    """Where the house rules that were tried are kept."""
    return f"{build(slug)}/house-rules"


def let_go_order(slug: str) -> str:
    return f"{build(slug)}/let-go-order"


def path(slug: str) -> str:
    return f"{build(slug)}/path"


def gauges(slug: str) -> str:
    """The figures of the frame alone, asked for again while they are worked out."""
    return f"{build(slug)}/gauges"


def notice(slug: str, since: str, back: str) -> str:
    """What a change did to first start, likewise; `back` is the page that shows it."""
    return f"{build(slug)}/notice?{urlencode({'since': since, 'back': back})}"


def journal(slug: str, page: int = 1) -> str:
    """The changes of a build, the newest first."""
    return f"{build(slug)}/journal" + (f"?page={page}" if page > 1 else "")


def take_back(slug: str) -> str:
    return f"{build(slug)}/journal/take-back"


def find(slug: str, words: str = "", kind: str = "") -> str:
    """Where the texts of a build are looked through; `kind` for things of one kind alone."""
    asked = {name: text for name, text in (("words", words), ("kind", kind)) if text}
    return f"{build(slug)}/find" + (f"?{urlencode(asked)}" if asked else "")


def page_of_build(slug: str, address: str) -> str:
    """An address that was sent, where it is one of the build's own pages; else the journal."""
    parts = urlsplit(address)
    here = parts.path.startswith(f"{build(slug)}/") and not (parts.scheme or parts.netloc)
    steps = parts.path.split("/")
    return address if here and address.isprintable() and ".." not in steps else journal(slug)


def photographs(slug: str, task: str) -> str:
    """All photographs of a task; they are added here."""
    return f"{build(slug)}/photographs?{urlencode({'task': task})}"


def photograph(slug: str, task: str, digest: str) -> str:
    """One photograph, whole; its caption is changed here."""
    return f"{build(slug)}/photographs/{_part(digest)}?{urlencode({'task': task})}"


def remove_photograph(slug: str, task: str, digest: str) -> str:
    return f"{build(slug)}/photographs/{_part(digest)}/remove?{urlencode({'task': task})}"


def adds_photographs(path: str) -> bool:
    """Whether photographs are sent to an address."""
    head, _, last = path.rpartition("/")
    return last == "photographs" and head.startswith("/builds/") and head.count("/") == 2


def picture(slug: str, digest: str) -> str:
    """The file of a photograph; what its address says is never another picture."""
    return f"{build(slug)}/pictures/{digest}.jpg"


def small_picture(slug: str, digest: str) -> str:
    return f"{build(slug)}/pictures/{digest}.small.jpg"


def spread(slug: str) -> str:
    """The spread of first start alone, likewise."""
    return f"{path(slug)}/spread"


def wishes(slug: str) -> str:
    return f"{build(slug)}/wishes"


def wish(slug: str, key: str) -> str:
    return _thing(wishes(slug), key)


def wish_at(slug: str, key: str, *, again: bool = False) -> str:
    """The place of a wish on the page of wishes; `again`: with the word that it was sent twice."""
    query = f"?{urlencode({'again': key})}" if again else ""
    return f"{wishes(slug)}{query}#wish-{_part(key)}"


def wish_ways(slug: str, key: str) -> str:
    """The four ways of one wish alone, asked for again while they are worked out."""
    return f"{build(slug)}/wish-ways?{urlencode({'key': key})}"


def decide_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/decide-wish?{urlencode({'key': key})}"


def take_back_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/take-back-wish?{urlencode({'key': key})}"


def remove_wish(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-wish?{urlencode({'key': key})}"


def wanted_by(slug: str) -> str:
    """Where the wanted-by date and the confidence are sent."""
    return f"{build(slug)}/wanted-by"


def wish_sizes(slug: str) -> str:
    return f"{build(slug)}/wish-sizes"


def scope(slug: str) -> str:
    """The scope ledger."""
    return f"{build(slug)}/scope"


def week(slug: str, label: str = "") -> str:
    """The week sheet of a week ("2026-W07"); of this week without a label."""
    return f"{build(slug)}/week/{_part(label)}" if label else f"{build(slug)}/week"


def week_since_closed(slug: str, label: str) -> str:
    """A closed week with what was written down since."""
    return f"{week(slug, label)}?today=1"


def to_do(slug: str, about: str, key: str, answer: str, label: str = "") -> str:
    """Where one line of what there is to do is answered, on the page of a week (see `week`)."""
    fields = {"about": about, "key": key, "answer": answer} | ({"week": label} if label else {})
    return f"{build(slug)}/to-do?{urlencode(fields)}"


def to_do_lines(slug: str, revision: int, ids: tuple[str, ...], label: str = "") -> str:
    """The list of what there is to do alone, where it is another than these lines by now."""
    fields = {"of": revision, "lines": " ".join(ids)} | ({"week": label} if label else {})
    return f"{build(slug)}/to-do-lines?{urlencode(fields)}"


def to_do_price(slug: str, key: str) -> str:
    """The price of a wish in one line, asked for again while it is worked out."""
    return f"{build(slug)}/to-do-price?{urlencode({'key': key})}"


def week_bridge(
    slug: str, earlier: str, later: str, start: str = "", *, folded: bool = False
) -> str:
    """The bridge alone, asked for again while it is worked out.

    `start` is the snapshot that the way is told from where nothing moved it since the earlier one;
    `folded`: its sentence is shown, how it splits is folded away.
    """
    fields = {"from": earlier, "to": later} | ({"start": start} if start else {})
    fields |= {"folded": "1"} if folded else {}
    return f"{build(slug)}/bridge?{urlencode(fields)}"


def compare(slug: str, earlier: str = "", later: str = "") -> str:
    """The bridge between two snapshots; "today" is the build as it is."""
    fields = {name: value for name, value in (("from", earlier), ("to", later)) if value}
    return f"{week(slug)}/compare{'?' + urlencode(fields) if fields else ''}"


def close_week(slug: str, label: str) -> str:
    return f"{build(slug)}/close-week?{urlencode({'week': label})}"


def record(slug: str) -> str:
    """What the record says of the estimates and of shop time."""
    return f"{build(slug)}/record"


def log(slug: str, page: int = 1) -> str:
    """The time log; its pages count from 1, the latest entries."""
    return f"{build(slug)}/log" + (f"?page={page}" if page > 1 else "")


def log_entry(slug: str, place: int, digest: str) -> str:
    """One entry of the log, by its place and by what it says."""
    return f"{build(slug)}/log-entry?{urlencode({'at': place, 'key': digest})}"


def remove_log_entry(slug: str, place: int, digest: str) -> str:
    return f"{build(slug)}/remove-log-entry?{urlencode({'at': place, 'key': digest})}"


def soundness(slug: str) -> str:
    return f"{build(slug)}/soundness"


def money(slug: str) -> str:
    """What the build has cost, and what is to come."""
    return f"{build(slug)}/money"


def money_paid(slug: str) -> str:
    """Where it is said that something was paid as estimated."""
    return f"{money(slug)}/paid"


def parts(slug: str) -> str:
    return f"{build(slug)}/parts"


def shop(slug: str, room: str = "") -> str:
    """A room of the shop, by its name in `shop.rooms`; the first one without."""
    address = f"{build(slug)}/shop"
    return f"{address}/{_part(room)}" if room else address


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
    return f"{tables(slug)}/{_part(name)}.csv"


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
    return _thing(tasks(slug), key)


def remove_task(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-task?{urlencode({'key': key})}"


def job_cards(slug: str) -> str:
    """Job cards of the coming session, to be printed; below the Bench, whose cookie it reads."""
    return f"{bench(slug)}/cards"


def parts_list(slug: str) -> str:
    """What is to be ordered and what is under way by supplier, to be printed."""
    return f"{build(slug)}/parts-list"


def plumbing(slug: str) -> str:
    """The whole engine bay as a list of circuits."""
    return f"{build(slug)}/plumbing"


def circuit(slug: str, key: str) -> str:
    return _thing(plumbing(slug), key)


def coolant(slug: str, key: str = "") -> str:
    """Coolant mixed for a frost, for the circuit with this key."""
    return f"{build(slug)}/coolant" + (f"?{urlencode({'circuit': key})}" if key else "")


def room(slug: str, key: str = "") -> str:
    """Measured spaces with what is stacked in them; with a key the form of that one."""
    return f"{build(slug)}/room" + (f"?{urlencode({'key': key})}" if key else "")


def runs(slug: str) -> str:
    return f"{build(slug)}/runs"


def run(slug: str, key: str) -> str:
    return _thing(runs(slug), key)


def run_work(slug: str) -> str:
    """Where a run is said to be cut, fitted, clamped, off again."""
    return f"{build(slug)}/run-work"


def port_work(slug: str) -> str:
    """Where a port is said to be capped, its part in, its cap off."""
    return f"{build(slug)}/port-work"


def run_tasks(slug: str) -> str:
    """Where the tasks of a run, or of the runs of a circuit, are made."""
    return f"{build(slug)}/run-tasks"


def tasks_of_run(slug: str, key: str) -> str:
    """The tasks of a run, and the form of those it can make."""
    return f"{build(slug)}/tasks-of-run?{urlencode({'key': key})}"


def circuit_tested(slug: str) -> str:
    return f"{build(slug)}/circuit-tested"


def new_circuit(slug: str) -> str:
    return f"{build(slug)}/new-circuit"


def circuit_form(slug: str, key: str) -> str:
    """Where a circuit is changed."""
    return f"{build(slug)}/circuit-form?{urlencode({'key': key})}"


def remove_circuit(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-circuit?{urlencode({'key': key})}"


def waive(slug: str) -> str:
    """Where a circuit is said to go without a vent or the like, or not any more."""
    return f"{build(slug)}/circuit-waived"


def new_component(slug: str, circuit: str, kind: str = "") -> str:
    """The usual components to pick one from; with `kind` the form of that one."""
    asked = {"circuit": circuit} | ({"kind": kind} if kind else {})
    return f"{build(slug)}/new-component?{urlencode(asked)}"


def component(slug: str, key: str) -> str:
    return f"{build(slug)}/component?{urlencode({'key': key})}"


def remove_component(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-component?{urlencode({'key': key})}"


def turn_component(slug: str) -> str:
    """Where a component is turned round in a circuit."""
    return f"{build(slug)}/turn-component"


def new_port(slug: str, component: str) -> str:
    return f"{build(slug)}/new-port?{urlencode({'component': component})}"


def port(slug: str, address: str) -> str:
    """A port by its address, "rad.top"."""
    return f"{build(slug)}/port?{urlencode({'key': address})}"


def remove_port(slug: str, address: str) -> str:
    return f"{build(slug)}/remove-port?{urlencode({'key': address})}"


def new_run(slug: str, circuit: str, from_port: str = "") -> str:
    """Where two ports are joined; with `from_port` it begins there."""
    asked = {"circuit": circuit} | ({"from": from_port} if from_port else {})
    return f"{build(slug)}/new-run?{urlencode(asked)}"


def run_form(slug: str, key: str) -> str:
    """Where the name and the ports of a run are changed."""
    return f"{build(slug)}/run-form?{urlencode({'key': key})}"


def remove_run(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-run?{urlencode({'key': key})}"


def next_piece(slug: str) -> str:
    """Where one piece more is put at the end of a run."""
    return f"{build(slug)}/next-piece"


def run_with_focus(slug: str, key: str, before: int = 0) -> str:
    """The page of a run with the number of its next piece ready to be typed; of one that comes
    before the piece of that number, where one is said."""
    address = run(slug, key)
    place = f"&before={before}" if before else ""
    return f"{address}{'&' if '?' in address else '?'}typing=piece{place}"


def piece(slug: str, run: str, number: int) -> str:
    """One piece of a run, its number from 1."""
    return f"{build(slug)}/piece?{urlencode({'run': run, 'at': number})}"


def piece_work(slug: str) -> str:
    """Where a piece is moved, taken out, or a T put in before it."""
    return f"{build(slug)}/piece-work"


def new_on_shelf(slug: str) -> str:
    return f"{build(slug)}/new-on-shelf"


def shelf_thing(slug: str, place: int, digest: str, name: str) -> str:
    """A line of the shelf, by its place and by what it says; `name` for when it is gone."""
    asked = {"at": place, "key": digest, "name": name}
    return f"{build(slug)}/shelf-thing?{urlencode(asked)}"


def take_from_shelf(slug: str) -> str:
    return f"{build(slug)}/take-from-shelf"


def sizing(slug: str) -> str:
    """Whether what is drawn carries enough."""
    return f"{build(slug)}/sizing"


def data_sheet(slug: str, asked: str = "") -> str:
    """Where the figures are typed that checks hang on; with the name of one it is ready."""
    return f"{build(slug)}/data-sheet" + (f"?{urlencode({'asked': asked})}" if asked else "")


def figure(slug: str, name: str) -> str:
    """The very field of a figure of the data sheet."""
    return f"{data_sheet(slug, name)}#{quote(name)}"


def wire(slug: str, key: str = "") -> str:
    """A cable or a wire; without a key a new one."""
    return f"{build(slug)}/wire" + (f"?{urlencode({'key': key})}" if key else "")


def belt(slug: str, key: str = "") -> str:
    """A belt with its pulleys; without a key a new one."""
    return f"{build(slug)}/belt" + (f"?{urlencode({'key': key})}" if key else "")


def limit(slug: str, check: str, at: str = "") -> str:
    """What a check is held against at a place; without one, everywhere."""
    return f"{build(slug)}/limit?{urlencode({'check': check} | ({'at': at} if at else {}))}"


def fill_day(slug: str) -> str:
    """What is filled in, how much of it, and what it waits for."""
    return f"{build(slug)}/fill-day"


def buy_list(slug: str) -> str:
    """What is drawn and lacks."""
    return f"{build(slug)}/buy-list"


def onto_shelf(slug: str) -> str:
    """Where what a part brings is put on the shelf."""
    return f"{build(slug)}/onto-shelf"


def cut_list(slug: str, what: str = "") -> str:
    """What is to be cut; how of one kind of hose or tube ("hose 19 coolant")."""
    return f"{build(slug)}/cut-list" + (f"?{urlencode({'what': what})}" if what else "")


def stop_cutting(slug: str, what: str) -> str:
    """Where the search for a better cut list is ended."""
    return f"{build(slug)}/stop-cutting?{urlencode({'what': what})}"


def cut_to_shelf(slug: str, what: str) -> str:
    """Where a cut list that was cut is laid on the shelf."""
    return f"{build(slug)}/cut-to-shelf?{urlencode({'what': what})}"


def joints(slug: str) -> str:
    """Every joint of every run, to be printed."""
    return f"{build(slug)}/joints"


def shelf(slug: str) -> str:
    """What lies unused, and what of it is spoken for."""
    return f"{build(slug)}/shelf"


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
    return _thing(parts(slug), key)


def part_here(slug: str) -> str:
    return f"{build(slug)}/part-here"


def part_ordered(slug: str) -> str:
    return f"{build(slug)}/part-ordered"


def remove_part(slug: str, key: str) -> str:
    return f"{build(slug)}/remove-part?{urlencode({'key': key})}"


def shop_form(slug: str, form: str) -> str:
    """Where a form of the shop page is sent; `form` as in `shop.routes.FORMS`."""
    return f"{build(slug)}/shop/{form}"


def demo_build() -> str:
    return "/builds/demo"


def delete_build(slug: str) -> str:
    return f"{build(slug)}/delete"


def starter(slug: str) -> str:
    """The questions of the starter list that a build was begun from."""
    return f"{build(slug)}/starter"


def document(slug: str, *, photographs: bool = False) -> str:
    """The build document; with its photographs in it where that is asked for."""
    return f"{build(slug)}/document" + ("?photographs=on" if photographs else "")


def schema() -> str:
    return "/schema/build-document-1.json"


def mend(slug: str, kind: str, key: str) -> str:
    """Where a fault is mended. `kind` as in `Fault.kind`."""
    if kind == "task" and key:
        return task(slug, key)
    if kind == "part":
        return part(slug, key) if key else parts(slug)
    if kind == "dependency" and "->" in key:
        return task(slug, key.split("->")[-1].strip())
    if kind == "wish":
        return wish(slug, key) if key else wishes(slug)
    if kind == "log" and key:
        return task(slug, key)
    if kind in ("task", "dependency", "log"):
        return order(slug)
    if kind == "looked at":
        return week(slug)
    rooms = {"setup": "setups", "station": "setups", "subsystem": "subsystems", "build": "build"}
    return shop(slug, rooms.get(kind, ""))


def first_start(slug: str) -> str:
    """What stands between the build and the key."""
    return f"{build(slug)}/first-start"


def first_start_stage(slug: str, stage: str, page: int = 1, check: str = "") -> str:
    """The checks of a stage, `page` counted from 1; at the place of one of them."""
    fields = {"key": stage} | ({"page": str(page)} if page > 1 else {})
    mark = f"#check-{_part(check)}" if check else ""
    return f"{first_start(slug)}/stage?{urlencode(fields)}{mark}"


def first_start_open(slug: str, kind: str) -> str:
    """Everything of one kind that is open: task, part, circuit, check."""
    return f"{first_start(slug)}/open?{urlencode({'kind': kind})}"


def first_start_circuit(slug: str, circuit: str) -> str:
    """The checks of one circuit, those that are offered among them."""
    return f"{first_start(slug)}/circuit?{urlencode({'key': circuit})}"


def first_start_check(slug: str, key: str, do: str = "") -> str:
    """One check and its forms; `do` is where one of them is sent: "" signs it."""
    way = f"/{do}" if do else ""
    return f"{first_start(slug)}/check{way}?{urlencode({'key': key})}"


def first_start_take_back(slug: str) -> str:
    return f"{first_start(slug)}/take-back"


def first_start_answers(slug: str) -> str:
    """The questions of first start."""
    return f"{first_start(slug)}/answers"


def first_start_stop_lines(slug: str) -> str:
    """Where the lines that say how to stop it are typed."""
    return f"{first_start(slug)}/stop-lines"


def first_start_own_check(slug: str) -> str:
    return f"{first_start(slug)}/own-check"


def first_start_sheet(slug: str, *, whole: bool = False) -> str:
    """The day on one page to be printed; or the whole list, printed on both sides."""
    return f"{first_start(slug)}/sheet" + ("?whole=1" if whole else "")


def first_start_day(slug: str, do: str = "", *, watch: str = "") -> str:
    """The day itself, one screen at a time; `do` is where one of its presses is sent.

    `watch` "yes" is the screen of the watch after a stop, "no" what comes before it.
    """
    address = f"{first_start(slug)}/day" + (f"/{do}" if do else "")
    return f"{address}?watch={watch}" if watch else address

"""The command: keyturn serve, demo, plan, plumbing, cut, table, report, import, export and others.

Ends with 0 where it did what it was asked, and with 2 where it could not: then every fault is
a line on standard error, nothing is on standard output and nothing was written, unless one of
the lines says that it was. The web server, the database and the planner are loaded by the commands
that need them only.
"""

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from webapp.command.files import leave_standard_output, write_out
from webapp.command.options import (
    add_data,
    add_document,
    add_port,
    add_shop,
    draws,
    seconds_limit,
    seed,
    shop_flags,
)
from webapp.command.refusal import REFUSALS, lines_of

DONE, REFUSED, INTERRUPTED = 0, 2, 130
CUT_SECONDS = 10.0


def main(arguments: Sequence[str] | None = None) -> int:
    """Carry out one command and return its exit status."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    options = _parser().parse_args(arguments)
    run: Callable[[argparse.Namespace], None] = options.run
    try:
        run(options)
        sys.stdout.flush()
    except REFUSALS as refusal:
        for line in lines_of(refusal):
            print(line, file=sys.stderr)
        return REFUSED
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        leave_standard_output()  # whoever read it has gone
    return DONE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="keyturn",
        description="An order of work, a price on every idea and an honest first-start date "
        "for a one-person engine swap.",
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _add_serving(commands)
    _add_printing(commands)
    _add_lists(commands)
    _add_report(commands)
    _add_carrying(commands)
    _add_copying(commands)
    return parser


def _add_serving(commands: Any) -> None:
    """What opens the pages."""
    serve = commands.add_parser("serve", help="open your own builds in the browser")
    add_data(serve)
    add_port(serve)
    serve.add_argument(
        "--host",
        help="address to listen on; one that others can reach is for paired devices, as --shop",
    )
    add_shop(serve)
    serve.set_defaults(run=_serve)

    demo = commands.add_parser("demo", help="open the demo build, The Heron, in the browser")
    add_data(demo)
    add_port(demo)
    add_shop(demo)
    demo.set_defaults(run=_demo)


def _add_printing(commands: Any) -> None:
    """What is worked out from a build document."""
    plan = commands.add_parser("plan", help="print the plan of a build document")
    add_document(plan)
    plan.add_argument("--json", action="store_true", help="for other programs, not as a table")
    plan.add_argument(
        "--tighten",
        type=seconds_limit,
        metavar="SECONDS",
        help="look for an order with an earlier first start for at most so long",
    )
    plan.add_argument(
        "--draws", type=draws, metavar="N", help="how sure first start is, over so many draws"
    )
    plan.add_argument(
        "--as-estimated",
        action="store_true",
        help="draw from the three-point estimates alone, without calibration and attendance",
    )
    plan.add_argument("--seed", type=seed, metavar="N", help="draw with another luck")
    plan.set_defaults(run=_plan)

    plumbing = commands.add_parser(
        "plumbing", help="print what is open, lacking and held in the plumbing of a build document"
    )
    add_document(plumbing)
    plumbing.add_argument("--json", action="store_true", help="for other programs, not as a table")
    plumbing.set_defaults(run=_plumbing)

    first_start = commands.add_parser(
        "first-start", help="print what stands between the build of a document and the key"
    )
    add_document(first_start)
    first_start.add_argument(
        "--json", action="store_true", help="for other programs, not as a table"
    )
    first_start.set_defaults(run=_first_start)


def _add_lists(commands: Any) -> None:
    """A starter list, a cut list, tables."""
    starter = commands.add_parser(
        "starter", help="print the starter list that a build makes for the next one"
    )
    add_document(starter)
    starter.add_argument(
        "--json", action="store_true", help="as a build document that import takes, not as a table"
    )
    starter.add_argument("--name", metavar="NAME", help="what the list is called")
    starter.set_defaults(run=_starter)

    cut = commands.add_parser("cut", help="print what to cut from which bar, of a cut document")
    cut.add_argument("file", metavar="FILE", help="a cut document; - reads standard input")
    cut.add_argument("--json", action="store_true", help="for other programs, not as a table")
    cut.add_argument(
        "--seconds",
        type=seconds_limit,
        default=CUT_SECONDS,
        metavar="S",
        help=f"look for a better way for at most so long; {CUT_SECONDS:g} if left out",
    )
    cut.set_defaults(run=_cut)

    table = commands.add_parser("table", help="print one table of a build document as CSV")
    add_document(table)
    table.add_argument(
        "--of",
        required=True,
        choices=("tasks", "parts", "log", "wishes", "weeks"),
        help="which table",
    )
    table.add_argument("--json", action="store_true", help="for other programs, not as CSV")
    table.set_defaults(run=_table)


def _add_report(commands: Any) -> None:
    report = commands.add_parser(
        "report", help="make a report of the build of a document: one HTML file, pictures inside"
    )
    add_document(report)
    report.add_argument("-o", "--output", metavar="OUT", type=Path, help="write it to OUT")
    report.add_argument(
        "--with-names", action="store_true", help="with the names of those who signed and helped"
    )
    report.add_argument("--with-costs", action="store_true", help="with what the parts cost")
    report.add_argument("--without-hours", action="store_true", help="without the hours worked")
    report.add_argument(
        "--without-photographs", action="store_true", help="without the photographs"
    )
    report.set_defaults(run=_report)


def _add_carrying(commands: Any) -> None:
    """What brings a build in, and takes it out."""
    take_in = commands.add_parser("import", help="add the build of a document to your builds")
    add_document(take_in)
    add_data(take_in)
    take_in.set_defaults(run=_import)

    export = commands.add_parser("export", help="write one of your builds as a build document")
    export.add_argument("slug", metavar="SLUG", help="the build, as in its address /builds/SLUG")
    add_data(export)
    export.add_argument("-o", "--output", metavar="FILE", type=Path, help="write it to FILE")
    export.add_argument(
        "--with-photographs", action="store_true", help="with the photographs of its tasks in it"
    )
    export.set_defaults(run=_export)


def _add_copying(commands: Any) -> None:
    backup = commands.add_parser("backup", help="make a whole copy of your builds and look it over")
    add_data(backup)
    backup.add_argument(
        "--to", metavar="FOLDER", type=Path, help="have the copy in this folder as well"
    )
    backup.set_defaults(run=_backup)

    restore = commands.add_parser("restore", help="put a copy of your builds back")
    restore.add_argument("copy", metavar="COPY", type=Path, help="the copy, as backup named it")
    add_data(restore)
    restore.set_defaults(run=_restore)

    check = commands.add_parser("check", help="look over a data file or a copy of one")
    check.add_argument(
        "file", metavar="FILE", type=Path, nargs="?", help="the file; your own builds if left out"
    )
    check.set_defaults(run=_check)


def _serve(options: argparse.Namespace) -> None:
    from webapp.command.serving import serve
    from webapp.command.settings import settings_of

    serve(settings_of(data=options.data, host=options.host, **shop_flags(options)))


def _demo(options: argparse.Namespace) -> None:
    from webapp.command.demo import demo_settings, prepare_demo
    from webapp.command.serving import serve
    from webapp.command.settings import settings_of

    settings = demo_settings(settings_of(data=options.data, **shop_flags(options)), options.data)
    slug = prepare_demo(settings)
    write_out(f"The demo is kept in {settings.data_file}, apart from your own builds.\n")
    serve(settings, f"/builds/{slug}/bench")


def _plan(options: argparse.Namespace) -> None:
    from webapp.command.documents import print_plan
    from webapp.command.drawing import drawing_of

    drawing = drawing_of(options.draws, as_estimated=options.as_estimated, seed=options.seed)
    print_plan(options.file, as_json=options.json, tighten_seconds=options.tighten, drawing=drawing)


def _plumbing(options: argparse.Namespace) -> None:
    from webapp.command.documents import print_plumbing

    print_plumbing(options.file, as_json=options.json)


def _first_start(options: argparse.Namespace) -> None:
    from webapp.command.documents import print_first_start

    print_first_start(options.file, as_json=options.json)


def _starter(options: argparse.Namespace) -> None:
    from webapp.command.documents import print_starter_list

    print_starter_list(options.file, as_json=options.json, name=options.name)


def _cut(options: argparse.Namespace) -> None:
    from webapp.command.documents import print_cut_list

    print_cut_list(options.file, as_json=options.json, seconds=options.seconds)


def _table(options: argparse.Namespace) -> None:
    from webapp.command.tables import print_table

    print_table(options.file, options.of, as_json=options.json)


def _report(options: argparse.Namespace) -> None:
    from webapp.command.report import make_report
    from webapp.pages.report.choice import ReportChoice

    choice = ReportChoice(
        names=options.with_names,
        costs=options.with_costs,
        hours=not options.without_hours,
        photographs=not options.without_photographs,
    )
    make_report(options.file, options.output, choice)


def _import(options: argparse.Namespace) -> None:
    from webapp.command.documents import import_build

    import_build(options.file, options.data)


def _export(options: argparse.Namespace) -> None:
    from webapp.command.documents import export_build

    export_build(
        options.slug, options.data, options.output, with_photographs=options.with_photographs
    )


def _backup(options: argparse.Namespace) -> None:
    from webapp.command.copying import back_up

    back_up(options.data, options.to)


def _restore(options: argparse.Namespace) -> None:
    from webapp.command.copying import restore

    restore(options.copy, options.data)


def _check(options: argparse.Namespace) -> None:
    from webapp.command.copying import check

    check(options.file)


if __name__ == "__main__":
    sys.exit(main())

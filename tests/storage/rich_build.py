"""A build that uses every field of every thing, and has one spare of each that nothing needs."""

import datetime as dt

from webapp.build.build_input import (
    BuildInput,
    Dependency,
    LogEntry,
    LookedAt,
    Measure,
    Part,
    Photograph,
    StarterAnswer,
    StationNeed,
    Step,
    Subsystem,
    Task,
)
from webapp.build.data_sheet import (
    Belt,
    DataSheet,
    OwnLimit,
    Pulley,
    SheetFigure,
    Wire,
)
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.first_start import (
    CheckChange,
    EngineRun,
    FirstStart,
    LicensedPaper,
    Opening,
    OwnCheck,
    SetAside,
    Signature,
    SignedReading,
    StartAnswer,
    StopLine,
)
from webapp.build.plumbing import (
    Circuit,
    Component,
    End,
    Ordered,
    Piece,
    Plumbing,
    Port,
    Run,
    ShelfThing,
    SoldLength,
    Stop,
    Volume,
    Waiver,
)
from webapp.build.room import InRoom, Room
from webapp.build.shop import (
    DayException,
    DayHours,
    DayRange,
    GivenAway,
    LaterWeek,
    Setup,
    Shop,
    Station,
    WeekSession,
)
from webapp.build.three_point import ThreePoint
from webapp.build.wish import WayFigures, Wish, WishDecision, WishPart, WishSize

NOW = dt.datetime(2026, 2, 9, 18, 30)
AT = dt.datetime(2026, 2, 9, 17, 30, 5, tzinfo=dt.UTC)


def _hours(opens: int, closes: int, *, helper: bool = False) -> DayHours:
    return DayHours(opens_minute=opens * 60, closes_minute=closes * 60, helper=helper)


SHOP = Shop(
    people=2,
    setups_out=("spare", "tig"),
    week=(
        WeekSession(weekday=5, hours=_hours(9, 17, helper=True)),
        WeekSession(weekday=0, hours=_hours(18, 21)),
        WeekSession(weekday=6, hours=_hours(22, 24)),
    ),
    days=(
        DayException(date=dt.date(2026, 2, 14)),
        DayException(
            date=dt.date(2026, 2, 12), sessions=(_hours(12, 13), _hours(8, 9, helper=True))
        ),
    ),
    later_weeks=(
        LaterWeek(
            from_on=dt.date(2026, 3, 1),
            week=(
                WeekSession(weekday=2, hours=_hours(18, 21)),
                WeekSession(weekday=0, hours=_hours(18, 21, helper=True)),
            ),
        ),
        LaterWeek(from_on=dt.date(2026, 2, 20), week=(WeekSession(weekday=2, hours=_hours(8, 9)),)),
    ),
    ranges=(
        DayRange(
            first_on=dt.date(2026, 8, 3), last_on=dt.date(2026, 8, 14), name="holidays “溶接”"
        ),
        DayRange(
            first_on=dt.date(2026, 4, 1),
            last_on=dt.date(2026, 4, 1),
            week=(
                WeekSession(weekday=2, hours=_hours(12, 13)),
                WeekSession(weekday=2, hours=_hours(8, 9, helper=True)),
            ),
        ),
    ),
    given=(
        GivenAway(
            first_on=dt.date(2026, 2, 3),
            last_on=dt.date(2026, 2, 10),
            opens_minute=18 * 60,
            closes_minute=21 * 60,
            belongs_to="The Boat “溶接”",
        ),
        GivenAway(
            first_on=dt.date(2026, 3, 4),
            last_on=None,
            opens_minute=6 * 60,
            closes_minute=24 * 60,
            belongs_to="Pump house",
            after_first_start=True,
        ),
    ),
    setups=(
        Setup(key="tig", name="TIG welder out", hours=0.75),
        Setup(key="roller", name="Tube roller on the bench", hours=1 / 3),
        Setup(key="spare", name="Paint corner", hours=2.0),
    ),
    stations=(
        Station(key="lift", name="Lift", count=1),
        Station(key="oven", name="Oven", count=2),
        Station(key="spare", name="Press", count=1),
    ),
)

TASKS = (
    Task(
        key="mount",
        name="Make the mounts — left & right, 30° „straight“ 溶接 \N{WRENCH}",
        hours=ThreePoint(optimistic=2.1, most_likely=3.3, pessimistic=6.6),
        spread_assumed=True,
        hours_guessed=True,
        cost=120.0,
        paid=119.99,
        offer_cost=300.5,
        offer_days=12.0,
        hours_taken=True,
        subsystem="air",
        setup="tig",
        people=2,
        helper=True,
        in_one_go=True,
        stations=(StationNeed(station="oven", count=2), StationNeed(station="lift")),
        space_litres=40.5,
        begun_on=dt.date(2026, 2, 7),
        hours_left=1.25,
        caution="Hot. Local codes and licensed practice come first.",
        notes="Two lines,\nthe second with \"quotes\" and 'more'; NUL \0 too.",
        steps=(Step(text="Cut the plate", done=True), Step(text="Tack — 2 x 30°, „straight“")),
        measures=(
            Measure(kind="torque", name="Mount bolts", value="45 Nm in three passes"),
            Measure(kind="size", name="Mount bolts", value="M10 x 1,25"),
        ),
    ),
    Task(
        key="drain",
        name="Drain the coolant",
        hours=ThreePoint.certain(0.1),
        begun_on=dt.datetime(2026, 2, 2, 18, 30),
        finished_on=dt.datetime(2026, 2, 2, 18, 36),
    ),
    Task(
        key="coat",
        name="Powder coat",
        hours=ThreePoint.certain(0.0),
        people=0,
        outside_days=4.5,
        finished_on=dt.date(2026, 2, 3),
    ),
    Task(
        key="spare",
        name="Paint the wheels",
        hours=ThreePoint.certain(1e-9),
        set_aside_on=NOW.date(),
    ),
    Task(
        key="start",
        name="First start",
        hours=ThreePoint.certain(1.0),
        subsystem="water",
        wish="lamp",
    ),
)

WISHES = (
    Wish(
        key="gauge",
        text="A gauge for the oil,\nwith „lamp“",
        logged_on=dt.date(2026, 1, 30),
        subsystem="water",
        after="drain",
        before="start",
        size="evening",
        hours=ThreePoint(optimistic=0.1, most_likely=1 / 3, pessimistic=7.5),
        setup="tig",
        rough_in_hours=ThreePoint(optimistic=0.0, most_likely=0.5, pessimistic=0.7),
        later_extra_hours=1.1,
        parts=(
            WishPart(name="Gauge", lead_days=12.5, cost=49.9),
            WishPart(name="Gauge", lead_days=12.5, cost=49.9),
            WishPart(name="Sender"),
        ),
        cost=9.99,
        paid=10.01,
    ),
    Wish(
        key="lamp",
        text="A lamp over the bench",
        logged_on=dt.date(2026, 1, 29),
        parts=(WishPart(name="Lamp"),),
        decision=WishDecision(
            way="fit now",
            decided_on=dt.date(2026, 2, 1),
            why="The nights are long.",
            figures=(
                WayFigures(
                    way="fit now",
                    likely=dt.datetime(2026, 5, 12, 20, 15),
                    firm=dt.datetime(2026, 5, 30, 11, 1),
                    move_days=1 / 3,
                    move_error_days=0.05,
                    moved_share=0.8,
                    headroom_hours=-12.75,
                    hours=2.1,
                    cost=0.0,
                ),
                WayFigures(
                    way="let go",
                    likely=None,
                    firm=None,
                    move_days=None,
                    headroom_hours=None,
                    hours=0.0,
                    cost=3.5,
                ),
            ),
        ),
    ),
    Wish(
        key="stripe",
        text="A stripe",
        logged_on=dt.date(2026, 1, 28),
        decision=WishDecision(way="let go", decided_on=dt.date(2026, 1, 28)),
    ),
    Wish(key="spare", text="A second horn", logged_on=dt.date(2026, 1, 31)),
)

PLUMBING = Plumbing(
    components=(
        Component(
            key="engine",
            name="Engine — 2,2 „turbo“",
            kind="engine",
            circuit="coolant",
            part="pump",
            volumes=(Volume(circuit="coolant", litres=5.6), Volume(circuit="oil")),
            passages=(("in", "out"), ("out", "drain")),
            ports=(
                Port(name="out", end="bead", size=38.1, flow="out", shuts=True),
                Port(name="in", end="bead", size=38.0, flow="in"),
                Port(
                    name="drain",
                    end="female",
                    size="M14x1.5",
                    flow="out",
                    role="drain",
                    stop=Stop(kind="cap", on=dt.datetime(2026, 2, 1, 9, 30)),
                ),
                Port(name="feed", end="quick_male", flow="both", circuit="oil"),
                Port(name="back", end="nipple", size=6.0, flow="in", circuit="oil"),
                Port(name="tap", end="nipple", size=6.0, flow="in", stop=Stop(kind="cover")),
            ),
        ),
        Component(
            key="rad",
            name="Radiator",
            circuit="coolant",
            passages=(),
            ports=(
                Port(name="top", end="bead", size=35.0, flow="in"),
                Port(name="bottom", end="open", flow="out"),
            ),
        ),
        Component(
            key="duct",
            name="Duct",
            circuit="spare",
            ports=(
                Port(name="a", end="spigot", size=51.0, flow="both"),
                Port(name="b", end="flange", size="2-bolt 24", flow="none"),
            ),
        ),
        Component(key="spare", name="Old pump", circuit="oil"),
    ),
    circuits=(
        Circuit(
            key="coolant",
            name="Coolant",
            medium="water",
            from_port="engine.out",
            to_port="engine.in",
            subsystem="water",
            hose="EPDM",
            tube="steel",
            bar=1.1,
            highest="rad.top",
            waived=(
                Waiver(why="no drain", reason="The hose comes off; „low“."),
                Waiver(why="no vent", reason="The cap."),
            ),
            holds=("start", "coat"),
            test="1.0 bar cold, 10 min",
            tested_on=dt.date(2026, 2, 8),
            frost_c=-25.5,
            antifreeze="propylene",
            full_litres=14.25,
            there_litres=6.0,
            there_percent=30.0,
        ),
        Circuit(
            key="oil",
            name="Oil",
            medium="oil",
            from_port="engine.feed",
            to_port="engine.back",
            needed_to_start=False,
        ),
        Circuit(key="spare", name="Spare", medium="none", from_port="duct.a", to_port="duct.b"),
    ),
    runs=(
        Run(
            key="top",
            name="Upper hose",
            from_port="engine.out",
            to_port="rad.top",
            pieces=(
                Piece(piece="hose", size=38.0, length_mm=640.5, wall_mm=4.5),
                Piece(piece="reducer", size=(38.0, 35.0), of="silicone lined"),
                Piece(piece="hose", size=38.0, length_mm=640.5, wall_mm=4.5),
                Piece(piece="elbow", size=35.0, angle=45.0),
                Piece(
                    piece="inline",
                    name="Filter",
                    ends=(End(kind="bead", size=35.0), End(kind="male", size="M16x1.5")),
                    arrow="to",
                    bore_mm=12.5,
                ),
            ),
            cut_on=dt.date(2026, 2, 6),
            fitted_on=dt.datetime(2026, 2, 7, 12, 15),
            clamped_on=dt.date(2026, 2, 8),
            clamps=("clamp 40-60", "clamp 32-50", "clamp 40-60"),
            tasks=("mount", "drain"),
            licensed="The „hose“ man",
        ),
        Run(key="spare", from_port="rad.bottom", to_port="engine.in"),
    ),
    shelf=(
        ShelfThing(piece="hose", size=38.0, length_mm=1000.0, of="EPDM", count=2),
        ShelfThing(piece="clamp", range_mm=(40.0, 60.0), count=6),
        ShelfThing(piece="clamp", range_mm=(40.0, 60.0), count=6),
        ShelfThing(piece="cap", ends=(End(kind="bead", size=38.0),)),
        ShelfThing(piece="reducer", size=(63.0, 60.0), wall_mm=5.0, angle=1.0, name="x"),
        ShelfThing(
            piece="line",
            name="Feed",
            ends=(End(kind="banjo", size="M12x1.5"), End(kind="open")),
            bore_mm=4.0,
            arrow="from",
            length_mm=800.0,
        ),
    ),
    ordered=(
        Ordered(part="hose", what="hose 38 EPDM", metres=2.5),
        Ordered(part="hose", what="clamp 40-60", count=4),
        Ordered(part="hose", what="clamp 40-60", count=4),
        Ordered(part="hose", what="soft water", litres=7.25),
    ),
    sold=(
        SoldLength(what="hose 38 EPDM", length_mm=1000.0, price=12.5),
        SoldLength(what="hose 38 EPDM", length_mm=4000.0, price=44.0, count=3),
        SoldLength(what="tube 38 steel", length_mm=6000.0),
    ),
)

RICH_BUILD = BuildInput(
    name="The Heron",
    now=NOW,
    first_start="start",
    starts_on=dt.date(2026, 1, 5),
    wanted_by=dt.date(2026, 6, 20),
    vehicle="1961 delivery van",
    shop=SHOP,
    subsystems=(
        Subsystem(key="water", name="Coolant", medium="water", order=2),
        Subsystem(key="air", name="Air", medium="air", order=1),
        Subsystem(key="spare", name="Trim", order=-3),
    ),
    tasks=TASKS,
    dependencies=(
        Dependency(before="mount", after="start", wait_hours=24.5, why="sealant cure"),
        Dependency(before="drain", after="mount"),
        Dependency(before="coat", after="start"),
    ),
    parts=(
        Part(
            key="hose",
            name="Hose 1-1/2",
            serves=("start", "mount"),
            arrives_on=dt.date(2026, 3, 2),
            promised_on=dt.date(2026, 2, 28),
            ordered_on=dt.date(2026, 2, 1),
            lead_days=21.5,
            cost=34.9,
            paid=-3.25,
            supplier="The hose man",
        ),
        Part(key="pump", name="Pump", arrived=True, arrives_on=dt.datetime(2026, 2, 1, 8, 15)),
        Part(key="spare", name="Badge"),
    ),
    wishes=WISHES,
    wish_sizes=(
        WishSize(
            key="evening",
            name="an evening",
            hours=ThreePoint(optimistic=1.0, most_likely=2.2, pessimistic=3.0),
        ),
        WishSize(key="spare", name="a lunch break", hours=ThreePoint.certain(0.5)),
    ),
    confidence=0.85,
    calibrated=False,
    attended=False,
    earlier_records=(
        EarlierRecord(
            key="the-grebe",
            name="The Grebe, „first“",
            taken_on=dt.date(2026, 1, 4),
            kinds=(
                EarlierKind(
                    tasks=12,
                    actual_hours=40.25,
                    expected_hours=31.5,
                    worth=8.125,
                    log_squares=1.5,
                ),
                EarlierKind(
                    name="TIG welder",
                    tasks=1,
                    actual_hours=3.0,
                    expected_hours=2.0,
                    worth=1.0,
                ),
            ),
            weeks=9,
            workable_hours=92.5,
            worked_hours=80.25,
        ),
        EarlierRecord(
            key="smew",
            name="Smew",
            taken_on=dt.date(2026, 1, 5),
            counts=False,
            weeks=1,
            workable_hours=8.0,
        ),
    ),
    log=(
        LogEntry(task="mount", on=dt.date(2026, 2, 7), hours=2.5, left=1.0),
        LogEntry(task="mount", on=dt.date(2026, 2, 7), hours=0.5, setup_hours=0.25),
        LogEntry(task="drain", on=dt.date(2026, 2, 2), hours=0.1, left=0.0),
    ),
    rooms=(
        Room(
            key="nose",
            name="Nose, „front“",
            measured_mm=187.5,
            plus_minus_mm=2.0,
            holds=(
                InRoom(name="condenser", mm=22.0, plus_minus_mm=1.0),
                InRoom(name="gap behind it", mm=12.5, kind="gap"),
            ),
        ),
        Room(key="tunnel", name="Tunnel"),
    ),
    data_sheet=DataSheet(
        figures=(
            SheetFigure(name="boost_bar", value=1.25, source="engine maker's sheet"),
            SheetFigure(name="fuel", value="diesel"),
        ),
        limits=(
            OwnLimit(check="charge_speed", at="hot", ok=55.0, tight=60.0, source="turbo maker"),
            OwnLimit(check="coolant_speed", ok=3.0, source="workshop „manual“"),
        ),
        wires=(
            Wire(
                key="starter",
                name="Starter cable",
                use="starter",
                current_a=300.0,
                area_mm2=50.0,
                out_and_back_m=5.0,
                celsius=60.0,
                fuse_a=400.0,
                carries_a=410.0,
            ),
            Wire(key="fan", name="Fan", current_a=14.0, area_mm2=2.5, out_and_back_m=6.0),
        ),
        belts=(
            Belt(
                key="main",
                name="Belt",
                length_mm=1190.0,
                take_up_mm=12.0,
                pulleys=(
                    Pulley(name="crank", x_mm=0.0, y_mm=0.0, diameter_mm=150.0, drives="crank"),
                    Pulley(name="idler", x_mm=90.5, y_mm=-20.0, diameter_mm=70.0, is_back=True),
                ),
            ),
            Belt(key="spare", name="Spare"),
        ),
    ),
    start=FirstStart(
        answers=(StartAnswer(question="volts", answer="24"),),
        signatures=(
            Signature(key="s1", check="battery_off", at=AT, signer="A. Builder", seen="tied away"),
            Signature(
                key="s2",
                check="brakes_automatic",
                at=AT + dt.timedelta(seconds=9, microseconds=120_034),
                signer="A. Builder",
                helper="B. Second",
                readings=(
                    SignedReading(name="drop", unit="V", value=0.4, makers="up to 0.5"),
                    SignedReading(name="level", unit="of MIN-MAX", value="near MAX"),
                ),
                paper=LicensedPaper(
                    name="J. Ferro", firm="Ferro", number="118", on=dt.date(2026, 2, 3)
                ),
                is_tap=True,
                taken_back_at=AT + dt.timedelta(seconds=12),
            ),
        ),
        set_asides=(
            SetAside(key="a1", check="rested", at=AT, name="A. Builder", reason="no other day"),
        ),
        changes=(
            CheckChange(check="dressed", at=AT, name="A. Builder", words="Cotton", choice=None),
            CheckChange(check="other_vents", at=AT, name="", choice="taken in"),
        ),
        own_checks=(
            OwnCheck(
                key="tray", stage="dry", circuit="battery", text="Tray", why="rust", caution="acid"
            ),
        ),
        openings=(
            Opening(
                what="task:mount",
                name="Mount",
                how="begun",
                at=AT,
                reaches=("task:mount", "subsystem:air"),
            ),
        ),
        runs=(
            EngineRun(
                key="r1",
                kind="start",
                begun_at=AT,
                fired_at=AT + dt.timedelta(seconds=4),
                ended_at=AT + dt.timedelta(seconds=50),
                ending="aborted",
                abort="knock",
                cause="a loose bolt",
                cause_at=AT + dt.timedelta(minutes=9),
                ran_at=AT + dt.timedelta(seconds=44),
            ),
        ),
        stop_lines=(StopLine(name="the way out", words="by the roller door"),),
    ),
    looked_at=(
        LookedAt(on=dt.date(2026, 2, 8), evening=dt.date(2026, 2, 7)),
        LookedAt(on=dt.date(2026, 2, 8), wish="gauge"),
        LookedAt(on=dt.date(2026, 2, 9), task="mount"),
    ),
    photographs=(
        Photograph(
            task="mount",
            digest="0a" * 32,
            width_px=2000,
            height_px=1500,
            size_bytes=412_345,
            added_on=dt.date(2026, 2, 7),
            caption="Dry fit, „left“ side",
        ),
        Photograph(
            task="drain",
            digest="0a" * 32,
            width_px=2000,
            height_px=1500,
            size_bytes=412_345,
            added_on=dt.date(2026, 2, 8),
        ),
        Photograph(
            task="mount",
            digest="f1" * 32,
            width_px=1,
            height_px=1,
            size_bytes=631,
            added_on=dt.date(2026, 2, 8),
        ),
    ),
    kept_order=("mount", "drain", "start"),
    kept_on=dt.date(2026, 2, 8),
    kept_setup_first=True,
    house_rules=("longest_way", "setup_out", "working_order"),
    end_name="first drive",
    units="imperial",
    currency="kr",
    money_limit=4_500.5,
    starter_list="swap",
    starter_answers=(
        StarterAnswer(question="fuel", answer="diesel"),
        StarterAnswer(question="größe", answer='"two" words'),
    ),
    starter_left_out=("turbo_clock", "intercooler"),
    plumbing=PLUMBING,
)

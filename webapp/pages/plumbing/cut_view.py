"""The cut lists: what is to be cut, from what lies there and what is sold, and how best."""

from collections import Counter
from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import cut_lists as said
from webapp.pages.words import sizes
from webapp.pages.words.amounts import count
from webapp.pages.words.how import How
from webapp.pictures.cut_bars import BarToDraw, CutPicture, cut_pictures
from webapp.plumbing.buy_list import CutGroup
from webapp.plumbing.cutting.best_cut import cut_at_once
from webapp.plumbing.cutting.cut_list import CutBar, CutJob, CutList
from webapp.plumbing.cutting.cut_to_shelf import is_as_drawn
from webapp.plumbing.cutting.faults import cut_faults
from webapp.plumbing.cutting.of_plumbing import cut_job_of, is_leftover, leftovers_of
from webapp.services.cuttings import CutRun


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupLine:
    """One kind of hose or tube: how many pieces of how much together, what lies there of it."""

    name: str
    address: str
    pieces: str
    length: str
    there: str
    is_enough: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupsView:
    """All kinds that something is to be cut of."""

    groups: tuple[GroupLine, ...]
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One piece to cut: its mark in the picture, the run it is for, its place there, its length."""

    mark: str
    run: Named
    place: str
    length: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BarLine:
    """Bars that are cut alike."""

    name: str
    pieces: tuple[tuple[str, str], ...]
    left: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerView:
    """The best that is at hand. `lay` numbers the run whose list may be laid on the shelf."""

    sentences: tuple[str, ...]
    bars: tuple[BarLine, ...]
    pictures: tuple[CutPicture, ...]
    lay: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CutView:
    """One kind of hose or tube. `running` are names and values while the search goes on."""

    what: str
    name: str
    pieces: tuple[PieceLine, ...]
    there: str
    running: tuple[tuple[str, str], ...]
    seconds_gone: int
    seconds: int
    answer: AnswerView | None
    wrong: str
    how: How


def groups_view(seen: Seen) -> GroupsView:
    """What is to be cut, each kind by its name."""
    return GroupsView(
        groups=tuple(_group(seen, group) for group in seen.plumbed.cut),
        how=said.groups_how(),
    )


def _group(seen: Seen, group: CutGroup) -> GroupLine:
    from_shelf = _from_shelf_alone(seen, group)
    return GroupLine(
        name=sizes.called(group.what),
        address=addresses.cut_list(seen.slug, group.what),
        pieces=count(len(group.pieces), "piece"),
        length=sizes.length(sum(piece.length_mm for piece in group.pieces)),
        there=_there(seen, group),
        is_enough=from_shelf is not None,
    )


def _from_shelf_alone(seen: Seen, group: CutGroup) -> CutList | None:
    """How it is cut from what lies there, where that is enough."""
    job = cut_job_of(group, seen.build.plumbing, ())
    return None if cut_faults(job) else cut_at_once(job)


def _there(seen: Seen, group: CutGroup) -> str:
    lengths = leftovers_of(seen.build.plumbing, group.what)
    told = (
        f"{one.count} of {sizes.length(one.length_mm)}"
        if one.count != 1
        else sizes.length(one.length_mm)
        for one in lengths
    )
    return ", ".join(told)


def cut_view(seen: Seen, group: CutGroup, run: CutRun | None) -> CutView:
    """One kind: its pieces, how far the search has come, what it found."""
    marks = {f"{one.run}, piece {one.number}": str(n) for n, one in enumerate(group.pieces, 1)}
    answer, job, is_on = None, None, False
    if run is not None:
        answer, job, is_on = run.answer, run.job, not run.ended.is_set()
    else:
        job = cut_job_of(group, seen.build.plumbing, ())
        answer = _from_shelf_alone(seen, group)
    is_outgrown = run is not None and not is_as_drawn(seen.build, group, run.job)
    wrong = ""
    if run is not None and not is_on and answer is None:
        wrong = said.FAILED if run.failed else said.NOT_FOUND
    return CutView(
        what=group.what,
        name=sizes.called(group.what),
        pieces=tuple(
            PieceLine(
                mark=marks[f"{one.run}, piece {one.number}"],
                run=seen.run_link(one.run),
                place=f"piece {one.number}",
                length=sizes.length(one.length_mm),
            )
            for one in group.pieces
        ),
        there=_there(seen, group),
        running=tuple(_running(run)) if run is not None and is_on else (),
        seconds_gone=min(run.seconds_gone, run.seconds) if run is not None else 0,
        seconds=run.seconds if run is not None else 0,
        answer=None
        if answer is None or is_outgrown
        else _answer(job, answer, marks, run, is_on=is_on),
        wrong=said.OUTGROWN if is_outgrown else wrong,
        how=_how(seen, group, None if is_outgrown else job, answer),
    )


def _how(seen: Seen, group: CutGroup, job: CutJob | None, answer: CutList | None) -> How:
    """How the list that is shown comes about; of one that is outgrown what is to be cut now."""
    name = sizes.called(group.what)
    if job is None:
        return said.cut_how(name, cut_job_of(group, seen.build.plumbing, ()), None)
    return said.cut_how(name, job, answer)


def _running(run: CutRun) -> list[tuple[str, str]]:
    told = [("Seconds gone", f"{run.seconds_gone} of {run.seconds}")]
    come = run.progress
    if come is not None and come.price is not None:
        told.append(("Best so far", f"{come.price:,.2f}, {count(come.bars or 0, 'bar')}"))
        told.append(("None is cheaper than", f"{come.bound_price:,.2f}"))
    return told


def _answer(
    job: CutJob, answer: CutList, marks: dict[str, str], run: CutRun | None, *, is_on: bool
) -> AnswerView:
    sentences = [said.sums_said(answer)]
    if run is None:
        sentences = [said.SHELF_ALONE]
    elif is_on:
        sentences.append(said.FIRST)
    else:
        sentences.append(said.verdict_said(answer))
    sentences.append(said.longest_said(answer))
    alike = Counter((bar.stock, bar.pieces) for bar in answer.bars)
    bars = {(bar.stock, bar.pieces): bar for bar in answer.bars}
    lines = tuple(_bar(job, bars[key], alike[key], marks) for key in bars)
    drawn = tuple(
        BarToDraw(
            bar=bar,
            says=f"{line.name}, {line.left}",
            marks=tuple(marks.get(piece.name, "") for piece in bar.pieces),
        )
        for bar, line in zip(bars.values(), lines, strict=True)
    )
    return AnswerView(
        sentences=tuple(sentences),
        bars=lines,
        pictures=cut_pictures(drawn, kerf_mm=job.kerf_mm),
        lay=run.number if run is not None and not is_on else 0,
    )


def _bar(job: CutJob, bar: CutBar, many: int, marks: dict[str, str]) -> BarLine:
    length = sizes.length(bar.stock.length_mm)
    name = f"leftover of {length}" if is_leftover(bar.stock) else length
    return BarLine(
        name=f"{many} times {name}" if many > 1 else name,
        pieces=tuple(
            (marks.get(piece.name, ""), sizes.length(piece.length_mm)) for piece in bar.pieces
        ),
        left=said.left_said(job, bar),
    )

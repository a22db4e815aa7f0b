"""The whole way from a job to its files, stage by stage, readable from top to bottom.

    check     what is wrong with a job (in `checking.py`)
    lay_out   its pieces on sheets, worked out for a machine; all that is ever found is found here
    plan      the lines of each side in working order
    show      its boxes folded up, as people see them
    draw      drawings for the machine, pictures and pages for people, as values
    render    the contents of the files
    write     the files in a folder

Each stage takes what the one before gave. Cheap stages come first: whoever only asks whether a
job works stops at the layout, and nothing is ordered or drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path

from cutlayers.job.order import Job
from cutlayers.making.ahead import Ahead, work_ahead
from cutlayers.making.files import picture_file, solid_file, units_in_files
from cutlayers.making.printing import is_printed, plan_ink, print_files, printed_sheet
from cutlayers.making.sides import (
    DrawnSide,
    LaidSide,
    draw_side,
    laid_row,
    lay_sides,
    plan_side,
    planned_row,
)
from cutlayers.making.stages import Drawn, Layout, Planned, Shown
from cutlayers.profile.creases import crease_findings
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import refuse_hazards
from cutlayers.profile.setup_sheet import card_findings, setup_sheet
from cutlayers.report.report import (
    REPORT,
    REPORT_TEXT,
    Report,
    by_stock,
    report_json,
    report_text,
    stock_rows,
)
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces, placing_steps
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.telling.colours import WHITE
from cutlayers.telling.errors import PlacementError
from cutlayers.writing.names import file_names

GUIDE = "guide.html"

BOX = "box.html"
"""The boxes to be turned and folded, for a friend."""

SET = "make"
"""What the files of a job are noted as in the folder that they are written to."""

Progress = Callable[[int], None]


def lay_out(
    job: Job,
    machine: Machine,
    *,
    quick: bool = False,
    budget: Budget = ENDLESS,
    progress: Progress = lambda _: None,
) -> Layout:
    """Put the pieces of a job on sheets, fold up and check each box, and work out the lines of each
    side for the machine.

    A job that asks for the thorough mode is searched for better sheets as long as it says and the
    budget lasts; `quick` leaves that out. `progress` is told how many more pieces are placed and
    seconds of search gone by, how many more boxes are folded up, and how many more pieces' ink and
    lines are worked out: `laying_steps`.

    Raises PlacementError for a piece that no sheet can hold, JobError for stock that the machine
    must not touch or a material that it does not know, NetError for a box that cannot be folded,
    Cancelled where the budget says so.
    """
    from cutlayers.checks.drawings import check_drawings
    from cutlayers.checks.job import all_findings, check_boxes
    from cutlayers.checks.lying import check_lying
    from cutlayers.checks.reaching import check_reach
    from cutlayers.checks.relief import check_relief

    def step(count: int) -> None:
        budget.check()
        progress(count)

    for name in dict.fromkeys(name for order in job.orders for name in order.stocks):
        refuse_hazards(machine, job.stocks[name])
    rules = replace(job.sheets, mode="quick") if quick else job.sheets
    try:
        placing = place_pieces(pieces_of(job), machine, rules, step, budget)
    except PlacementError as error:
        from cutlayers.curing.parting import with_advice

        raise with_advice(error, job, machine) from None
    sheets = placing.sheets
    inks, about_art = plan_ink(job, sheets, machine, step)
    checked = check_boxes(job, step)
    sides: list[LaidSide] = []
    for sheet in sheets:
        title = f"{job.title}, sheet {sheet.number} of {len(sheets)}: {sheet.stock.name}"
        name = f"sheet-{sheet.number}"
        coupon = job.sheets.coupon
        sides += lay_sides(name, title, sheet, machine, coupon=coupon, unit=job.unit)
        step(len(sheet.placed) * sheet.copies)
    cards = tuple(
        setup_sheet(
            machine,
            stock,
            {stroke.operation for sheet in each for stroke in sheet.strokes},
            coupon=job.sheets.coupon,
        )
        for stock, each in by_stock(sheets)
    )
    findings = [
        *check_drawings(job),
        *card_findings(cards),
        *crease_findings(job, machine.take_up),
        *placing.findings,
        *all_findings(checked),
        *check_lying(sheets),
        *check_relief(job),
        *check_reach(job),
        *about_art,
        *(finding for side in sides for finding in side.worked.findings),
    ]
    each_once = tuple(dict.fromkeys(findings))
    return Layout(job, machine, sheets, tuple(sides), inks, checked, cards, each_once)


def laying_steps(job: Job, *, quick: bool = False) -> int:
    """How many steps `lay_out` tells its progress."""
    boxes, pieces = len(job.orders), placing_steps(job, quick=True)
    printing = boxes + pieces if is_printed(job) else 0
    return placing_steps(job, quick=quick) + printing + boxes + pieces


def plan(
    layout: Layout, *, budget: Budget = ENDLESS, progress: Progress = lambda _: None
) -> Planned:
    """Put the lines of each side into working order; `progress` is told 1 for each side.

    A budget whose time is over leaves ways longer than they need be, and nothing else. Raises
    Cancelled where the budget says so.
    """
    sides = []
    for side in layout.sides:
        sides.append(plan_side(side, budget))
        progress(1)
    return Planned(layout, tuple(sides))


def show(
    job: Job,
    machine: Machine | None = None,
    *,
    budget: Budget = ENDLESS,
    progress: Progress = lambda _: None,
) -> Shown:
    """Draw each kind of box as it is folded, in its card's colours, its art where it lies on sheets
    that are printed for the machine; `progress` is told 1 for each.

    Raises NetError for a box that cannot be folded, Cancelled where the budget says so.
    """
    from cutlayers.pictures.folded import draw_usual, views_scene
    from cutlayers.pictures.orders import looks_for

    views = {}
    for order in job.orders:
        budget.check()
        views[order.name] = draw_usual(order.box, looks_for(job, order, machine))
        progress(1)
    names = file_names(views)
    pictures = {
        f"folded-{names[name]}": views_scene(name, drawn, ground=WHITE)
        for name, drawn in views.items()
    }
    return Shown(views, pictures)


def draw(planned: Planned, shown: Shown | None = None, *, budget: Budget = ENDLESS) -> Drawn:
    """Draw each side, what is printed, and the page to follow.

    `shown` is the same job's, where it was drawn before. Raises as `show` does.
    """
    from cutlayers.guide.build import build_guide
    from cutlayers.guide.ruler import usual_ruler
    from cutlayers.pictures.foldable import foldable
    from cutlayers.pictures.orders import looks_for

    layout = planned.layout
    job, machine = layout.job, layout.machine
    shown = shown or show(job, machine, budget=budget)
    sides = draw_sides(planned, budget)
    prints = tuple(
        printed_sheet(f"sheet-{sheet.number}", job.title, sheet, layout.inks[sheet.number], machine)
        for sheet in layout.sheets
        if sheet.number in layout.inks
    )
    foldables = []
    for order in job.orders:
        budget.check()
        foldables.append(foldable(order.box, looks_for(job, order, machine)))
    report = report_of(planned)
    guide = build_guide(
        job,
        usual_ruler(job.unit),
        machine=machine,
        report=report,
        checked=layout.checked,
        views=shown.views,
    )
    solids = {}
    if "fold" in machine.files.formats:
        from cutlayers.solids.model import model_of

        for name, order in zip(shown.pictures, job.orders, strict=True):
            solids[name] = model_of(job, [order])
    return Drawn(
        machine,
        sides,
        prints,
        shown.pictures,
        tuple(foldables),
        guide,
        report,
        solids,
    )


def draw_sides(planned: Planned, budget: Budget = ENDLESS) -> tuple[DrawnSide, ...]:
    """Each side by itself, for the machine and for people; raises Cancelled as the budget says."""
    sides = []
    for side in planned.sides:
        budget.check()
        sides.append(draw_side(side))
    return tuple(sides)


def render(
    drawn: Drawn, *, ahead: Ahead | None = None, progress: Progress = lambda _: None
) -> dict[str, bytes]:
    """The files of a job, name → content; `progress` is told 1 for each side.

    Where another process works `ahead`, it writes for the machine and paints meanwhile.
    """
    from cutlayers.guide.sheet import page_of
    from cutlayers.viewer.page import box_page

    files: dict[str, bytes] = {}
    with nullcontext(ahead) if ahead else work_ahead() as begun:
        folded = {f"{name}.png": begun.picture(scene) for name, scene in drawn.folded.items()}
        drawings = [begun.drawing(side.name, side.drawing, drawn.machine) for side in drawn.sides]
        # Half of the work is enough for the other process, if there is one.
        files |= {f"{side.name}.png": picture_file(side.picture) for side in drawn.sides}
        for printed in drawn.prints:
            files |= print_files(printed)
        files |= {f"{name}.fold": solid_file(model) for name, model in drawn.solids.items()}
        files[GUIDE] = page_of(drawn.guide)
        files[BOX] = box_page(drawn.guide, drawn.foldables)
        for written in drawings:
            files |= written()
            progress(1)
        files |= {name: painted() for name, painted in folded.items()}
    report = replace(drawn.report, files=tuple(sorted((*files, REPORT, REPORT_TEXT))))
    files[REPORT] = report_json(report).encode()
    files[REPORT_TEXT] = report_text(report).encode()
    return files


def write(
    files: Mapping[str, bytes],
    folder: str | Path,
    *,
    inputs: Collection[Path] = (),
    overwrite: bool = False,
    label: str = SET,
) -> None:
    """Write a set of files, name → content, into a folder, made if it is missing: all or none.

    Files of an earlier set with the same `label` there that are not among them go; that of a job is
    "make". A file that this package did not write, or that was changed since, is replaced only with
    `overwrite`, and one of `inputs`, which the set was made from, never. Raises OutputError; then
    the folder is as it was.
    """
    from cutlayers.writing.sets import Leave, write_set

    write_set(Path(folder), files, label, Leave(inputs, overwrite))


def report_of(stage: Layout | Planned) -> Report:
    """What is to be told of a job, no files named yet; of a layout there are no lengths of ways
    and no minutes, since its lines are in no order."""
    if isinstance(stage, Planned):
        layout, rows = stage.layout, [planned_row(side) for side in stage.sides]
    else:
        layout, rows = stage, [laid_row(side) for side in stage.sides]
    return Report(
        title=layout.job.title,
        unit=layout.job.unit,
        machine=layout.machine.title,
        units_in_files=units_in_files(layout.machine),
        sheets=tuple(rows),
        setup_sheets=layout.setup_sheets,
        stocks=stock_rows(layout.sheets),
        findings=layout.findings,
    )

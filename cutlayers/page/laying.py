"""The sheets of a job, which take longer than its boxes: what a page shows of them, and cures of
what was found."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cutlayers import Budget, CutlayersError, format_length, refused_clause, write_svg
from cutlayers.page.looking import Look, Trouble

if TYPE_CHECKING:  # what lays out and draws is loaded once somebody looks
    from cutlayers import Finding, Layout, Planned


@dataclass(frozen=True, slots=True)
class Laid:
    """The sheets of a job, if it has any; all that was found, with cures; why there are none. A kit
    has a plan of them instead, sheet by sheet."""

    layout: Layout | None
    findings: tuple[Finding, ...]
    trouble: Trouble
    kit: Mapping[str, Any] | None = None


def laid(text: str, path: Path, look: Look, budget: Budget, *, cures: bool = True) -> Laid:
    """Lay a job on its sheets, and try cures of what is found if they are asked for. Raises
    Cancelled where the budget says so."""
    from cutlayers import Source, lay_out, with_cures

    if look.machine is None:
        return Laid(None, look.findings, look.trouble)
    if look.rows is not None:
        from cutlayers.page.kits import plan_of_kit

        try:
            findings, plan = plan_of_kit(path, budget)
        except CutlayersError as error:
            trouble = tuple((each.place, refused_clause(each)) for each in error.refusals)
            return Laid(None, look.findings, trouble)
        return Laid(None, findings, (), plan)
    try:
        layout = lay_out(look.job, look.machine, quick=True, budget=budget)
    except CutlayersError as error:
        trouble = tuple((("sheets",), refused_clause(each)) for each in error.refusals)
        return Laid(None, look.findings, trouble)
    if not cures:
        return Laid(layout, layout.findings, ())
    source = Source(tomllib.loads(text), path, look.machine.take_up)
    found = with_cures(layout.findings, source, look.job, look.machine, budget)
    return Laid(layout, tuple(found), ())


@dataclass(frozen=True, slots=True)
class Sheets:
    """The sheets of a job: what is to be told of them, a picture of each side as SVG, and the plan
    that both are of, if there is one."""

    told: Mapping[str, Any]
    pictures: tuple[bytes, ...] = ()
    planned: Planned | None = None


def sheets_of(found: Laid, budget: Budget) -> Sheets:
    """The sheets with their lines in order. Raises Cancelled where the budget says so."""
    layout = found.layout
    if layout is None:
        return Sheets({"pictures": [], "rows": [], "stocks": [], "kit": found.kit})
    from cutlayers import draw_sides, plan

    planned = plan(layout, budget=budget)
    sides = draw_sides(planned, budget)
    told = {"pictures": [side.picture.title for side in sides], **amounts_of(planned)}
    return Sheets(told, tuple(write_svg(side.picture) for side in sides), planned)


def amounts_of(planned: Planned) -> dict[str, Any]:
    """What sheets take: each with what lies on it, and of each stock how many."""
    from cutlayers import report_of

    report = report_of(planned)
    unit = planned.layout.job.unit
    rows = [
        {
            "size": f"{format_length(row.width, unit)} × {format_length(row.height, unit)}",
            "stock": row.stock,
            "copies": row.copies,
            "pieces": row.pieces,
            "used": round(100 * row.used_share),
            "minutes": None if row.minutes is None else round(row.minutes, 1),
        }
        for row in report.sheets
    ]
    stocks = [
        {
            "stock": each.stock,
            "sheets": each.sheets,
            "weight": None if each.weight_g is None else round(each.weight_g, 1),
            "cost": each.cost,
        }
        for each in report.stocks
    ]
    return {"rows": rows, "stocks": stocks}

"""What a page shows of a job's text: values for its scripts, nothing of it kept."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterable, Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cutlayers import (
    Control,
    Controls,
    CutlayersError,
    Severity,
    box_data,
    check,
    cure_in_words,
    drawn_sizes,
    foldable,
    format_length,
    in_words_without_severity,
    job_controls,
    job_in,
    length_in,
    list_profiles,
    looks_for,
    machine_for,
    parse_length,
    places_of,
    refused_clause,
    step_in_words,
    write_svg,
)
from cutlayers.page.changes import value_in
from cutlayers.page.pieces import Place, used_stocks

if TYPE_CHECKING:  # what lays out and draws is loaded once somebody looks
    from cutlayers import Finding, Job, Machine, Order, Rows

WORST_FIRST = [severity.value for severity in Severity]

Trouble = tuple[tuple[tuple[str | int, ...], str], ...]
"""Places in the job with what is wrong there, of a job that can be read all the same."""


@dataclass(frozen=True, slots=True)
class Look:
    """A job that can be read, the machine that it is for, and what was found of its folded boxes;
    `trouble` says why there is no machine."""

    job: Job
    machine: Machine | None
    findings: tuple[Finding, ...]
    trouble: Trouble
    rows: Rows | None = None
    """Of a kit, whose job is that of one row."""
    row: int = 0


def look(text: str, path: Path, row: int = 0) -> Look:
    """Read a text and fold its boxes, of a kit those of one row; no sheets.

    Raises JobError for what is no job, NetError for what cannot be folded.
    """
    rows = rows_in(text, path)
    if rows is None:
        read = partial(job_in, text, path)
    else:
        from cutlayers import row_job

        row = min(row, len(rows.rows) - 1)
        read = partial(row_job, text, path, rows, row)
    job = read()
    machine, trouble = None, []
    try:
        machine = machine_for(path, job.profile, None)
        if machine.take_up:
            job = read(take_up=machine.take_up)
    except CutlayersError as error:
        trouble += [(each.place, refused_clause(each)) for each in error.refusals]
    return Look(job, machine, check(job), tuple(trouble), rows, row)


def rows_in(text: str, path: Path) -> Rows | None:
    """The rows of a kit; None where a text names no table. Raises JobError."""
    if "kit" not in text:
        return None
    from cutlayers import kit_rows  # few jobs are kits

    return kit_rows(text, path)


def folding(look: Look, piece: int) -> dict[str, Any]:
    """One box, to be folded and seen flat, with the drawing that it was made from if it was."""
    order = look.job.orders[piece]
    found = foldable(order.box, looks_for(look.job, order, look.machine))
    several = len(order.box.wholes) > 1
    told = box_data(found, lambda step: step_in_words(step, name_net=several))
    if order.drawing is not None:
        from cutlayers import as_drawn  # few jobs have drawings, and it loads what reads them

        told["drawn"] = asdict(as_drawn(order.drawing))
    return told


def folded_picture(look: Look, piece: int) -> bytes | None:
    """One box on its way and finished, as SVG; None where there is no such box."""
    from cutlayers import show

    pictures = [*show(look.job, look.machine).pictures.values()]
    return write_svg(pictures[piece]) if piece < len(pictures) else None


def findings_of(findings: Iterable[Finding], job: Job) -> list[dict[str, Any]]:
    """Findings in words, the worst first, each with where it is; what reads alike once."""
    names = [order.name for order in job.orders]
    told: dict[str, dict[str, Any]] = {}
    for number, finding in enumerate(findings):
        words = in_words_without_severity(finding, job.unit)
        cure = finding.cure
        drawn = finding.code.startswith("drawing-")
        subjects = [each for each in finding.named if each.panels]
        told.setdefault(
            words,
            {
                "number": number,
                "severity": finding.severity.value,
                "code": finding.code,
                "words": words[:1].upper() + words[1:],
                "piece": names.index(finding.subject.piece)
                if finding.subject.piece in names
                else None,
                "panels": [[s.net, p] for s in subjects for p in s.panels],
                "lines": [*map(int, finding.detail("lines") or ())] if drawn else [],
                "folds": [*(finding.detail("folds") or ())] if drawn else [],
                "cure": cure_in_words(cure, job.unit) if cure else None,
                "places": [*places_of(finding, job)],
                "sheet": finding.subject.sheet,
            },
        )
    return sorted(told.values(), key=lambda each: WORST_FIRST.index(each["severity"]))


def controls(text: str, piece: int, other: bool, drawn: Mapping[str, float] = {}) -> dict[str, Any]:
    """All controls of a piece with what the file has; `other` tells lengths in the unit that the
    job does not count in, beside. `drawn` are the sizes, in mm, of a box that a drawing holds: what
    counts where the file gives none."""
    table = tomllib.loads(text)
    used = used_stocks(table)
    unit: Any = "in" if table.get("units") == "in" else "mm"
    usual = {
        ("piece", piece, "size", name): str(length_in(round(size, 2), unit))
        for name, size in drawn.items()
    }
    return {
        part: [
            {
                "title": group.title,
                "item": group.item if part != "card" else _spare(group, used),
                "controls": [
                    asdict(each)
                    | ({"default": usual[each.place]} if each.place in usual else {})
                    | _given(table, each, other)
                    for each in group.controls
                ],
            }
            for group in groups
        ]
        for part, groups in job_controls(table, piece).items()
    }


def _spare(card: Controls, used: Collection[str]) -> Place | None:
    """The place of a kind of card that nothing is made of, and that may be taken out."""
    place = card.controls[0].place[:2]
    return None if place[1] in used else place


def _given(table: Mapping[str, Any], control: Control, other: bool) -> dict[str, Any]:
    """What the file has at a control's place, as it is shown."""
    found = value_in(table, control.place)
    beside = ""
    if control.kind == "length" and other and isinstance(found, int | float | str):
        inches = table.get("units") == "in"
        with suppress(CutlayersError):
            size = parse_length(found, "in" if inches else "mm")
            beside = format_length(size, "mm" if inches else "in")
    if isinstance(found, list):
        found = ", ".join(map(str, found))
    elif isinstance(found, Mapping):
        found = ", ".join(f"{key}: {each}" for key, each in found.items())
    elif isinstance(found, float) and found.is_integer() and control.kind != "text":
        found = int(found)
    return {"value": found, "beside": beside}


def machines() -> list[dict[str, str]]:
    """The profiles that may be chosen."""
    return [
        {"name": each.name, "title": each.title or each.name}
        for each in list_profiles()
        if not each.shadowed
    ]


def stays_flat(job: Job) -> list[dict[str, Any]]:
    """The pieces with nets of a drawing that are not folded, and how many of their folds nobody
    has said."""
    return [
        {
            "name": order.name,
            "unknown": sum(len(folds) for folds in order.drawing.unknown.values()),
        }
        for order in job.orders
        if order.drawing is not None and not _folds(order)
    ]


def _folds(order: Order) -> bool:
    return all(any(each.fold_deg for each in net.hinges) for net in order.box.nets)


def lengths_as_drawn(order: Order) -> Mapping[str, float]:
    """The sizes in mm of a box that a drawing holds and that folds; none of any other."""
    return drawn_sizes(order.box) if order.box.origin is None and _folds(order) else {}


def sizes_of(order: Order, job: Job) -> list[tuple[str, str]]:
    """The names of a box's sizes, and how large they are."""
    origin = order.box.origin
    if origin is None:
        return [
            (name, format_length(size, job.unit)) for name, size in lengths_as_drawn(order).items()
        ]
    return [
        (name, format_length(getattr(origin.dims, name), job.unit))
        for name, (dimension, _) in origin.style.table.items()
        if dimension.group == "size" and dimension.is_length
    ]

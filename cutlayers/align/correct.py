"""A sheet's lines where they were really printed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlayers.align.match import Alignment
from cutlayers.findings import Finding, Severity
from cutlayers.formats.drawing import Drawing
from cutlayers.layers import machine_drawing
from cutlayers.machine import Machine
from cutlayers.paths import Path, union_bounds
from cutlayers.sheets.model import Sheet
from cutlayers.toolpaths import plan_toolpaths
from cutlayers.transforms import Transform

CHORD = 0.005
"""mm; an uneven scale makes ellipses of arcs, so they are cut as chords, this near to them."""


@dataclass(frozen=True, slots=True)
class Corrected:
    """The drawing for the machine, corrected, and what was found on the way."""

    drawing: Drawing
    findings: tuple[Finding, ...]


def corrected(
    title: str, sheet: Sheet, machine: Machine, alignment: Alignment, page: tuple[float, float]
) -> Corrected:
    """Plan a sheet's toolpaths anew for where its print lies.

    The lines are moved before the tool's width is taken up, so a kerf stays a kerf however the
    printer scales. `page` is the width and height in mm of what the marks were measured on.
    """
    onto = alignment.fit.transform
    strokes = tuple(replace(stroke, path=moved(stroke.path, onto)) for stroke in sheet.strokes)
    marks = tuple(
        replace(
            mark,
            centre=onto.apply(mark.centre),
            paths=tuple(moved(path, onto) for path in mark.paths),
        )
        for mark in sheet.marks
    )
    plan = plan_toolpaths(strokes, machine)
    there = replace(sheet, width=page[0], height=page[1], marks=marks)
    findings = list(plan.findings)
    left, bottom, right, top = union_bounds(stroke.path.bounds for stroke in strokes)
    out = max(-left, -bottom, right - page[0], top - page[1])
    if out > 0:
        findings.append(
            Finding(
                Severity.WARNING,
                "aligned-off-page",
                f"sheet {sheet.number}",
                f"corrected lines lie up to {out:.1f} mm outside of the measured area",
                advice="measure from the corner that the machine counts from",
            )
        )
    return Corrected(machine_drawing(title, there, plan, machine), tuple(findings))


def moved(path: Path, onto: Transform) -> Path:
    """A path moved by any affine motion; arcs stay arcs where they can."""
    return (path if onto.is_similarity else path.flattened(CHORD)).transformed(onto)

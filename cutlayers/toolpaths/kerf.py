"""Half a kerf away from the material, so that the piece comes out at its nominal size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cutlayers.errors import CollapseError
from cutlayers.findings import Finding, Severity
from cutlayers.offsetting import offset
from cutlayers.strokes import Operation, Part, Stroke

CONTOURS = (Part.OUTLINE, Part.OPENING)


def take_up_kerf(
    strokes: Iterable[Stroke], kerf: float
) -> tuple[tuple[Stroke, ...], tuple[Finding, ...]]:
    """Move cut contours half a kerf away from their material; `kerf` is the full width removed.

    Outlines grow, openings shrink, slits and open lines stay.
    """
    done: list[Stroke] = []
    findings: list[Finding] = []
    for stroke in strokes:
        if not kerf or stroke.operation is not Operation.CUT or stroke.part not in CONTOURS:
            done.append(stroke)
            continue
        try:
            done.append(replace(stroke, path=offset(stroke.path, kerf / 2)))
        except CollapseError as error:
            x, y = error.place
            done.append(stroke)
            findings.append(
                Finding(
                    Severity.WARNING,
                    "narrower-than-kerf",
                    f"{stroke.name} at ({x:.1f}, {y:.1f}) mm",
                    "a part of the outline is narrower than the kerf and is cut along its line",
                    f"{kerf:g} mm or more",
                    "make it wider, or use a tool with a smaller kerf",
                )
            )
    return tuple(done), tuple(findings)

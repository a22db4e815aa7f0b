"""Half a kerf away from the material, so that the piece comes out at its nominal size.

A beam or wheel takes a strip as wide as its *kerf* out of the card, half of it on each side of
its path. Moved half a kerf away from the material, it leaves the nominal border: outlines grow,
openings shrink; slits and open lines, which have card on both sides, stay. At an inner corner
the beam cannot fill the corner and leaves a rounding of half a kerf.

Where a contour has a gap narrower than the kerf, the moved path closes it. Such a gap is cut
along its nominal lines, so that it is there, though wider than drawn, and a finding says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from cutlayers.geometry.offsetting import Loss, Offset, offset_parts
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import length, lengths

CONTOURS = (Part.OUTLINE, Part.OPENING)


def take_up_kerf(
    strokes: Iterable[Stroke], kerf: float
) -> tuple[tuple[Stroke, ...], tuple[Finding, ...]]:
    """Move cut contours half a kerf away from their material; `kerf` is the full width removed.

    A contour comes out as one closed path or, where the kerf shuts a pocket off, as several,
    with slits for the gaps that would have vanished. Everything else is passed on as it is.
    """
    done: list[Stroke] = []
    findings: list[Finding] = []
    for stroke in strokes:
        if not kerf or stroke.operation is not Operation.CUT or stroke.part not in CONTOURS:
            done.append(stroke)
            continue
        moved = offset_parts(stroke.path, kerf / 2)
        done += _contour(stroke, moved, kerf)
        findings += (
            _narrow(stroke, loss, kerf) if _is_gap(loss, kerf) else _fine(stroke, loss, kerf)
            for loss in moved.losses
            if not loss.is_corner
        )
    return tuple(done), tuple(findings)


def _is_gap(loss: Loss, kerf: float) -> bool:
    """Whether a lost stretch is a gap, deeper than the kerf is wide, and no mere detail."""
    return not loss.is_corner and loss.depth > kerf


def _contour(stroke: Stroke, moved: Offset, kerf: float) -> Iterator[Stroke]:
    if not moved.loops:
        # All of an opening is narrower than the kerf: go round it where it was drawn.
        yield stroke
        return
    for loss in moved.losses:
        if _is_gap(loss, kerf):
            yield replace(stroke, path=loss.path, part=Part.SLIT, glued=())
    for loop in moved.loops:
        yield replace(stroke, path=loop)


def _place(stroke: Stroke, path: Path) -> Subject:
    return stroke.found_at(path.point_at(path.length / 2))


def _narrow(stroke: Stroke, loss: Loss, kerf: float) -> Finding:
    """A gap of an outline is narrower than the kerf.

    Measured: the length of a gap, deeper than the kerf is wide, whose two sides are so near to each
    other that half a kerf beside the one lies beyond the other.

    Why: a beam or wheel takes a strip as wide as its kerf out of the card. The gap is cut along its
    drawn lines, so it is there, but one kerf wider than drawn; what fits into it sits loose.

    Cure: make the gap wider than the kerf, or a slit, which is one line.

    Source: the path runs half a kerf away from the piece; geometry, no source.
    """
    left, bottom, right, top = loss.path.bounds
    return Finding(
        "narrower-than-kerf",
        Severity.WARNING,
        _place(stroke, loss.path),
        (length(max(right - left, top - bottom)),),
        at_least(length(kerf)),
    )


def _fine(stroke: Stroke, loss: Loss, kerf: float) -> Finding:
    """A detail of an outline is finer than the kerf.

    Measured: width and height of a detail that vanishes when the path is moved half a kerf away
    from the piece, and that is no deeper than the kerf is wide.

    Why: a beam or wheel cannot draw finer than it is wide; the detail comes out rounded. That is
    seldom seen on a box, more so in letters and lace.

    Cure: none is needed where it does not show. Else draw the detail larger, or choose a tool with
    a smaller kerf; `cutlayers trial kerf` measures yours.

    Source: the path runs half a kerf away from the piece; geometry, no source.
    """
    left, bottom, right, top = loss.path.bounds
    return Finding(
        "finer-than-kerf",
        Severity.NOTE,
        _place(stroke, loss.path),
        lengths(right - left, top - bottom),
        at_least(length(kerf)),
    )

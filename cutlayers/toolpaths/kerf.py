"""Half a kerf away from the material, so that the piece comes out at its nominal size.

A beam or wheel takes a strip as wide as its *kerf* out of the card, half of it on each side of
its path. Moved half a kerf away from the material, it leaves the nominal border: outlines grow,
openings shrink; slits and open lines, which have card on both sides, stay. A slit's free end
is burnt half a kerf beyond the path, which is so much shorter.

At an inner corner the beam cannot fill the corner and leaves a rounding of half a kerf. Where the
corner is so acute that this would hold a flap back, a short *dart* into it burns the rest, and with
it up to half a kerf of the card beside its point.

Where a contour has a gap narrower than the kerf, the moved path closes it. Such a gap is cut
along its nominal lines, so that it is there, though wider than drawn, and a finding says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from cutlayers.geometry.crossings import crossings
from cutlayers.geometry.offsetting import Loss, Offset, offset_parts
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.geometry.transforms import turn_between
from cutlayers.telling.findings import Finding, Severity, Subject, at_least
from cutlayers.telling.quantities import length, lengths
from cutlayers.toolpaths.places import Lines

CONTOURS = (Part.OUTLINE, Part.OPENING)

DEEP_CORNER = 0.25
"""mm of card left in an inner corner that hold a flap back (common practice, no source)."""


def take_up_kerf(
    strokes: Iterable[Stroke], kerf: float
) -> tuple[tuple[Stroke, ...], tuple[Finding, ...]]:
    """Move cut contours half a kerf away from their material; `kerf` is the full width removed.

    A contour comes out as one closed path or, where the kerf shuts a pocket off, as several,
    with slits for the gaps that would have vanished, and for darts. Slits are shortened by half a
    kerf at ends that lie on no other cut. Everything else is passed on as it is.
    """
    every = tuple(strokes)
    if not kerf:
        return every, ()
    cuts = Lines(each.path for each in every if each.operation is Operation.CUT)
    done: list[Stroke] = []
    findings: list[Finding] = []
    for stroke in every:
        if stroke.operation is Operation.CUT and stroke.part in CONTOURS:
            moved = offset_parts(stroke.path, kerf / 2)
            done += _contour(stroke, moved, kerf)
            findings += (
                _narrow(stroke, loss, kerf)
                if _is_gap(loss, kerf)
                else _fine(stroke, loss.path, kerf)
                for loss in moved.losses
                if not loss.is_corner
            )
        elif stroke.operation is Operation.CUT and stroke.part is Part.SLIT:
            path = _shortened(stroke.path, cuts, kerf)
            done.append(stroke if path is None else replace(stroke, path=path))
            if path is None:
                findings.append(_fine(stroke, stroke.path, kerf))
        else:
            done.append(stroke)
    return tuple(done), tuple(findings)


def _shortened(path: Path, cuts: Lines, kerf: float) -> Path | None:
    """A slit without what the beam burns beyond its free ends; None where that is all of it."""
    if path.closed:
        return path
    # At an end that is free there is no edge but the slit's own last.
    start, end = (kerf / 2 if cuts.passing(at) < 2 else 0.0 for at in (path.start, path.end))
    length = path.length
    return path.part(start, length - end) if start + end < length else None


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
    for dart in _darts(stroke.path, moved.loops, kerf):
        yield replace(stroke, path=dart, part=Part.SLIT, glued=())
    for loop in moved.loops:
        yield replace(stroke, path=loop)


def _darts(path: Path, loops: Sequence[Path], kerf: float) -> Iterator[Path]:
    """Ways from a contour's moved path into its acute inner corners, so far that the kerf just
    reaches their points."""
    edges = path.segments
    for here, following in itertools.pairwise((*edges, edges[0])):
        arriving, leaving = here.direction_at(1.0), following.direction_at(0.0)
        turn = turn_between(arriving, leaving)
        half = (math.pi - abs(turn)) / 2
        if turn >= 0 or half <= 0 or kerf / 2 * (1 / math.sin(half) - 1) <= DEEP_CORNER:
            continue
        (x, y), (dx, dy) = here.end, (leaving[0] - arriving[0], leaving[1] - arriving[1])
        ux, uy = dx / math.hypot(dx, dy), dy / math.hypot(dx, dy)
        near, far = kerf / 2, kerf / math.sin(half)
        inward = Segment((x + near * ux, y + near * uy), (x + far * ux, y + far * uy))
        met = [
            fraction
            for loop in loops
            for edge in loop.segments
            for fraction, _, _ in crossings(inward, edge, 0.0)
        ]
        if met:
            yield Path.line(inward.point_at(min(met)), inward.start)


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


def _fine(stroke: Stroke, path: Path, kerf: float) -> Finding:
    """A detail of an outline, or a slit, is finer than the kerf.

    Measured: width and height of a detail that vanishes when the path is moved half a kerf away
    from the piece, and that is no deeper than the kerf is wide; or of a slit that is no longer than
    the kerf is wide, and comes out longer.

    Why: a beam or wheel cannot draw finer than it is wide; the detail comes out rounded. That is
    seldom seen on a box, more so in letters and lace.

    Cure: none is needed where it does not show. Else draw the detail larger, or choose a tool with
    a smaller kerf; `cutlayers trial kerf` measures yours.

    Source: the path runs half a kerf away from the piece; geometry, no source.
    """
    left, bottom, right, top = path.bounds
    return Finding(
        "finer-than-kerf",
        Severity.NOTE,
        _place(stroke, path),
        lengths(right - left, top - bottom),
        at_least(length(kerf)),
    )

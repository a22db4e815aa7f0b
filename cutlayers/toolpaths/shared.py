"""Borders that two pieces share, cut once and left where they are.

Two outlines may run along each other, as where pieces were laid edge to edge to save card. Such
a stretch has card on both sides: it becomes a slit, and the rest of both outlines one contour
about the two pieces. So the tool goes over the shared stretch once, and no kerf is taken up
there, which would have to come from one of the two pieces.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.geometry.crossings import crossings, distance_to
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.linework import plate_lines


def cut_shared_once(
    strokes: Sequence[Stroke], groups: Sequence[Sequence[int]]
) -> tuple[Stroke, ...]:
    """Strokes in which outlines that share a stretch of border are made slits and a contour.

    `groups` are those that `sharing` finds. All others stay as they are and where they stand; what
    is new takes the place of the first outline that it came from. Raises NetError where pieces
    overlap.
    """
    members = {number for group in groups for number in group}
    first = {group[0]: group for group in groups}
    done: list[Stroke] = []
    for number, stroke in enumerate(strokes):
        if number in first:
            done += _as_one([strokes[member] for member in first[number]])
        elif number not in members:
            done.append(stroke)
    return tuple(done)


def is_outline(stroke: Stroke) -> bool:
    """Whether a stroke cuts a piece out."""
    return stroke.operation is Operation.CUT and stroke.part is Part.OUTLINE and stroke.path.closed


def sharing(strokes: Sequence[Stroke]) -> list[list[int]]:
    """Groups of two or more outlines that share borders, directly or through one another, by the
    numbers of their strokes."""
    outlines = sorted(
        (stroke.path.bounds, number) for number, stroke in enumerate(strokes) if is_outline(stroke)
    )
    group = {number: number for _, number in outlines}

    def root(number: int) -> int:
        while group[number] != number:
            number = group[number]
        return number

    for place, (box, one) in enumerate(outlines):
        for other_box, other in itertools.islice(outlines, place + 1, None):
            if other_box[0] > box[2] + COINCIDENT:
                break
            if (
                other_box[1] <= box[3] + COINCIDENT
                and other_box[3] >= box[1] - COINCIDENT
                and root(one) != root(other)
                and _share_border(strokes[one].path, strokes[other].path)
            ):
                group[max(root(one), root(other))] = min(root(one), root(other))
    found: dict[int, list[int]] = {}
    for number in sorted(group):
        found.setdefault(root(number), []).append(number)
    return [members for members in found.values() if len(members) > 1]


def _share_border(one: Path, other: Path) -> bool:
    """Whether two outlines have a stretch in common, not just points."""
    left, bottom, right, top = other.bounds
    for edge in one.segments:
        box = edge.bounds()
        if (
            box[0] > right + COINCIDENT
            or box[2] < left - COINCIDENT
            or box[1] > top + COINCIDENT
            or box[3] < bottom - COINCIDENT
        ):
            continue
        for twin in other.segments:
            marks = sorted(here for here, _, _ in crossings(edge, twin, COINCIDENT))
            if len(marks) > 1 and (marks[-1] - marks[0]) * edge.length > 2 * COINCIDENT:
                # Two common points make a common stretch only where the middle is common too.
                middle = edge.point_at((marks[0] + marks[-1]) / 2)
                if distance_to(twin, middle) <= COINCIDENT:
                    return True
    return False


def _as_one(outlines: Sequence[Stroke]) -> list[Stroke]:
    """The lines of several pieces that lie edge to edge, each border once."""
    name = " + ".join(dict.fromkeys(stroke.name for stroke in outlines))
    glued = tuple(path for stroke in outlines for path in stroke.glued)
    return [
        replace(stroke, name=name, glued=glued if stroke.part is Part.OUTLINE else ())
        for stroke in plate_lines(name, [stroke.path for stroke in outlines])
    ]

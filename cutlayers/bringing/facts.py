"""What was understood of a drawing, as data for scripts: mm, mm² and degrees."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from cutlayers.bringing.folding_up import Answer
from cutlayers.bringing.lines import Drawing, Kind, Meant, Scale
from cutlayers.bringing.understanding import Understood

DIGITS = 6
CHORD = 0.01
"""mm that the outlines of panels keep to where they are curved."""


def understood_facts(understood: Understood, nets: Sequence[Answer]) -> dict[str, Any]:
    """Everything that `bring` tells, in the same order.

    `lines` has an entry for each kind and each reason for it; `closes` is None for a net without
    folds, and false where no way to fold it up was found, or nothing tests the one that was.
    """
    drawing = understood.drawing
    return {
        "scale": _scale(understood.scale),
        "size_mm": _rounded(size_of(drawing)),
        "lines": [
            {
                "kind": kind.value,
                "evidence": evidence,
                "doubtful": doubtful,
                "count": len(numbers),
                "numbers": numbers,
            }
            for (kind, evidence, doubtful), numbers in by_reason(understood.meant).items()
        ],
        "set_aside": dict(drawing.set_aside or {}),
        "cleaned": {
            **dataclasses.asdict(understood.cleaned.counts),
            "scraps": understood.scraps,
            "strokes": understood.strokes,
        },
        "boxes": understood.boxes,
        "nets": [_net(answer) for answer in nets],
    }


def by_reason(lines: Sequence[Meant]) -> dict[tuple[Kind, str, bool], list[int]]:
    """The numbers of the lines by what they are for, why, and whether that is doubtful."""
    found: dict[tuple[Kind, str, bool], list[int]] = defaultdict(list)
    for each in lines:
        found[each.kind, each.evidence, each.doubtful].append(each.line.number)
    return dict(found)


def looks_of(drawing: Drawing, numbers: Sequence[int]) -> list[str]:
    """The layers or else colours that lines of these numbers have, each once."""
    wanted = set(numbers)
    looks = (line.hints for line in drawing.lines if line.number in wanted)
    return list(dict.fromkeys(each.layer or each.colour or "no colour" for each in looks))


def size_of(drawing: Drawing) -> tuple[float, float]:
    """Width and height of all lines, in the drawing's unit."""
    bounds = [line.path.bounds for line in drawing.lines]
    lefts, lows, rights, highs = zip(*bounds, strict=True)
    return max(rights) - min(lefts), max(highs) - min(lows)


def _scale(scale: Scale) -> dict[str, Any]:
    return {"mm": scale.mm, "reason": scale.reason}


def _net(answer: Answer) -> dict[str, Any]:
    net, bent = answer.net, answer.bent
    return {
        "name": net.name,
        "count": answer.count,
        "outside": _outside(answer),
        "why_not": answer.why_not,
        "closes": answer.closes if net.hinges else None,
        "gap_mm": None if answer.folded is None else round(answer.folded.gap, DIGITS),
        "panels": [
            {
                "name": panel.name,
                "role": panel.role.value,
                "area_mm2": round(panel.outline.area, DIGITS),
                "outline": [_rounded(point) for point in panel.outline.points(CHORD)],
                "lands_on": panel.lands_on,
            }
            for panel in net.panels
        ],
        "hinges": [
            {
                "panels": [hinge.first, hinge.second],
                "length_mm": round(hinge.edge.length, DIGITS),
                "bends": hinge in bent,
                "fold_deg": answer.angle(hinge),
                "doubtful": answer.doubtful(hinge),
                "kind": hinge.operation.value,
            }
            for hinge in net.hinges
        ],
    }


def _outside(answer: Answer) -> dict[str, str] | None:
    """Which side of the drawing is the outside of the box; None where it is not folded up."""
    if answer.folded is None:
        return None
    return {"side": answer.folded.outside, "reason": answer.folded.outside_reason}


def _rounded(point: Sequence[float]) -> list[float]:
    return [round(value, DIGITS) + 0.0 for value in point]

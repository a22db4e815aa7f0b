"""How scores end: short of free edges, or as ticks to lay a ruler to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part, Stroke
from cutlayers.telling.findings import Finding, Severity, at_least
from cutlayers.telling.quantities import length as length_of
from cutlayers.toolpaths.places import Lines


def pull_back(
    strokes: Iterable[Stroke], cuts: Lines, distance: float
) -> tuple[tuple[Stroke, ...], tuple[Finding, ...]]:
    """Shorten scores by `distance` mm at each end that lies on a cut.

    Other ends stay, and so do closed scores. A score too short to lose that much keeps its
    length and is reported.
    Source: common practice; a score that reaches the edge of the card starts a tear there.
    """
    done: list[Stroke] = []
    findings: list[Finding] = []
    for stroke in strokes:
        path = stroke.path
        if path.closed or not distance:
            done.append(stroke)
            continue
        start = distance if cuts.touch(path.start) else 0.0
        end = distance if cuts.touch(path.end) else 0.0
        length = path.length
        if start + end >= length:
            done.append(stroke)
            findings.append(_too_short(stroke, length, start + end))
        elif start or end:
            done.append(replace(stroke, path=path.part(start, length - end)))
        else:
            done.append(stroke)
    return tuple(done), tuple(findings)


def end_ticks(strokes: Iterable[Stroke], length: float) -> tuple[Stroke, ...]:
    """Short drawn lines along the first and last `length` mm of each score.

    A score shorter than two ticks and a gap of one is drawn whole; so is a closed one, which
    has no ends.
    """
    return tuple(
        Stroke(Operation.DRAW, path, Part.MARK, stroke.name, stroke.fold)
        for stroke in strokes
        for path in _ticks(stroke, length)
    )


def _ticks(stroke: Stroke, length: float) -> Iterator[Path]:
    path, whole = stroke.path, stroke.path.length
    if path.closed or whole < 3 * length:
        yield path
    else:
        yield path.part(0.0, length)
        yield path.part(whole - length, whole)


def _too_short(stroke: Stroke, length: float, loss: float) -> Finding:
    """A score is too short to be pulled back from both of its ends.

    Measured: the length of a score that meets cuts at one or both ends, against what `pull_back`
    would take off it.

    Why: a score that runs right to the edge of the card weakens it there, and a tear starts from it
    when the box is folded. One so short is scored whole all the same, since a fold without a score
    goes where it likes.

    Cure: lower `pull_back` under `scoring` of the score in the profile, or fold that place with
    care.

    Source: common practice, no source.
    """
    return Finding(
        "score-too-short",
        Severity.WARNING,
        stroke.found_at(stroke.path.point_at(length / 2)),
        (length_of(length),),
        at_least(length_of(loss)),
    )

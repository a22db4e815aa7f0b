"""Rows of cuts parted by ties, fitted to the lines they stand on.

Terms: a *cut* is what the tool goes through, a *tie* the card left between two cuts. Lengths
are measured along the line, so a cut that meets a bend bends with it.

The cuts keep their length and the ties share what is left over evenly, so a row is the same
from both ends and no tie is shorter than it was asked for. Where a line turns sharply, the row
is fitted on each side of the corner with cuts that meet in it: card then tears round the
corner, not past it. On a closed line without corners the seam lies in the middle of a tie.

Source of the fit with a tie at both ends: n = ⌊(L − t)/(c + t)⌋, tie = (L − n·c)/(n + 1), from
counting n cuts and n + 1 ties; the other ends are counted alike.
"""

from __future__ import annotations

import itertools
import math
from enum import Enum

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import turn_between
from cutlayers.profile.operations import Perforation
from cutlayers.telling.lengths import MM_PER

CORNER = math.radians(30.0)
"""A turn from which a line has a corner: a tear does not follow a sharper one by itself."""

ROUNDING = 1e-9
"""mm; lets a line that holds a whole number of cuts and ties hold them despite rounding."""


class End(Enum):
    """What a row ends in."""

    TIE = "tie"
    CUT = "cut"


@frozen
class FittedRow:
    """A row fitted to a length: `count` cuts of `cut` mm, and ties of `tie` mm between and,
    where an end asks for it, beyond them."""

    count: int
    cut: float
    tie: float
    start: End
    end: End

    @property
    def ties(self) -> int:
        """How many ties there are."""
        return self.count - 1 + (self.start is End.TIE) + (self.end is End.TIE)

    def spans(self) -> list[tuple[float, float]]:
        """Where each cut begins and ends, in mm from the start of the line."""
        first = self.tie if self.start is End.TIE else 0.0
        pitch = self.cut + self.tie
        return [(first + i * pitch, first + i * pitch + self.cut) for i in range(self.count)]


@frozen
class PerforatedRow:
    """A perforated line: its cuts, and the figures for the report.

    `spans` are the cuts in mm along the line; on a closed line the first may begin before the
    line's start, and the last may lie beyond its end. `tie` is the shortest tie. `cuts_per_inch`
    is the trade's TPI, and `tie_share` the part of the line that still holds, 0…1.
    """

    path: Path
    spans: tuple[tuple[float, float], ...]
    tie: float
    cuts_per_inch: float
    tie_share: float

    def cuts(self, shorten: float) -> tuple[Path, ...]:
        """The cuts as paths in order, each shorter by `shorten` mm, half at each end that a tie
        follows: a beam of that width burns the rest."""
        length = self.path.length
        pieces = []
        for start, end in self.spans:
            first = start + (shorten / 2 if start > 0 or self.path.closed else 0.0)
            last = end - (shorten / 2 if end < length - ROUNDING or self.path.closed else 0.0)
            pieces.append(_stretch(self.path, first, last))
        return tuple(pieces)


def fit_row(length: float, how: Perforation, start: End, end: End) -> FittedRow | None:
    """Fit a row to a length in mm; None where the length holds no row.

    Ties are at least `how.tie`; only a length that would hold no cut at all gets one cut with
    ties down to `how.minimum_tie`. A length that is to end in cuts on both sides but holds no
    two of them gets two shorter ones about one tie, never one cut that would part the card.
    """
    return _fit_row(length, how.cut, how.tie, start, end) or _fit_row(
        length, how.cut, how.minimum_tie, start, end
    )


def _fit_row(length: float, cut: float, tie: float, start: End, end: End) -> FittedRow | None:
    # One tie more than cuts, as many, or one less.
    extra = (start is End.TIE) + (end is End.TIE) - 1
    count = math.floor((length - extra * tie + ROUNDING) / (cut + tie))
    if extra >= 0:
        if count < 1:
            return None
        return FittedRow(count, cut, (length - count * cut) / (count + extra), start, end)
    if count >= 2:
        return FittedRow(count, cut, (length - count * cut) / (count - 1), start, end)
    half = (length - tie) / 2
    return FittedRow(2, half, tie, start, end) if half >= tie else None


def perforate(path: Path, how: Perforation, start: End, end: End) -> PerforatedRow | None:
    """Lay a row along a line; None where the line is too short to hold one.

    `start` and `end` say what an open line ends in; a closed one has no ends. Where a leg
    between corners is too short for a row of its own, the line is fitted as if it had none.
    """
    return _by_legs(path, how, start, end) or _in_one(path, how, start, end)


def _by_legs(path: Path, how: Perforation, start: End, end: End) -> PerforatedRow | None:
    corners, length = _corners(path), path.length
    if not corners:
        return None
    if path.closed:
        bounds, ends = [*corners, corners[0] + length], [End.CUT] * (len(corners) + 1)
    else:
        bounds, ends = [0.0, *corners, length], [start, *[End.CUT] * len(corners), end]
    spans: list[tuple[float, float]] = []
    ties: list[float] = []
    for i, (low, high) in enumerate(itertools.pairwise(bounds)):
        leg = fit_row(high - low, how, ends[i], ends[i + 1])
        if leg is None:
            return None
        ties += [leg.tie] * leg.ties
        mine = [(low + first, low + last) for first, last in leg.spans()]
        if spans and ends[i] is End.CUT:
            # Two cuts that meet in a corner are one that bends round it.
            mine[0] = (spans.pop()[0], mine[0][1])
        spans += mine
    if path.closed:
        first, last = spans[0], spans.pop()
        spans[0] = (last[0] - length, first[1])
    return _row(path, spans, ties)


def _in_one(path: Path, how: Perforation, start: End, end: End) -> PerforatedRow | None:
    if not path.closed:
        fitted = fit_row(path.length, how, start, end)
        return _row(path, fitted.spans(), [fitted.tie] * fitted.ties) if fitted else None
    # Round a closed line there are as many ties as cuts, as between a tie and a cut.
    fitted = fit_row(path.length, how, End.TIE, End.CUT)
    if fitted is None:
        return None
    half = fitted.tie / 2
    spans = [(first - half, last - half) for first, last in fitted.spans()]
    return _row(path, spans, [fitted.tie] * fitted.ties)


def _row(path: Path, spans: list[tuple[float, float]], ties: list[float]) -> PerforatedRow:
    cut = sum(last - first for first, last in spans)
    pitch = cut / len(spans) + sum(ties) / len(ties)
    return PerforatedRow(
        path, tuple(spans), min(ties), MM_PER["in"] / pitch, 1.0 - cut / path.length
    )


def _corners(path: Path) -> list[float]:
    """Where a line turns sharply, in mm from its start."""
    segments = path.segments
    at = list(itertools.accumulate(segment.length for segment in segments))
    corners = [
        place
        for place, (here, following) in zip(at, itertools.pairwise(segments), strict=False)
        if _is_corner(here, following)
    ]
    if path.closed and _is_corner(segments[-1], segments[0]):
        corners.insert(0, 0.0)
    return corners


def _is_corner(here: Segment, following: Segment) -> bool:
    return abs(turn_between(here.direction_at(1.0), following.direction_at(0.0))) >= CORNER


def _stretch(path: Path, start: float, end: float) -> Path:
    """A part of a path; of a closed one also across its start, or once more round."""
    length = path.length
    if not path.closed:
        return path.part(max(start, 0.0), min(end, length))
    rounds = math.floor(start / length + ROUNDING) * length
    first, last = max(start - rounds, 0.0), end - rounds
    if last <= length + ROUNDING:
        return path.part(first, min(last, length))
    edges = (*path.part(first, length).segments, *path.part(0.0, last - length).segments)
    return Path.from_segments(edges, closed=False)

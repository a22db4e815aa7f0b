"""What lines are for by where they stand, as far as nobody has said it.

What runs round a piece is cut, what runs between two panels from border to border is a crease, what
closes inside of a panel is a hole. Common practice, no source; what is often otherwise is doubtful.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cutlayers.bringing.ends import REACH
from cutlayers.bringing.lines import DrawnLine, Kind, Meant
from cutlayers.bringing.not_folding import cuts_between
from cutlayers.bringing.standing import Stretch, Where, lengths
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point

Look = tuple[object, ...]
"""What tells lines apart to the eye."""

MOSTLY, ALL_BUT = 0.6, 0.95
"""Of a look's length, and of a line's."""

SMALL_PART = 0.2
"""Of the creases that one look has, below which another look may be something else."""

SLITS, FEW_SLITS = 1.5, 0.5
"""Of the creases' length, up to which lines between panels that look like the outline are slits;
with more than a few it is doubtful."""

LETTER_SIZE, LETTER_EDGES, LETTERS = 20.0, 7, 3
"""mm; closed lines of at least so many edges, no larger than that, of which there are so many, are
letters or a picture and no holes."""


@frozen
class Judged:
    """What is thought of a line, or of the stretches of one that is for several things."""

    kind: Kind
    evidence: str
    doubtful: bool = False


def by_place(
    looks: Mapping[Look, Sequence[DrawnLine]],
    known: Mapping[int, Kind],
    stretches: Sequence[Stretch],
) -> Iterator[Meant]:
    """Judge the lines of each look. `known` says what other lines are for."""
    at = lengths(stretches)
    sums = {look: _sum(at[line.number] for line in lines) for look, lines in looks.items()}
    creased = {
        look: _between(found)
        for look, found in sums.items()
        if _between(found) >= MOSTLY * (sum(found.values()) or math.inf)
    }
    scored = (Kind.SCORE, Kind.PERFORATE)
    creases = sum(creased.values())
    creases += sum(_between(at[number]) for number, kind in known.items() if kind in scored)
    outlined = sum(each[Where.OUTER] for each in sums.values())
    outlined += sum(at[n][Where.OUTER] for n, kind in known.items() if kind is Kind.CUT)
    others = bool(known) or len(looks) > 1
    single = _Single(stretches, at)
    for look, lines in looks.items():
        judged = None
        if others:
            judged = _look(look, sums[look], creased, creases, outlined)
        for line in lines:
            if judged is not None:
                yield Meant(line, judged.kind, judged.evidence, judged.doubtful)
            else:
                yield from single.judge(line)


def _look(
    look: Look,
    found: Mapping[Where, float],
    creased: Mapping[Look, float],
    creases: float,
    outlined: float,
) -> Judged | None:
    """What all lines of a look are for; None where each is to be judged by itself."""
    whole = sum(found.values())
    if not whole:
        return None
    if look in creased and (outlined or len(creased) > 1):
        less = creased[look] < SMALL_PART * max(creased.values())
        return Judged(Kind.SCORE, "lines of this look run between panels", less)
    if found[Where.OUTER] > 0.0:
        inside = _between(found)
        if inside <= SLITS * creases or inside <= (1.0 - ALL_BUT) * whole:
            many = inside > FEW_SLITS * creases and inside > (1.0 - ALL_BUT) * whole
            return Judged(Kind.CUT, "lines of this look run round the pieces", many)
        return None
    if found[Where.FRAME] >= MOSTLY * whole:
        return Judged(Kind.IGNORE, "lines of this look are a frame round all pieces", True)
    if found[Where.OUTSIDE] >= MOSTLY * whole:
        return Judged(Kind.IGNORE, "lines of this look stand beside the pieces", True)
    if found[Where.LOOSE] >= (1.0 - MOSTLY) * whole and outlined:
        return Judged(Kind.DRAW, "lines of this look end inside of panels", True)
    return None


class _Single:
    """Judges lines one by one."""

    def __init__(
        self, stretches: Sequence[Stretch], at: Mapping[int, Mapping[Where, float]]
    ) -> None:
        self._at = at
        self._of: dict[int, list[Stretch]] = defaultdict(list)
        for each in stretches:
            for number in each.numbers:
                self._of[number].append(each)
        self._slits = set(cuts_between(stretches))
        self._told: set[Stretch] = set()
        self._lettered: bool | None = None

    def judge(self, line: DrawnLine) -> Iterator[Meant]:
        """The line, or its parts where these are for different things."""
        mine = self._of.get(line.number, [])
        found = self._at[line.number]
        held = {where: found[where] for where in (Where.OUTER, Where.RIM, Where.FRAME)}
        held[Where.INNER] = _between(found)
        attached = sum(held.values())
        if not mine or not attached:
            yield self._loose(line, found)
            return
        main = max(held, key=lambda where: held[where])
        cut = held[Where.OUTER] + held[Where.RIM]
        most = cut if main in (Where.OUTER, Where.RIM) else held[main]
        # A crease that runs past its end may lie on the outline for a little.
        whole = attached - most <= max((1.0 - ALL_BUT) * attached, REACH)
        whole &= most >= MOSTLY * attached
        if whole and not any(each in self._slits for each in mine):
            tail = found[Where.LOOSE] > max(SMALL_PART * attached, 3.0)
            judged = self._of_where(main, line)
            yield Meant(line, judged.kind, judged.evidence, judged.doubtful or tail)
            return
        yield from self._parts(line, mine)

    def _parts(self, line: DrawnLine, mine: Sequence[Stretch]) -> Iterator[Meant]:
        judged = []
        for each in mine:
            if each in self._slits or (each.where is Where.INNER and _there_and_back(line, each)):
                judged.append(Judged(Kind.CUT, "cannot fold as it runs between panels", True))
            else:
                judged.append(self._of_where(each.where, line))
        if len({each.kind for each in judged}) == 1:
            doubtful = any(each.doubtful for each in judged)
            yield Meant(line, judged[0].kind, judged[0].evidence, doubtful)
            return
        for each, of in zip(mine, judged, strict=True):
            if each not in self._told:
                self._told.add(each)
                path = Path.from_segments((each.segment,), closed=False)
                part = DrawnLine(path, line.hints, line.number)
                yield Meant(part, of.kind, f"this part of it {of.evidence}", True)

    def _of_where(self, where: Where, line: DrawnLine) -> Judged:
        match where:
            case Where.OUTER:
                return Judged(Kind.CUT, "runs round a piece")
            case Where.RIM:
                if self._is_lettered() and _like_a_letter(line.path):
                    return Judged(Kind.DRAW, "looks like a letter inside of a panel", True)
                return Judged(Kind.CUT, "closes inside of a panel")
            case Where.INNER | Where.SHORT:
                return Judged(Kind.SCORE, "runs between two panels, from border to border")
            case Where.FRAME:
                return Judged(Kind.IGNORE, "is a frame round all pieces", True)
            case Where.LOOSE:
                return Judged(Kind.CUT, "ends inside of a panel", True)
        return Judged(Kind.IGNORE, "stands beside all pieces", True)

    def _loose(self, line: DrawnLine, found: Mapping[Where, float]) -> Meant:
        inside = found[Where.LOOSE] >= found[Where.OUTSIDE] and found[Where.LOOSE] > 0.0
        judged = self._of_where(Where.LOOSE if inside else Where.OUTSIDE, line)
        return Meant(line, judged.kind, judged.evidence, judged.doubtful)

    def _is_lettered(self) -> bool:
        if self._lettered is None:
            rims = {n for n, stretches in self._of.items() if stretches[0].where is Where.RIM}
            self._lettered = len(rims) >= LETTERS
        return self._lettered


def _sum(some: Iterable[Mapping[Where, float]]) -> dict[Where, float]:
    found = dict.fromkeys(Where, 0.0)
    for each in some:
        for where, length in each.items():
            found[where] += length
    return found


def _between(found: Mapping[Where, float]) -> float:
    return found[Where.INNER] + found[Where.SHORT]


def _like_a_letter(path: Path) -> bool:
    left, low, right, high = path.bounds
    small = max(right - left, high - low) <= LETTER_SIZE
    return small and len(path.bulges) >= LETTER_EDGES


def _there_and_back(line: DrawnLine, stretch: Stretch) -> bool:
    """Whether a line runs along a stretch more than once, as an outline does along a slit."""
    middle = stretch.segment.point_at(0.5)
    times = 0
    for segment in line.path.segments:
        left, low, right, high = segment.bounds()
        near = left - 0.1 <= middle[0] <= right + 0.1 and low - 0.1 <= middle[1] <= high + 0.1
        times += near and not segment.bulge and _beside(segment.start, segment.end, middle) < 0.05
    return times > 1


def _beside(start: Point, end: Point, point: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    return abs(dx * (point[1] - start[1]) - dy * (point[0] - start[0])) / math.hypot(dx, dy)

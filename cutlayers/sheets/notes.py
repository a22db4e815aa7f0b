"""What is printed in the waste for the maker: check rules, and the names of the pieces."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.ink import Contour, Paint
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.single_stroke import drawable, letter, text_width
from cutlayers.sheets.waste import Waste
from cutlayers.telling.colours import NOTE_INK
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.lengths import MM_PER
from cutlayers.telling.quantities import count, lengths

INK = NOTE_INK
RULE_LINE, NAME_SHARE = 0.15, 0.1
"""mm of line width, and line width of letters as a share of their capitals' height."""

RULE_MM, RULE_INCHES = 100, 4

TICKS = ((10, 2.4), (5, 1.7), (1, 1.0))
"""Every so many mm or sixteenths the tick is so long; the first that divides counts."""

INCH_TICKS = ((16, 2.4), (8, 1.9), (4, 1.4), (2, 1.0))

RULE_CAP = 1.6
RULE_TEXT_GAP = 1.2
RULE_HEIGHT = 2 * TICKS[0][1] + RULE_LINE
NAME_CAPS = (2.5, 2.0, 1.6)
"""mm; capitals of piece names, the largest that finds room."""

NAME_REACH = 25.0
"""mm; farther from its piece a name would seem to be another's."""

STANDS_FOR = 1.0
"""mm by which a name must come nearer to its piece for standing on end."""

NAME_TILES = (16.0, 4.0, 1.0)
"""mm; sides of the tiles that the search for a name's place looks through, coarse ones first."""

ROUGH = 0.2
"""mm; how far the outline of a blank may be off while places are only narrowed down."""


@frozen
class Notes:
    """Ink for the waste and what found no room there."""

    items: tuple[Paint, ...]
    findings: tuple[Finding, ...]


def notes(
    waste: Waste, pieces: Sequence[tuple[str, BaseGeometry]], sheet: int, clear: float
) -> Notes:
    """A check rule across and one up the sheet, and each piece's name beside it.

    `pieces` are names and blanks in sheet coordinates, from which the waste keeps `clear` mm;
    `sheet` is its number, for findings.
    """
    items: list[Paint] = []
    findings: list[Finding] = []
    missing = []
    for upright in (False, True):
        rule = _place_rule(waste, upright)
        if rule is None:
            missing.append("up" if upright else "across")
        else:
            items.extend(rule)
    if missing:
        findings.append(_no_room_for_rule(missing, sheet))
    unnamed = []
    for name, blank in pieces:
        ink = _place_name(waste, drawable(name), blank, clear)
        if ink is None:
            unnamed.append(name)
        else:
            items.append(ink)
    if unnamed:
        findings.append(_no_room_for_names(unnamed, sheet))
    return Notes(tuple(items), tuple(findings))


def _no_room_for_rule(missing: Sequence[str], sheet: int) -> Finding:
    """A check rule found no room in the waste of a printed sheet.

    Measured: the length and height that a rule takes, and whether the one across or the one up the
    sheet is missing.

    Why: a printer often scales a page by a per cent or two without saying so. Measured with your
    own ruler, the printed rule tells; without it a box comes out too small and nobody knows why.

    Cure: measure the rule on another sheet of the same print, or leave a strip of waste by putting
    one piece less on the sheet.

    Source: common practice, no source.
    """
    return Finding(
        "no-room-for-rule",
        Severity.NOTE,
        Subject(sheet=sheet),
        lengths(_rule_width(), RULE_HEIGHT),
        details=details(ways=tuple(missing)),
    )


def _no_room_for_names(unnamed: Sequence[str], sheet: int) -> Finding:
    """Names of pieces found no room in the waste of a printed sheet.

    Measured: how many pieces have no name printed near them, and which.

    Why: names in the waste tell the pieces apart until they are cut out and folded; pieces much
    alike are easily mixed up.

    Cure: none is needed. The picture of the sheet and the guide show which piece is which; or leave
    more room between the pieces.

    Source: common practice, no source.
    """
    return Finding(
        "no-room-for-name",
        Severity.NOTE,
        Subject(sheet=sheet),
        (count(len(unnamed)),),
        details=details(names=tuple(dict.fromkeys(unnamed))),
    )


def _rule_width() -> float:
    text = max(text_width(f"{RULE_MM} mm", RULE_CAP), text_width(f"{RULE_INCHES} in", RULE_CAP))
    return RULE_INCHES * MM_PER["in"] + RULE_TEXT_GAP + text


def _place_rule(waste: Waste, upright: bool) -> list[Paint] | None:
    """As near to the sheet's lower or left edge as there is room, and there to the corner."""
    wide, high = _rule_width() + 1.0, RULE_HEIGHT + 1.0
    wide, high = (high, wide) if upright else (wide, high)
    spots = waste.spots(wide, high)
    if not len(spots):
        return None
    keys = (spots[:, 1], spots[:, 0]) if upright else (spots[:, 0], spots[:, 1])
    x, y = map(float, spots[np.lexsort(keys)[0]])
    waste.take(x, y, wide, high)
    if upright:
        # Turned to the left: what was up points left.
        start = Transform.translation(x + 0.5 + RULE_HEIGHT / 2, y + 0.5) @ Transform.rotation(90.0)
    else:
        start = Transform.translation(x + 0.5, y + 0.5 + RULE_HEIGHT / 2)
    return [paint.transformed(start) for paint in _rule()]


def _rule() -> list[Paint]:
    """A rule from the origin to the right: millimetres above its line, inches below."""
    lines = [Path.line((0.0, 0.0), (RULE_INCHES * MM_PER["in"], 0.0))]
    for i in range(RULE_MM + 1):
        size = next(size for every, size in TICKS if i % every == 0)
        lines.append(Path.line((float(i), 0.0), (float(i), size)))
    for i in range(0, RULE_INCHES * 16 + 1, 2):
        size = next(size for every, size in INCH_TICKS if i % every == 0)
        x = i * MM_PER["in"] / 16
        lines.append(Path.line((x, 0.0), (x, -size)))
    text_x = RULE_INCHES * MM_PER["in"] + RULE_TEXT_GAP
    words = [
        *letter(f"{RULE_MM} mm", RULE_CAP, (text_x, 0.45)),
        *letter(f"{RULE_INCHES} in", RULE_CAP, (text_x, -0.45 - RULE_CAP)),
    ]
    return [_ink(lines, RULE_LINE, cap=0), _ink(words, RULE_CAP * NAME_SHARE)]


def _place_name(waste: Waste, name: str, blank: BaseGeometry, clear: float) -> Paint | None:
    """The name beside its piece, lying or standing, in the largest letters that find room."""
    if not name.strip():
        return None
    near = blank.buffer(NAME_REACH).bounds
    sizes = [(cap, text_width(name, cap) + 1.0, cap * 1.4 + 1.0) for cap in NAME_CAPS]
    _, least_wide, least_high = sizes[-1]
    for cap, wide, high in sizes:
        best: tuple[float, float, float, bool] | None = None
        for upright in (False, True):
            if best is not None and best[0] - STANDS_FOR <= clear:
                break  # no place is so much nearer
            across, up = (high, wide) if upright else (wide, high)
            spots = waste.spots(across, up, near)
            middles = spots + np.array([across / 2, up / 2])
            within = (
                (middles[:, 0] > near[0])
                & (middles[:, 0] < near[2])
                & (middles[:, 1] > near[1])
                & (middles[:, 1] < near[3])
            )
            spots, middles = spots[within], middles[within]
            if not len(spots):
                continue
            spots = spots[_nearest(blank, spots, across, up)]
            gaps = np.round(_gaps(blank, spots, across, up), 1)
            # Of places equally near, the one that stands lowest and farthest left.
            found = int(np.lexsort((spots[:, 0], spots[:, 1], gaps))[0])
            key = (float(gaps[found]), float(spots[found, 0]), float(spots[found, 1]), upright)
            if key[0] <= NAME_REACH and (best is None or key[0] < best[0] - STANDS_FOR):
                best = key
        if best is not None:
            _, x, y, upright = best
            across, up = (high, wide) if upright else (wide, high)
            waste.take(x, y, across, up)
            return _name_ink(name, cap, (x, y), across, upright)
        if not (
            waste.has_room(least_wide, least_high, near)
            or waste.has_room(least_high, least_wide, near)
        ):
            break
    return None


def _gaps(blank: BaseGeometry, spots: np.ndarray, across: float, up: float) -> np.ndarray:
    """Distances from a blank to rectangles with these lower left corners."""
    return np.asarray(shapely.distance(blank, _boxes(spots, across, up)))


def _boxes(spots: np.ndarray, across: float, up: float) -> np.ndarray:
    """Rectangles with these lower left corners."""
    x, y = spots[:, 0], spots[:, 1]
    return np.asarray(shapely.box(x, y, x + across, y + up))


def _nearest(blank: BaseGeometry, spots: np.ndarray, across: float, up: float) -> np.ndarray:
    """Indices of the spots that may be the nearest to a blank, equally near ones to a tenth of a
    mm included.

    A rectangle is nearer by at most as much as it is moved, so one of a tile speaks for the others.
    """
    left = np.arange(len(spots))
    rough = blank.simplify(ROUGH)
    for tile in NAME_TILES:
        columns, rows = np.floor(spots[left] / tile).astype(np.int64).T
        _, ones, tiles = np.unique(
            columns * 1_000_000 + rows, return_index=True, return_inverse=True
        )
        gaps = _gaps(rough, spots[left[ones]], across, up)
        left = left[(gaps <= gaps.min() + tile * 2**0.5 + 2 * ROUGH + 0.1)[tiles]]
    gaps = _gaps(rough, spots[left], across, up)
    return np.asarray(left[gaps <= gaps.min() + 2 * ROUGH + 0.1])


def _name_ink(name: str, cap: float, corner: Point, across: float, upright: bool) -> Paint:
    base = cap * 0.35 + 0.5
    if upright:
        place = Transform.translation(corner[0] + across - base, corner[1] + 0.5)
        place = place @ Transform.rotation(90.0)
    else:
        place = Transform.translation(corner[0] + 0.5, corner[1] + base)
    return _ink(letter(name, cap), cap * NAME_SHARE).transformed(place)


def _ink(paths: Sequence[Path], line_width: float, cap: int = 1) -> Paint:
    contours = tuple(Contour.of(path) for path in paths)
    return Paint(contours, stroke=INK, line_width=line_width, cap=cap, join=1)

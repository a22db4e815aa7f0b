"""The drawing of a blank for scoring: its panels, its folds by line type, and their distances."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold
from cutlayers.geometry.transforms import Point
from cutlayers.guide import drawing_words
from cutlayers.guide.by_hand import Edge, HandBlank
from cutlayers.guide.figures import FIGURE_SIZE, Figure, LineKind, Sheet, closed_cuts, overall
from cutlayers.guide.layout import Label, Rectangle, label_inside, spread, text_width
from cutlayers.telling.colours import PAGE_TINT

SCORES_HEIGHT = 150.0
"""mm; no higher, so that a drawing and the steps that belong to it share a page."""

LEADER = 4.6
"""mm from the edge of the blank to the figure of a distance."""

NO_DISTANCES = 6.0
"""mm above and left of a blank without distances there."""

NAME_SIZES = (3.4, 3.0, 2.6, 2.3)
"""mm; font sizes to try for a panel's name. 2.3 mm is 6.5 points, the least that prints well."""

LINES: tuple[LineKind, ...] = ("cut", "perforate", "away", "towards")


def score_figure(blank: HandBlank, ident: str) -> Figure:
    """Panels with their names, folds by line type, and the distances of the scores."""
    panels = [panel.name for panel in blank.net.panels]
    rows = [
        sum(len(s.rows) + len(s.joins) for s in blank.scores if s.fold is fold) for fold in Fold
    ]
    ruler = blank.ruler
    description = drawing_words.score_drawing_description(
        ruler.written(blank.width), ruler.written(blank.height), panels, rows[0], rows[1]
    )
    sheet = Sheet.of(blank, _room_for_distances(blank), SCORES_HEIGHT)
    sheet.trim()
    sheet.fill(closed_cuts(blank), PAGE_TINT)
    for kind in LINES:
        sheet.draw(kind)
    features = [
        _on_paper(sheet, feature.path) for panel in blank.net.panels for feature in panel.features
    ]
    numbered = _names(sheet, features)
    _distances(sheet)
    return sheet.figure(ident, drawing_words.score_drawing_title(blank.name), description, numbered)


def _on_paper(sheet: Sheet, path: Path) -> Rectangle:
    (x0, y0), (x1, y1) = (
        sheet.flip.apply(corner)
        for corner in ((path.bounds[0], path.bounds[3]), (path.bounds[2], path.bounds[1]))
    )
    return (x0 - 0.4, y0 - 0.4, x1 + 0.4, y1 + 0.4)


def _names(sheet: Sheet, features: Sequence[Rectangle]) -> tuple[tuple[int, str], ...]:
    """Write the panels' names in them; a number where a name does not fit."""
    numbered: list[tuple[int, str]] = []
    for panel in sheet.blank.net.panels:
        outline = [sheet.flip.apply(p) for p in panel.outline.points(0.2)]
        taken = (*features, *sheet.taken)
        label = label_inside(panel.name, outline, NAME_SIZES, taken)
        if label is None:
            count = len(numbered) + 1
            label = label_inside(str(count), outline, (3.0, 2.6, 2.3, 2.0), taken)
            numbered.append((count, panel.name))
        if label is not None:
            sheet.text(label)
    return tuple(numbered)


def _distances(sheet: Sheet) -> None:
    """Running distances of scores and perforations, along the top and down the left side."""
    blank, ruler = sheet.blank, sheet.blank.ruler
    across, down = _measured_lines(blank)
    x0, y0 = sheet.corner
    size = FIGURE_SIZE
    # Along the top the figures stand upright, since scores are often close together.
    places = sorted(across)
    room = 1.05 * size
    span = (x0 - 6, x0 + sheet.scale * blank.width + 6)
    spots = spread([x0 + sheet.scale * at for at in places], room, *span)
    for at, spot in zip(places, spots, strict=True):
        x, text = x0 + sheet.scale * at, ruler.text(at)
        wide = text_width(text, size)
        sheet.rule((x, y0 - 0.6), (x, y0 - 1.8))
        sheet.rule((x, y0 - 1.8), (spot, y0 - LEADER + 0.6))
        sheet.text(Label((text,), (spot, y0 - LEADER - wide / 2), size, turned=True))
    places = sorted(down)
    span = (y0 - 2, y0 + sheet.scale * blank.height + 4)
    spots = spread([y0 + sheet.scale * at for at in places], room, *span)
    for at, spot in zip(places, spots, strict=True):
        y, text = y0 + sheet.scale * at, ruler.text(at)
        wide = text_width(text, size)
        sheet.rule((x0 - 0.6, y), (x0 - 1.8, y))
        sheet.rule((x0 - 1.8, y), (x0 - LEADER + 0.6, spot))
        sheet.text(Label((text,), (x0 - LEADER - wide / 2, spot), size))
    overall(sheet)


def _room_for_distances(blank: HandBlank) -> Point:
    """What the figures along the left side and the top take, in mm."""
    across, down = _measured_lines(blank)

    def longest(distances: set[float]) -> float:
        texts = [blank.ruler.text(at) for at in distances]
        return max((text_width(text, FIGURE_SIZE) for text in texts), default=0.0)

    left, top = longest(down), longest(across)
    return (
        LEADER + left + 1.0 if left else NO_DISTANCES,
        LEADER + top + 1.0 if top else NO_DISTANCES,
    )


def _measured_lines(blank: HandBlank) -> tuple[set[float], set[float]]:
    """Distances of upright lines from the left edge and of level ones from the top edge."""
    across = {row.at for row in blank.perforations.down}
    down = {row.at for row in blank.perforations.across}
    for step in blank.scores:
        target = across if step.position.at_stop is Edge.LEFT else down
        target |= {row.at for row in step.rows}
    return {round(at, 6) for at in across}, {round(at, 6) for at in down}

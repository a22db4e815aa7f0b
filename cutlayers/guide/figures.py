"""The two drawings of a blank: its panels, scores and distances; and its cuts, with named points.

Drawn for paper: one unit of the drawing is 1 mm on the page, y down. Lines differ by dash and
weight, and colour only repeats what these say, so that the page can be printed in black.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from cutlayers.formats.svg import number, path_data
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.guide import words
from cutlayers.guide.by_hand import Edge, HandBlank
from cutlayers.guide.layout import (
    Label,
    Rectangle,
    beside,
    label_inside,
    spread,
    text_width,
)
from cutlayers.guide.markup import Element, add, make

PAGE_WIDTH = 178.0
"""mm; what both A4 and letter paper leave for a drawing within their margins."""

SCORES_HEIGHT, CUTS_HEIGHT = 150.0, 112.0
"""mm; no higher, so that a drawing and the steps that belong to it share a page."""

RIGHT, BOTTOM = 9.0, 8.0
"""mm right of the blank and below it, for its width and height."""

LEADER = 4.6
"""mm from the edge of the blank to the figure of a distance."""

NO_DISTANCES = 6.0
"""mm above and left of a blank without distances there: room for the letters of points."""

NAME_SIZES = (3.4, 3.0, 2.6, 2.3)
"""mm; font sizes to try for a panel's name. 2.3 mm is 6.5 points, the least that prints well."""

FIGURE_SIZE, MARK_SIZE = 2.9, 3.0

INK, BLUE, QUIET = "#1a1a1a", "#0060a0", "#5a5a5a"
"""Black, a blue and a grey; each keeps 4.5 : 1 against white (WCAG 2.2, 1.4.3) and against the
tint of the panels."""

TINT = "#f6f3ec"

Kind = Literal["cut", "away", "towards", "perforate", "trim"]

STYLES: dict[Kind, dict[str, str]] = {
    "cut": {"stroke": INK, "stroke-width": "0.5"},
    "away": {"stroke": INK, "stroke-width": "0.32", "stroke-dasharray": "3.2 1.2"},
    "towards": {"stroke": BLUE, "stroke-width": "0.42", "stroke-dasharray": "3.6 1 0.5 1 0.5 1"},
    "perforate": {"stroke": INK, "stroke-width": "0.5", "stroke-dasharray": "0.9 0.9"},
    "trim": {"stroke": QUIET, "stroke-width": "0.18"},
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with its size in mm on paper, the scale it has, and panels told by a number."""

    element: Element
    width: float
    height: float
    scale: float
    numbered: tuple[tuple[int, str], ...]


@dataclass(slots=True)
class _Sheet:
    """A drawing being made: where the blank lies on it, and what room is taken."""

    blank: HandBlank
    root: Element
    scale: float
    corner: Point
    size: tuple[float, float]
    taken: list[Rectangle] = field(default_factory=list)

    def place(self, left: float, top: float) -> Point:
        """A place on the blank, on paper."""
        return (self.corner[0] + self.scale * left, self.corner[1] + self.scale * top)

    @property
    def flip(self) -> Transform:
        """From the net's coordinates to paper."""
        x, y = self.blank.origin
        return Transform(
            xx=self.scale,
            yy=-self.scale,
            dx=self.corner[0] - self.scale * x,
            dy=self.corner[1] + self.scale * y,
        )

    def paths(self, paths: Iterable[Path], **attributes: str) -> None:
        """Draw paths of the net alike."""
        data = " ".join(path_data(path, self.flip, 3) for path in paths)
        if data:
            named = {key.replace("_", "-"): value for key, value in attributes.items()}
            add(self.root, "path", {"fill": "none", **named, "d": data})

    def rule(self, start: Point, end: Point, **attributes: str) -> None:
        """A thin line on paper."""
        (x0, y0), (x1, y1) = start, end
        add(
            self.root,
            "path",
            {
                "fill": "none",
                "stroke": QUIET,
                "stroke-width": "0.15",
                **{key.replace("_", "-"): value for key, value in attributes.items()},
                "d": f"M{number(x0, 2)} {number(y0, 2)} L{number(x1, 2)} {number(y1, 2)}",
            },
        )

    def text(self, label: Label, *, bold: bool = False, colour: str = INK) -> None:
        """Write a label and take its room."""
        x, y = label.at
        group = {"fill": colour, "font-size": number(label.size, 2), "text-anchor": "middle"}
        if bold:
            group["font-weight"] = "700"
        if label.turned:
            group["transform"] = f"rotate(-90 {number(x, 2)} {number(y, 2)})"
        first = y - (len(label.lines) - 1) * 1.15 * label.size / 2 + 0.35 * label.size
        for i, line in enumerate(label.lines):
            at = {"x": number(x, 2), "y": number(first + i * 1.15 * label.size, 2)}
            add(self.root, "text", {**group, **at}, line)
        self.taken.append(label.box)


def score_figure(blank: HandBlank, ident: str) -> Figure:
    """Panels with their names, folds by line type, and the distances of the scores."""
    panels = [panel.name for panel in blank.net.panels]
    rows = [
        sum(len(s.rows) + len(s.joins) for s in blank.scores if s.fold is fold) for fold in Fold
    ]
    ruler = blank.ruler
    sheet = _started(
        blank,
        ident,
        words.score_drawing_title(blank.name),
        words.score_drawing_description(
            ruler.written(blank.width), ruler.written(blank.height), panels, rows[0], rows[1]
        ),
        _room_for_distances(blank),
        SCORES_HEIGHT,
    )
    lines = blank.lines
    _border(sheet)
    _panels(sheet, lines)
    for kind in ("cut", "perforate", "away", "towards"):
        _draw(sheet, lines, kind)
    features = [
        _on_paper(sheet, feature.path) for panel in blank.net.panels for feature in panel.features
    ]
    numbered = _names(sheet, features)
    _distances(sheet)
    return _figure(sheet, numbered)


def cut_figure(blank: HandBlank, ident: str) -> Figure:
    """The waste hatched, the cuts, and the points that the lists name."""
    sheet = _started(
        blank,
        ident,
        words.cut_drawing_title(blank.name),
        words.cut_drawing_description(len(blank.marks), len(blank.holes)),
        (NO_DISTANCES, NO_DISTANCES),
        CUTS_HEIGHT,
    )
    lines = blank.lines
    _hatch(sheet, lines, ident)
    _border(sheet)
    _draw(sheet, lines, "away", quiet=True)
    _draw(sheet, lines, "towards", quiet=True)
    _draw(sheet, lines, "perforate")
    _draw(sheet, lines, "cut")
    _overall(sheet)
    _points(sheet, lines)
    return _figure(sheet, ())


def sample_line(kind: Kind) -> Element:
    """A short line of a kind, for the legend."""
    root = make(
        "svg",
        {"class": "sample", "viewBox": "0 0 14 3", "aria-hidden": "true", "focusable": "false"},
    )
    add(root, "path", {"fill": "none", **STYLES[kind], "d": "M0.2 1.5 L13.8 1.5"})
    return root


def _started(
    blank: HandBlank, ident: str, title: str, description: str, corner: Point, height: float
) -> _Sheet:
    scale = min(
        1.0,
        (PAGE_WIDTH - corner[0] - RIGHT) / blank.width,
        (height - corner[1] - BOTTOM) / blank.height,
    )
    size = (corner[0] + scale * blank.width + RIGHT, corner[1] + scale * blank.height + BOTTOM)
    root = make(
        "svg",
        {
            "class": "blank",
            "viewBox": f"0 0 {number(size[0], 2)} {number(size[1], 2)}",
            "width": f"{number(size[0], 2)}mm",
            "role": "img",
            "aria-labelledby": f"{ident}-title {ident}-desc",
        },
    )
    add(root, "title", {"id": f"{ident}-title"}, title)
    add(root, "desc", {"id": f"{ident}-desc"}, description)
    return _Sheet(blank, root, scale, corner, size)


def _figure(sheet: _Sheet, numbered: tuple[tuple[int, str], ...]) -> Figure:
    return Figure(sheet.root, *sheet.size, sheet.scale, numbered)


def _border(sheet: _Sheet) -> None:
    x, y = sheet.corner
    add(
        sheet.root,
        "rect",
        {
            "x": number(x, 2),
            "y": number(y, 2),
            "width": number(sheet.scale * sheet.blank.width, 2),
            "height": number(sheet.scale * sheet.blank.height, 2),
            "fill": "none",
            **STYLES["trim"],
        },
    )


def _panels(sheet: _Sheet, lines: Sequence[Stroke]) -> None:
    sheet.paths(
        [s.path for s in lines if s.operation is Operation.CUT and s.path.closed],
        fill=TINT,
        fill_rule="evenodd",
    )


def _hatch(sheet: _Sheet, lines: Sequence[Stroke], ident: str) -> None:
    """Slanted lines over what falls off."""
    root = sheet.root
    pattern = add(
        add(root, "defs", {}),
        "pattern",
        {
            "id": f"{ident}-hatch",
            "patternUnits": "userSpaceOnUse",
            "width": "2",
            "height": "2",
            "patternTransform": "rotate(45)",
        },
    )
    add(pattern, "path", {"d": "M0 0 L0 2", "stroke": "#9a9a9a", "stroke-width": "0.3"})
    x, y = sheet.blank.origin
    whole = Path.rectangle(sheet.blank.width, sheet.blank.height, (x, y - sheet.blank.height))
    closed = [s.path for s in lines if s.operation is Operation.CUT and s.path.closed]
    sheet.paths([whole, *closed], fill=f"url(#{ident}-hatch)", fill_rule="evenodd")
    sheet.paths(closed, fill="#ffffff", fill_rule="evenodd")


def _draw(sheet: _Sheet, lines: Sequence[Stroke], kind: Kind, *, quiet: bool = False) -> None:
    style = dict(STYLES[kind])
    if quiet:
        style |= {"stroke": "#8a8a8a", "stroke-width": "0.18"}
    sheet.paths([s.path for s in lines if _kind(s) == kind], **style)


def _kind(stroke: Stroke) -> Kind | None:
    match stroke.operation:
        case Operation.CUT:
            return "cut"
        case Operation.PERFORATE:
            return "perforate"
        case Operation.SCORE:
            return "towards" if stroke.fold is Fold.VALLEY else "away"
        case _:
            return None


def _on_paper(sheet: _Sheet, path: Path) -> Rectangle:
    (x0, y0), (x1, y1) = (
        sheet.flip.apply(corner)
        for corner in ((path.bounds[0], path.bounds[3]), (path.bounds[2], path.bounds[1]))
    )
    return (x0 - 0.4, y0 - 0.4, x1 + 0.4, y1 + 0.4)


def _names(sheet: _Sheet, features: Sequence[Rectangle]) -> tuple[tuple[int, str], ...]:
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


def _distances(sheet: _Sheet) -> None:
    """Running distances of scores and perforations, along the top and down the left side."""
    blank, ruler = sheet.blank, sheet.blank.ruler
    across, down = _told(blank)
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
    _overall(sheet)


def _room_for_distances(blank: HandBlank) -> Point:
    """What the figures along the left side and the top take, in mm."""
    across, down = _told(blank)

    def longest(distances: set[float]) -> float:
        texts = [blank.ruler.text(at) for at in distances]
        return max((text_width(text, FIGURE_SIZE) for text in texts), default=0.0)

    left, top = longest(down), longest(across)
    return (
        LEADER + left + 1.0 if left else NO_DISTANCES,
        LEADER + top + 1.0 if top else NO_DISTANCES,
    )


def _told(blank: HandBlank) -> tuple[set[float], set[float]]:
    """Distances of upright lines from the left edge and of level ones from the top edge."""
    across = {row.at for row in blank.perforations.down}
    down = {row.at for row in blank.perforations.across}
    for step in blank.scores:
        target = across if step.lie.at_stop is Edge.LEFT else down
        target |= {row.at for row in step.rows}
    return {round(at, 6) for at in across}, {round(at, 6) for at in down}


def _overall(sheet: _Sheet) -> None:
    """Width and height of the blank, below it and on its right."""
    blank, ruler, size = sheet.blank, sheet.blank.ruler, FIGURE_SIZE
    (x0, y0), (x1, y1) = sheet.corner, sheet.place(blank.width, blank.height)
    for start, end, text, turned in (
        ((x0, y1 + 4.2), (x1, y1 + 4.2), ruler.written(blank.width), False),
        ((x1 + 4.2, y0), (x1 + 4.2, y1), ruler.written(blank.height), True),
    ):
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        half = text_width(text, size) / 2 + 1
        if turned:
            sheet.rule(start, (middle[0], middle[1] - half))
            sheet.rule((middle[0], middle[1] + half), end)
        else:
            sheet.rule(start, (middle[0] - half, middle[1]))
            sheet.rule((middle[0] + half, middle[1]), end)
        for x, y in (start, end):
            sheet.rule((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), stroke=INK, stroke_width="0.25")
            if turned:
                sheet.rule((x1 + 0.8, y), (x + 1.2, y))
            else:
                sheet.rule((x, y1 + 0.8), (x, y + 1.2))
        sheet.text(Label((text,), middle, size, turned))


def _points(sheet: _Sheet, lines: Sequence[Stroke]) -> None:
    """A dot and a letter at every named point, a cross at the middle of every hole."""
    blank = sheet.blank
    drawn = [
        (sheet.flip.apply(segment.start), sheet.flip.apply(segment.end))
        for stroke in lines
        if stroke.operation is not Operation.DRAW
        for segment in stroke.path.flattened(0.5).segments
    ]
    within = (0.5, 0.5, sheet.size[0] - 0.5, sheet.size[1] - 0.5)
    spots = [(mark, sheet.place(mark.left, mark.top)) for mark in blank.marks]
    dots = [(x - 0.7, y - 0.7, x + 0.7, y + 0.7) for _, (x, y) in spots]
    sheet.taken.extend(dots)
    for _, (x, y) in spots:
        add(
            sheet.root,
            "circle",
            {"cx": number(x, 2), "cy": number(y, 2), "r": "0.6", "fill": BLUE},
        )
    for hole in blank.holes:
        x, y = sheet.place(hole.left, hole.top)
        reach = sheet.scale * hole.diameter / 2 + 1
        sheet.rule((x - reach, y), (x + reach, y), stroke=INK)
        sheet.rule((x, y - reach), (x, y + reach), stroke=INK)
        sheet.taken.append((x - reach, y - reach, x + reach, y + reach))
    for mark, spot in spots:
        label = beside(mark.name, spot, MARK_SIZE, sheet.taken, drawn, within)
        sheet.text(label, bold=True, colour=BLUE)

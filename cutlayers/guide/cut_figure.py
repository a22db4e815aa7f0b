"""The drawing of a blank for cutting: what falls off hatched, the cuts, and the named points."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.guide import drawing_words
from cutlayers.guide.by_hand import HandBlank
from cutlayers.guide.figures import PENS, Figure, Sheet, closed_cuts, overall
from cutlayers.guide.layout import beside
from cutlayers.pictures.scene import Hatch, Pen, Shape
from cutlayers.telling.colours import PAGE_BLUE, PAGE_CREASE, PAGE_INK, PAGE_WASTE, PAGE_WHITE

CUTS_HEIGHT = 112.0
"""mm; no higher, so that a drawing and the steps that belong to it share a page."""

ROOM = 6.0
"""mm above and left of the blank: room for the letters of points."""

MARK_SIZE = 3.0
"""mm; font size of a point's letter."""

DOT = 0.6
"""mm; radius of a point."""

WASTE, PAPER = Hatch(PAGE_WASTE, 0.3, 2.0), PAGE_WHITE
FOLDED = Pen(PAGE_CREASE, 0.18)
"""Folds in this drawing, which only tell the parts of the blank apart."""

CROSS = Pen(PAGE_INK, 0.15)


def cut_figure(blank: HandBlank, ident: str) -> Figure:
    """The waste hatched, the cuts, and the points that the lists name."""
    sheet = Sheet.of(blank, (ROOM, ROOM), CUTS_HEIGHT)
    x, y = blank.origin
    whole = Path.rectangle(blank.width, blank.height, (x, y - blank.height))
    closed = closed_cuts(blank)
    sheet.fill([whole, *closed], WASTE)
    sheet.fill(closed, PAPER)
    sheet.trim()
    sheet.draw("away", replace(FOLDED, dash=PENS["away"].dash))
    sheet.draw("towards", replace(FOLDED, dash=PENS["towards"].dash))
    sheet.draw("perforate")
    sheet.draw("cut")
    overall(sheet)
    _points(sheet)
    title = drawing_words.cut_drawing_title(blank.name)
    description = drawing_words.cut_drawing_description(len(blank.marks), len(blank.holes))
    return sheet.figure(ident, title, description)


def _points(sheet: Sheet) -> None:
    """A dot and a letter at every named point, a cross at the middle of every hole."""
    blank = sheet.blank
    drawn = [
        (sheet.flip.apply(segment.start), sheet.flip.apply(segment.end))
        for stroke in blank.lines
        if stroke.operation is not Operation.DRAW
        for segment in stroke.path.flattened(0.5).segments
    ]
    within = (0.5, 0.5, sheet.size[0] - 0.5, sheet.size[1] - 0.5)
    spots = [(mark, sheet.place(mark.left, mark.top)) for mark in blank.marks]
    dots = [(x - 0.7, y - 0.7, x + 0.7, y + 0.7) for _, (x, y) in spots]
    sheet.taken.extend(dots)
    for _, (x, y) in spots:
        sheet.items.append(Shape((Path.circle((x, y), DOT),), PAGE_BLUE))
    for hole in blank.holes:
        x, y = sheet.place(hole.left, hole.top)
        reach = sheet.scale * hole.diameter / 2 + 1
        sheet.rule((x - reach, y), (x + reach, y), CROSS)
        sheet.rule((x, y - reach), (x, y + reach), CROSS)
        sheet.taken.append((x - reach, y - reach, x + reach, y + reach))
    for mark, spot in spots:
        label = beside(mark.name, spot, MARK_SIZE, sheet.taken, drawn, within)
        sheet.text(label, bold=True, colour=PAGE_BLUE)

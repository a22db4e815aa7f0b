"""A page with a picture of every style: the flat blank beside the folded box."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from lxml import etree

from cutlayers.box import Box, build
from cutlayers.construction.style import Card, Style
from cutlayers.formats.png import write_png
from cutlayers.formats.svg import SVG_NAMESPACE, as_bytes, number
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Fold, Operation, Part, Stroke
from cutlayers.pictures.folded import View, draw_views, drawn, usual_views

PAGE = "README.md"
"""The page's name: what code hosts and editors show first in a folder."""

CALIPER = 0.3
"""mm; card of about 250 g/m², which most examples suit."""

CHORD = 0.05
"""mm between an arc and the chords that it is drawn with."""

GAP, MARGIN = 10.0, 6.0
"""mm between the blanks of one box and round all of them, before they are scaled."""

HEIGHT = 90.0
"""mm; how high a picture is."""

WIDEST = 120.0
"""mm; a row of blanks that would be wider is drawn smaller."""

PIXELS_PER_MM = 5.0
"""Large enough to read on a screen, small enough to keep many."""

CARD = "#FFFFFF"
SHADE = "#C9C5BC"
LINES: dict[tuple[Operation, Fold | None], tuple[str, float, str]] = {
    (Operation.CUT, None): ("#000000", 0.5, ""),
    (Operation.SCORE, Fold.MOUNTAIN): ("#0072B2", 0.4, "2.6 1.2"),
    (Operation.SCORE, Fold.VALLEY): ("#D55E00", 0.4, "2.6 0.8 0.5 0.8"),
    (Operation.PERFORATE, None): ("#009E73", 0.45, "1 0.7"),
    (Operation.DRAW, None): ("#CC79A7", 0.4, "0.4 0.9"),
}
"""Colour, width in mm and dashes. Colours: Okabe and Ito, Color Universal Design; the dashes tell
the lines apart without them."""

KEY = (
    "Left the blank, its printed side up: cut lines are solid black, mountain folds dashed blue, "
    "valley folds dash-dotted vermillion, perforations short-dashed green. "
    "Right the box, half folded and finished."
)


def gallery(all_styles: Iterable[Style]) -> dict[str, bytes]:
    """The gallery's files, name → content: a page and one picture a style.

    Every style is shown with its example sizes in card of `CALIPER`. The same styles give the
    same bytes.
    """
    files: dict[str, bytes] = {}
    rows = ["# Styles", "", KEY, ""]
    for style in all_styles:
        dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})
        picture = style_picture(style, dims, Card(CALIPER))
        files[f"{style.name}.png"] = write_png(picture, _pixels(picture))
        rows += [f"## {style.name}", "", f"{style.summary[0].upper()}{style.summary[1:]}."]
        if style.like:
            rows[-1] += f" Like {style.like}."
        rows += ["", f"![{style.name}: the blank, and the box folded]({style.name}.png)", ""]
    files[PAGE] = "\n".join(rows).encode()
    return files


def style_picture(style: Style, dims: object, card: Card) -> bytes:
    """One SVG picture: the blanks of a box on the left, the box folded on the right."""
    box = build(style, dims, card)
    flat = _blanks(style.name, box)
    folded = draw_views(style.name, [drawn(view) for view in _views(box)], height=HEIGHT)
    parts = [etree.fromstring(flat), etree.fromstring(folded)]
    widths = [_width(part) for part in parts]
    root = etree.Element(
        "svg",
        {
            "version": "1.1",
            "width": f"{number(sum(widths))}mm",
            "height": f"{number(HEIGHT)}mm",
            "viewBox": f"0 0 {number(sum(widths))} {number(HEIGHT)}",
        },
        nsmap={None: SVG_NAMESPACE},
    )
    etree.SubElement(root, "title").text = f"{style.name}: {style.summary}"
    etree.SubElement(root, "rect", {"width": "100%", "height": "100%", "fill": "#F4F3EF"})
    at = 0.0
    for part, width in zip(parts, widths, strict=True):
        part.set("x", number(at))
        part.set("width", number(width))
        part.set("height", number(HEIGHT))
        root.append(part)
        at += width
    return as_bytes(root)


def _views(box: Box) -> tuple[View, ...]:
    """The usual views; of several pieces only apart and together, of a flat one only itself."""
    views = usual_views(box)
    if len(box.blanks) > 1:
        return views[-2:]
    return views if box.nets[0].hinges else (replace(views[-1], caption=""),)


def _pixels(picture: bytes) -> int:
    return round(_width(etree.fromstring(picture)) * PIXELS_PER_MM)


def _width(picture: etree._Element) -> float:
    return float(str(picture.get("width")).removesuffix("mm"))


def _blanks(title: str, box: Box) -> bytes:
    """The blanks side by side, all at one scale, as an SVG picture `HEIGHT` mm high."""
    boxes = [net.bounds for net in box.nets]
    widths = [right - left for left, _, right, _ in boxes]
    tall = max(top - bottom for _, bottom, _, top in boxes)
    wide = sum(widths) + GAP * (len(boxes) - 1)
    scale = min((HEIGHT - 2 * MARGIN) / tall, (WIDEST - 2 * MARGIN) / wide)
    width = wide * scale + 2 * MARGIN
    root = etree.Element(
        "svg",
        {
            "width": f"{number(width)}mm",
            "height": f"{number(HEIGHT)}mm",
            "viewBox": f"0 0 {number(width)} {number(HEIGHT)}",
        },
        nsmap={None: SVG_NAMESPACE},
    )
    etree.SubElement(root, "title").text = f"{title}, flat"
    at = MARGIN
    for blank, (left, bottom, right, top) in zip(box.blanks, boxes, strict=True):
        floor = (HEIGHT + (top - bottom) * scale) / 2
        page = (scale, at - left * scale, floor + bottom * scale)
        contours = [line for line in blank.lines if line.part in (Part.OUTLINE, Part.OPENING)]
        _fill(root, [line.path for line in contours], page)
        for stroke in sorted(blank.lines, key=lambda line: line.operation is Operation.CUT):
            _draw(root, stroke, page)
        at += (right - left + GAP) * scale
    return as_bytes(root)


def _fill(root: etree._Element, cuts: Sequence[Path], page: tuple[float, float, float]) -> None:
    data = " ".join(_data(path, page) for path in cuts)
    for dx, dy, colour in ((0.7, 0.9, SHADE), (0.0, 0.0, CARD)):
        attributes = {"d": data, "fill": colour, "fill-rule": "evenodd"}
        if dx:
            attributes["transform"] = f"translate({number(dx)} {number(dy)})"
        etree.SubElement(root, "path", attributes)


def _draw(root: etree._Element, stroke: Stroke, page: tuple[float, float, float]) -> None:
    fold = stroke.fold if stroke.operation is Operation.SCORE else None
    colour, width, dash = LINES[stroke.operation, fold]
    attributes = {
        "d": _data(stroke.path, page),
        "fill": "none",
        "stroke": colour,
        "stroke-width": number(width),
        "stroke-linejoin": "round",
    }
    if dash:
        attributes["stroke-dasharray"] = dash
    etree.SubElement(root, "path", attributes)


def _data(path: Path, page: tuple[float, float, float]) -> str:
    scale, left, base = page
    words = [
        f"{number(left + scale * x)} {number(base - scale * y)}" for x, y in path.points(CHORD)
    ]
    return f"M{' L'.join(words)}{' Z' if path.closed else ''}"

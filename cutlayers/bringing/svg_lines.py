"""The lines of an SVG file, with what it says of each.

Nothing in the file is run or fetched; pictures and text are counted and left aside. Filled shapes
without a line round them are art, unless the file has nothing else. Source: SVG 1.1, chapters 5
(structure), 7 (coordinates), 8 and 9 (paths, shapes) and 11 (painting); SVG 2, section 13.5.6.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from cutlayers.artwork.svg_figure import SVG_NAMESPACE, motion
from cutlayers.artwork.svg_outlines import (
    LARGEST,
    coordinate,
    count_steps,
    length,
    path_data,
)
from cutlayers.artwork.svg_safety import XLINK_HREF, parse_svg, refuse_harm
from cutlayers.artwork.svg_style import (
    INHERITED,
    Style,
    StyleSheet,
    SvgTooRich,
    given_style,
    style_sheet,
)
from cutlayers.bringing.curves import Curve
from cutlayers.bringing.drawn_lines import lines_of
from cutlayers.bringing.limits import MOST_EDGES, too_many
from cutlayers.bringing.lines import Drawing, DrawnText, Hints
from cutlayers.bringing.svg_curves import curves_in
from cutlayers.bringing.svg_looks import LONGEST_NAME, dashes_of, is_clear, names_of, paint_of
from cutlayers.bringing.svg_page import Page, page_of, view_box
from cutlayers.frozen import frozen
from cutlayers.geometry.transforms import Transform
from cutlayers.reading.markup import local_name, on_its_line
from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from lxml import etree

PICTURES = {"image": "picture", "feImage": "picture", "foreignObject": "text"}
"""What is taken out before the file is looked at, and what it counts as."""

TEXTS = {"text", "tspan", "textPath", "tref", "flowRoot", "altGlyph"}

UNDRAWN = {"defs", "title", "desc", "metadata", "style", "symbol", "linearGradient", "view",
           "radialGradient", "pattern", "clipPath", "mask", "filter", "marker", "cursor",
           "font", "font-face", "color-profile", "animate", "animateTransform", "set",
           "animateMotion", "namedview"}  # fmt: skip

SHAPES = {"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}


@frozen
class Around:
    """What an element has from those around it."""

    onto: Transform
    style: Style
    layer: str = ""
    said_layer: bool = False
    group: tuple[str, ...] = ()
    shown: bool = True


@frozen
class Found:
    """A shape's subpath, in the drawing's units with y up."""

    curve: Curve
    hints: Hints
    stroked: bool


def read_svg(content: bytes) -> Drawing:
    """A drawing from an SVG's bytes. Raises ValueRefused."""
    root = parse_svg(content, bare_doctype=True)
    aside: Counter[str] = Counter()
    _take_out(root, aside)
    refuse_harm(root)
    passed_over: list[str] = []
    reader = _Reader(root, style_sheet(root, passed_over), aside)
    if passed_over:
        aside["rule of a style sheet"] += len(passed_over)
    page = page_of(root)
    around = Around(page.onto, INHERITED)
    found = list(reader.walk(root, around))
    return _drawing(found, reader, page)


def _drawing(found: list[Found], reader: _Reader, page: Page) -> Drawing:
    aside = reader.aside
    if any(each.stroked for each in found):
        aside["filled shape"] += sum(not each.stroked for each in found)
        found = [each for each in found if each.stroked]
    scale = page.scale
    lines = lines_of([(each.curve, each.hints) for each in found], scale, aside)
    return Drawing(
        lines,
        scale,
        () if scale else page.candidates(lines),
        tuple(reader.texts),
        {name: count for name, count in sorted(aside.items()) if count},
    )


def _take_out(root: etree._Element, aside: Counter[str]) -> None:
    """Pictures and pages inside are never looked into; a link is a group like any other."""
    for element in list(root.iter()):
        name = local_name(element)
        if name == "a":
            element.tag = f"{{{SVG_NAMESPACE}}}g"
            for key in list(element.attrib):
                if str(key).rpartition("}")[2] in ("href", "target"):
                    del element.attrib[key]
        elif name in PICTURES and (parent := element.getparent()) is not None:
            aside[PICTURES[name]] += 1
            parent.remove(element)


class _Reader:
    """Walks the tree; what comes from further out is handed down as an argument."""

    def __init__(self, root: etree._Element, sheet: StyleSheet, aside: Counter[str]) -> None:
        self.texts: list[DrawnText] = []
        self.aside = aside
        self._sheet = sheet
        self._edges = 0
        self._root = root
        self._by_id: Mapping[str, etree._Element] = {
            str(element.get("id")): element for element in root.iter() if element.get("id")
        }
        self._hints: dict[Hints, Hints] = {}

    def walk(self, element: etree._Element, around: Around) -> Iterator[Found]:
        """All shapes of an element and inside it."""
        with on_its_line(element):
            try:
                yield from self._walk(element, around)
            except SvgTooRich as rich:
                raise ValueRefused(f"has {rich.why}, which is not understood here") from None

    def _walk(self, element: etree._Element, around: Around) -> Iterator[Found]:
        name, tag = local_name(element), str(element.tag)
        if name in UNDRAWN or not (tag == name or tag.startswith(f"{{{SVG_NAMESPACE}}}")):
            return
        given = given_style(element, self._sheet)
        for key in ("clip-path", "mask"):
            if given.get(key, "none") not in ("none", ""):
                self.aside[key.replace("-", " ")] += 1
        style = {
            key: given[key] if given.get(key, "inherit") != "inherit" else before
            for key, before in around.style.items()
        }
        shown = around.shown and given.get("display") != "none" and not is_clear(given, "opacity")
        onto = around.onto @ motion(str(element.get("transform") or ""))
        here = Around(onto, style, around.layer, around.said_layer, around.group, shown)
        if name in ("svg", "g", "switch"):
            if name == "svg" and element is not self._root:
                here = self._inner_page(element, here, element)
            here = here if element is self._root else _in_group(element, here)
            # Of a switch's children the first is shown whose conditions hold; all may.
            for child in element[:1] if name == "switch" else element:
                yield from self.walk(child, here)
        elif name == "use":
            yield from self._used(element, here)
        elif name in TEXTS:
            self._text(element, here)
        elif name in SHAPES:
            yield from self._shape(element, here)

    def _used(self, element: etree._Element, here: Around) -> Iterator[Found]:
        target = self._by_id.get(
            str(element.get("href") or element.get(XLINK_HREF) or "").strip()[1:]
        )
        if target is None:
            self.aside["reference to nothing"] += 1
            return
        shift = Transform.translation(coordinate(element, "x"), coordinate(element, "y"))
        inside = _in_group(element, _moved(here, here.onto @ shift))
        if local_name(target) == "symbol":
            inside = _in_group(target, self._inner_page(target, inside, element))
            for child in target:
                yield from self.walk(child, inside)
        else:
            yield from self.walk(target, inside)

    def _inner_page(
        self, element: etree._Element, here: Around, sized_by: etree._Element
    ) -> Around:
        """A nested svg or a symbol: its viewBox is fitted into its width and height."""
        onto = here.onto
        if element is sized_by:
            onto = onto @ Transform.translation(coordinate(element, "x"), coordinate(element, "y"))
        box = view_box(element)
        sides = [sized_by.get(side) or element.get(side) or "" for side in ("width", "height")]
        if box is None or any(not str(side) or str(side).endswith("%") for side in sides):
            return _moved(here, onto)
        wide, high = (length(str(side), "a size") for side in sides)
        left, top, units_wide, units_high = box
        by = min(wide / units_wide, high / units_high)
        if by <= 0:
            return here
        dx, dy = (wide - by * units_wide) / 2.0, (high - by * units_high) / 2.0
        fit = Transform(xx=by, yy=by, dx=dx - by * left, dy=dy - by * top)
        return _moved(here, onto @ fit)

    def _text(self, element: etree._Element, here: Around) -> None:
        """A text where its first letter stands; how it looks is nobody's business here."""
        self.aside["text"] += 1
        if not here.shown:
            return
        placed = next((each for each in element.iter() if each.get("x") and each.get("y")), element)
        text = " ".join("".join(map(str, element.itertext())).split())[:LONGEST_NAME]
        try:
            at = tuple(
                length(str(placed.get(key) or "0").split()[0].split(",")[0], key)
                for key in ("x", "y")
            )
        except (SvgTooRich, IndexError):
            return
        if text:
            self.texts.append(DrawnText(text, here.onto.apply((at[0], at[1]))))

    def _shape(self, element: etree._Element, here: Around) -> Iterator[Found]:
        try:
            data = path_data(element)
        except SvgTooRich:
            self.aside["shape without a size of its own"] += 1
            return
        if not data.strip():
            self.aside["line without length"] += 1
            return
        if not here.shown or here.style["visibility"] != "visible":
            self.aside["hidden line"] += 1
            return
        paint, filled = here.style["stroke"], here.style["fill"].lower() != "none"
        stroked = paint.lower() not in ("none", "transparent") and not is_clear(
            here.style, "stroke-opacity"
        )
        if not stroked and (not filled or is_clear(here.style, "fill-opacity")):
            self.aside["hidden line"] += 1
            return
        # A number and its letter at most make an edge; curves are counted once they are arcs.
        self._edges += count_steps(data, 7 * MOST_EDGES) // 7
        if self._edges > MOST_EDGES:
            raise too_many()
        hints = self._said(element, here, paint if stroked else here.style["fill"], stroked)
        for curve in curves_in(data):
            placed = curve.transformed(here.onto)
            if not all(abs(x) <= LARGEST and abs(y) <= LARGEST for x, y in placed.points):
                raise ValueRefused("has a point far outside of any picture")
            yield Found(placed, hints, stroked)

    def _said(self, element: etree._Element, here: Around, paint: str, stroked: bool) -> Hints:
        width = dash = None
        grown = math.sqrt(abs(here.onto.determinant))
        if stroked:
            try:
                width = length(here.style["stroke-width"], "stroke-width") * grown
                dash = dashes_of(here.style["stroke-dasharray"], grown)
            except SvgTooRich:
                pass
        own = names_of(element)
        hints = Hints(
            layer=here.layer,
            colour=paint_of(paint, here.style["color"]),
            dash=dash or (),
            width=None if width is None else round(width, 9),
            group=here.group,
            name=own[0] if own else "",
        )
        return self._hints.setdefault(hints, hints)


def _moved(around: Around, onto: Transform) -> Around:
    return Around(onto, around.style, around.layer, around.said_layer, around.group, around.shown)


def _in_group(element: etree._Element, around: Around) -> Around:
    """Inside of a group: a layer is the innermost one that says it is, or else the outermost that
    has a name."""
    names = names_of(element)
    if not names:
        return around
    layer, said = around.layer, around.said_layer
    if any(str(key).rpartition("}")[2] == "groupmode" for key in element.attrib):
        layer, said = names[0], True
    elif not said and not layer:
        layer = names[0]
    return Around(around.onto, around.style, layer, said, (*around.group, *names), around.shown)

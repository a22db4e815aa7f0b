"""Scenes as SVG: a file of its own, or a part of a page of HTML.

Source: SVG 1.1, chapters 8 (paths), 11 (painting), 13 (gradients and patterns), 15 (filters).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING

from cutlayers.formats.svg import SVG_NAMESPACE, as_bytes, matrix, number, path_data
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.lettering.single_stroke import drawable, letter
from cutlayers.pictures.scene import (
    LINE_HEIGHT,
    Chain,
    Fade,
    Group,
    Hatch,
    Item,
    Label,
    Outline,
    Pen,
    Print,
    Scene,
    Shape,
)

if TYPE_CHECKING:
    from lxml import etree

DECIMALS = 3
"""1 µm is finer than any screen."""

WEIGHT = 0.12
"""Width of the strokes that letters are written in, as a share of the capitals' height."""


def write_svg(scene: Scene) -> bytes:
    """A scene as an SVG file, all text as strokes. The same scene gives the same bytes."""
    writer = _Writer(SVG_NAMESPACE)
    width, height = number(scene.width, DECIMALS), number(scene.height, DECIMALS)
    root = writer.make(
        "svg",
        {
            "version": "1.1",
            "width": f"{width}mm",
            "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}",
            "role": "img",
        },
        writer.make("title", {}, scene.title),
    )
    writer.fill(root, scene)
    return as_bytes(root)


def svg_element(scene: Scene, ident: str, attributes: Mapping[str, str]) -> etree._Element:
    """A scene as an element of a page; `ident` begins its ids, which must differ in the page.

    `attributes` are those of the element that depend on the page: class, width, or to be hidden.
    A scene with a title is named by it, and told by its description, to who cannot see it.
    """
    writer = _Writer(ident=ident, typed=True)
    view = f"0 0 {number(scene.width, DECIMALS)} {number(scene.height, DECIMALS)}"
    named: dict[str, str] = {}
    titles = []
    if scene.title:
        named = {"role": "img", "aria-labelledby": f"{ident}-title"}
        titles.append(writer.make("title", {"id": f"{ident}-title"}, scene.title))
    if scene.description:
        named["aria-labelledby"] += f" {ident}-desc"
        titles.append(writer.make("desc", {"id": f"{ident}-desc"}, scene.description))
    root = writer.make("svg", {**attributes, "viewBox": view, **named}, *titles)
    writer.fill(root, scene)
    return root


def inline_svg(scene: Scene, ident: str, attributes: Mapping[str, str]) -> str:
    """`svg_element` as text to be set into a page."""
    from lxml import etree

    return etree.tostring(svg_element(scene, ident, attributes), encoding="unicode")


class _Writer:
    """Makes elements; gradients, patterns and filters are collected and made once each."""

    def __init__(self, namespace: str = "", ident: str = "", *, typed: bool = False) -> None:
        from lxml import etree

        self._element = etree.Element
        self._space = f"{{{namespace}}}" if namespace else ""
        self._nsmap = {None: namespace} if namespace else None
        self._prefix = f"{ident}-" if ident else ""
        self._typed = typed
        self._shared: dict[object, tuple[str, etree._Element]] = {}

    def make(
        self, tag: str, attributes: Mapping[str, str], *inside: etree._Element | str
    ) -> etree._Element:
        """An element with its attributes in order, and elements or one text inside."""
        element = self._element(f"{self._space}{tag}", dict(attributes), self._nsmap)
        for each in inside:
            if isinstance(each, str):
                element.text = each
            else:
                element.append(each)
        return element

    def fill(self, root: etree._Element, scene: Scene) -> None:
        """Append what a scene shows."""
        items = [self._item(item, Transform()) for item in scene.items]
        if self._shared:
            root.append(self.make("defs", {}, *(each for _, each in self._shared.values())))
        if scene.ground is not None:
            whole = {"width": "100%", "height": "100%", "fill": scene.ground}
            root.append(self.make("rect", whole))
        root.extend(each for each in items if each is not None)

    def _item(self, item: Item, place: Transform) -> etree._Element | None:
        match item:
            case Shape():
                return self._shape(item, place @ item.onto)
            case Print():
                return self._print(item, place @ item.onto)
            case Label():
                return (
                    self._typed_label(item, place)
                    if self._typed and item.typed
                    else (self._drawn_label(item, place))
                )
            case Group():
                return self._group(item, place @ item.place)

    def _group(self, group: Group, place: Transform) -> etree._Element:
        name = {"id": f"{self._prefix}{group.name}"} if group.name else {}
        element = self.make("g", name)
        if group.title:
            element.append(self.make("title", {}, group.title))
        made = (self._item(item, place) for item in group.items)
        element.extend(each for each in made if each is not None)
        return element

    def _shape(self, shape: Shape, place: Transform) -> etree._Element | None:
        data = _data(shape.outlines, place)
        if not data:
            return None
        attributes = {"d": data}
        if shape.name:
            attributes["id"] = f"{self._prefix}{shape.name}"
        attributes["fill"] = self._paint(shape.fill, place)
        if shape.even_odd:
            attributes["fill-rule"] = "evenodd"
        if shape.opacity != 1.0:
            attributes["fill-opacity"] = number(shape.opacity, DECIMALS)
        if shape.blur:
            attributes["filter"] = self._blur(shape.blur)
        if shape.pen is not None:
            attributes |= _pen(shape.pen, self._paint(shape.pen.colour, place))
        return self.make("path", attributes)

    def _print(self, printed: Print, place: Transform) -> etree._Element | None:
        from cutlayers.pictures.ink_svg import ink_elements

        within = _data(printed.within, place)
        if not within:
            return None

        def clip() -> etree._Element:
            outlines = self.make("path", {"d": within, "clip-rule": "evenodd"})
            return self.make("clipPath", {}, outlines)

        # Views of a box from all sides show the same ink; it is written once.
        ink = self._shared_name(
            ("ink", id(printed.ink)),
            lambda: self.make("g", {}, *ink_elements(printed.ink, self.make, self._shared_name)),
        )
        use = self.make("use", {"href": f"#{ink}", "transform": matrix(place)})
        return self.make("g", {"clip-path": f"url(#{self._shared_name(within, clip)})"}, use)

    def _drawn_label(self, label: Label, place: Transform) -> etree._Element | None:
        lean = Transform(xy=1.0, xx=0.0, yx=-1.0, yy=0.0) if label.turned else Transform()
        x, y = place.apply(label.at)
        paths: list[Path] = []
        for i, line in enumerate(label.lines):
            below = (0.0, -i * LINE_HEIGHT * label.size)
            paths += letter(drawable(line), label.cap, below, label.anchor)
        # Letters have y up.
        data = _data(paths, Transform.translation(x, y) @ lean @ Transform(yy=-1.0))
        if not data:
            return None
        pen = Pen(label.colour, (1.6 if label.bold else 1.0) * WEIGHT * label.cap)
        return self.make("path", {"d": data, "fill": "none", **_pen(pen, label.colour)})

    def _typed_label(self, label: Label, place: Transform) -> etree._Element:
        x, y = place.apply(label.at)
        attributes = {
            "fill": label.colour,
            "font-size": number(label.size, 2),
            "text-anchor": label.anchor,
        }
        if label.bold:
            attributes["font-weight"] = "700"
        if label.turned:
            attributes["transform"] = f"rotate(-90 {number(x, 2)} {number(y, 2)})"
        lines = []
        for i, line in enumerate(label.lines):
            at = {"x": number(x, 2), "y": number(y + i * LINE_HEIGHT * label.size, 2)}
            lines.append(self.make("text", {**attributes, **at}, line))
        return lines[0] if len(lines) == 1 else self.make("g", {}, *lines)

    def _paint(self, paint: str | Fade | Hatch | None, place: Transform) -> str:
        match paint:
            case Fade():
                return self._reference((paint, place), lambda: self._fade(paint, place))
            case Hatch():
                return self._reference(paint, lambda: self._hatch(paint))
            case _:
                return paint or "none"

    def _reference(self, key: object, make: Callable[[], etree._Element]) -> str:
        return f"url(#{self._shared_name(key, make)})"

    def _shared_name(self, key: object, make: Callable[[], etree._Element]) -> str:
        """The id of an element that stands once among the definitions."""
        if key not in self._shared:
            element = make()
            name = f"{self._prefix}p{len(self._shared) + 1}"
            element.set("id", name)
            self._shared[key] = (name, element)
        return self._shared[key][0]

    def _fade(self, fade: Fade, place: Transform) -> etree._Element:
        first, last = ({}, {}) if fade.opacities == (1.0, 1.0) else map(_opacity, fade.opacities)
        return self.make(
            "linearGradient",
            {
                "id": "",
                "gradientUnits": "userSpaceOnUse",
                "gradientTransform": matrix(place),
                "x1": number(fade.start[0], DECIMALS),
                "y1": number(fade.start[1], DECIMALS),
                "x2": number(fade.end[0], DECIMALS),
                "y2": number(fade.end[1], DECIMALS),
            },
            self.make("stop", {"offset": "0", "stop-color": fade.first, **first}),
            self.make("stop", {"offset": "1", "stop-color": fade.last, **last}),
        )

    def _hatch(self, hatch: Hatch) -> etree._Element:
        gap = number(hatch.gap, DECIMALS)
        return self.make(
            "pattern",
            {
                "id": "",
                "patternUnits": "userSpaceOnUse",
                "width": gap,
                "height": gap,
                "patternTransform": "rotate(45)",
            },
            self.make(
                "path",
                {
                    "d": f"M0 0 L0 {gap}",
                    "stroke": hatch.colour,
                    "stroke-width": number(hatch.width, DECIMALS),
                },
            ),
        )

    def _blur(self, deviation: float) -> str:
        return self._reference(("blur", deviation), lambda: self._filter(deviation))

    def _filter(self, deviation: float) -> etree._Element:
        return self.make(
            "filter",
            {"id": "", "x": "-20%", "y": "-40%", "width": "140%", "height": "180%"},
            self.make("feGaussianBlur", {"stdDeviation": number(deviation, DECIMALS)}),
        )


def _pen(pen: Pen, paint: str) -> dict[str, str]:
    attributes = {
        "stroke": paint,
        "stroke-width": number(pen.width),
        "stroke-linecap": "butt" if pen.dash else "round",
        "stroke-linejoin": "round",
    }
    if pen.dash:
        attributes["stroke-dasharray"] = " ".join(number(part) for part in pen.dash)
    return attributes


def _opacity(share: float) -> dict[str, str]:
    return {"stop-opacity": number(share, DECIMALS)}


def _data(outlines: Iterable[Outline], place: Transform) -> str:
    return " ".join(
        _chain(each, place) if isinstance(each, Chain) else path_data(each, place, DECIMALS)
        for each in outlines
    )


def _chain(chain: Chain, place: Transform) -> str:
    words = []
    for point in chain.points:
        x, y = place.apply(point)
        words.append(f"{number(x, DECIMALS)} {number(y, DECIMALS)}")
    return f"M{' L'.join(words)}{' Z' if chain.closed else ''}"

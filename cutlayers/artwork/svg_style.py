"""How an SVG's shapes are painted: attributes, style attributes and simple style sheets.

Source: SVG 1.1, chapters 6 (styling) and 11 (painting); CSS 2, section 6.4 (the cascade). What
goes further than one class, id or element in a selector is told as SvgTooRich.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from cutlayers.frozen import frozen
from cutlayers.reading.markup import local_name
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

INHERITED = {
    "fill": "black",
    "fill-opacity": "1",
    "fill-rule": "nonzero",
    "stroke": "none",
    "stroke-width": "1",
    "stroke-opacity": "1",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "stroke-miterlimit": "4",
    "stroke-dasharray": "none",
    "stroke-dashoffset": "0",
    "visibility": "visible",
    "color": "black",
}
"""Properties handed down, and their initial values."""

OWN = ("opacity", "display")
"""Properties that each element has for itself."""

BEYOND = (
    "clip-path",
    "mask",
    "filter",
    "marker",
    "marker-start",
    "marker-mid",
    "marker-end",
    "mix-blend-mode",
    "vector-effect",
    "paint-order",
    "transform-origin",
)
"""Properties that outlines alone cannot show."""

NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
"""A number as SVG and CSS write it; each of its digits is looked at once."""

MOST_DECLARATIONS, LONGEST_STYLE = 200, 1_000_000
"""Of one element, and characters of all style sheets; SVG 1.1 knows some sixty properties."""

_NUMBER = re.compile(NUMBER)

Style = Mapping[str, str]


class SvgTooRich(Exception):  # noqa: N818 - not an error: such a picture is painted as pixels
    """The SVG holds more than filled and stroked outlines: `why` names it.

    `aspect` is the picture's width over its height, `largest` the longer side in its own units.
    """

    def __init__(self, why: str, aspect: float = 1.0, largest: float = 1.0) -> None:
        super().__init__(why)
        self.why = why
        self.aspect = aspect
        self.largest = largest


@frozen
class Declaration:
    """One property's value; an important one wins over all that are not."""

    name: str
    value: str
    important: bool


Selector = tuple[str, str]
"""A kind, which is "" for an element, "." a class and "#" an id, and a name."""

StyleSheet = Mapping[Selector, tuple[tuple[int, Declaration], ...]]
"""What is said for each selector, with its place in the file."""


def style_sheet(root: etree._Element, passed_over: list[str] | None = None) -> StyleSheet:
    """All rules of the file. Raises SvgTooRich, unless what is no plain rule is to be
    `passed_over`: then it is added there."""
    import tinycss2

    said: dict[Selector, tuple[tuple[int, Declaration], ...]] = {}
    place = length = 0
    for element in root.iter():
        if local_name(element) != "style":
            continue
        text = "".join(map(str, element.itertext()))
        length += len(text)
        if length > LONGEST_STYLE:
            raise SvgTooRich(f"style sheets of more than {LONGEST_STYLE} characters")
        with _css_library():
            nodes = tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)
        for node in nodes:
            try:
                if node.type != "qualified-rule":
                    raise SvgTooRich("a style sheet with more than plain rules")
                body, selectors = declarations(node.content), _selectors(node.prelude)
            except SvgTooRich as rich:
                if passed_over is None:
                    raise
                passed_over.append(rich.why)
                continue
            for selector in selectors:
                place += 1
                before = said.get(selector, ())
                if len(before) + len(body) > MOST_DECLARATIONS:
                    raise _too_much_said()
                said[selector] = (*before, *((place, one) for one in body))
    return said


@contextmanager
def _css_library() -> Iterator[None]:
    """Where the library for CSS reads numbers: those of thousands of digits Python takes for an
    attack, and it says so with a plain ValueError."""
    try:
        yield
    except ValueError:
        raise ValueRefused("has a number of too many digits in a style or colour") from None


def _too_much_said() -> SvgTooRich:
    return SvgTooRich(f"a style of more than {MOST_DECLARATIONS} properties")


def _selectors(prelude: Iterable[Any]) -> list[Selector]:
    """Each of the selectors before a rule's body."""
    import tinycss2

    found: list[Selector] = []
    one: list[Any] = []
    for token in (*prelude, None):
        if token is not None and token != ",":
            one.append(token)
            continue
        text = tinycss2.serialize(one).strip()
        match [each for each in one if each.type not in ("whitespace", "comment")]:
            case [name] if name.type == "ident":
                found.append(("", name.value))
            case [name] if name.type == "hash" and name.is_identifier:
                found.append(("#", name.value))
            case [dot, name] if text.startswith(".") and dot == "." and name.type == "ident":
                found.append((".", name.value))
            case _:
                raise SvgTooRich(f"the selector {shown(text)}")
        one = []
    return found


def declarations(css: str | Iterable[Any]) -> tuple[Declaration, ...]:
    """The declarations of a style attribute or of a rule's body.

    One that cannot be read is passed over, as CSS 2, section 4.2, asks. Raises SvgTooRich for
    rules in rules.
    """
    import tinycss2

    found = []
    with _css_library():
        nodes = tinycss2.parse_blocks_contents(css, skip_comments=True, skip_whitespace=True)
    for node in nodes:
        if node.type == "declaration":
            value = tinycss2.serialize([each for each in node.value if each.type != "comment"])
            found.append(Declaration(node.lower_name, value.strip(), node.important))
        elif node.type != "error":
            raise SvgTooRich("a style sheet with more than plain rules")
    return tuple(found)


def given_style(element: etree._Element, sheet: StyleSheet) -> dict[str, str]:
    """The properties that are given for this element itself, by whatever way.

    Attributes yield to rules, of these the weaker selectors to the stronger and the earlier to the
    later, rules to the style attribute, and all of them to what is important. Raises SvgTooRich.
    """
    given: dict[str, str] = {}
    for key in (*INHERITED, *OWN, *BEYOND):
        value = element.get(key)
        if value is not None:
            given[key] = str(value).strip()
    classes = dict.fromkeys(str(element.get("class") or "").split()) if sheet else {}
    by_class = [each for name in classes for each in sheet.get((".", name), ())]
    ruled = (
        *sheet.get(("", local_name(element)), ()),
        *sorted(by_class, key=lambda placed: placed[0]),
        *sheet.get(("#", str(element.get("id"))), ()),
    )
    said = [*(one for _, one in ruled), *declarations(str(element.get("style") or ""))]
    if len(said) > MOST_DECLARATIONS:
        raise _too_much_said()
    for one in sorted(said, key=lambda one: one.important):
        given[one.name] = one.value
    return given


def style_of(element: etree._Element, parent: Style, sheet: StyleSheet) -> Style:
    """All properties of an element. Raises SvgTooRich for what outlines cannot show."""
    given = given_style(element, sheet)
    for key in BEYOND:
        if given.get(key, "none") not in ("none", "normal"):
            raise SvgTooRich(f"the property {key}")
    style = {key: parent[key] for key in INHERITED}
    style.update({key: "1" if key == "opacity" else "inline" for key in OWN})
    for key, value in given.items():
        if key in style and value != "inherit":
            style[key] = value
    return style


def colour(value: str, current: str) -> str | None:
    """#RRGGBB of a paint, None for none. Raises SvgTooRich for gradients and patterns."""
    from tinycss2.color4 import parse_color

    value = current if value.lower() == "currentcolor" else value
    if value.lower() in ("none", "transparent"):
        return None
    if value.lower().startswith("url("):
        raise SvgTooRich("a gradient or pattern")
    with _css_library():
        found = parse_color(value)
    if found is None or isinstance(found, str) or found.space not in ("srgb", "hsl", "hwb"):
        raise ValueRefused(f"has the colour {shown(value)}, which is none", found=value)
    if found.alpha != 1.0:
        raise SvgTooRich("a colour with an opacity of its own")
    parts = [part or 0.0 for part in found.to("srgb").coordinates]
    if not all(-1e-9 <= part <= 1.0 + 1e-9 for part in parts):
        raise ValueRefused(f"has the colour {shown(value)}, which is none", found=value)
    return "#" + "".join(f"{math.floor(255.0 * part + 0.5):02X}" for part in parts)


def number(value: str, what: str) -> float:
    """A finite number, or a percentage as a share. Raises ValueRefused."""
    share = value.endswith("%")
    match = _NUMBER.fullmatch(value[:-1] if share else value)
    found = float(match[0]) if match else math.nan
    if not math.isfinite(found):
        raise ValueRefused(f"has {shown(value)} as {what}, which is no number", found=value)
    return found / 100.0 if share else found

"""How an SVG's shapes are painted: attributes, style attributes and simple style sheets.

Source: SVG 1.1, chapters 6 (styling) and 11 (painting). What goes further than one class, id or
element in a selector is told as SvgTooRich.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

from cutlayers.artwork.svg_safety import local_name
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

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

_RULE = re.compile(r"(?P<selectors>[^{}]*)\{(?P<body>[^{}]*)\}")
_SELECTOR = re.compile(r"(?P<kind>[.#]?)(?P<name>[A-Za-z_][\w-]*)")
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)

Style = Mapping[str, str]


class SvgTooRich(Exception):  # noqa: N818 - not an error: such a picture is painted as pixels
    """The SVG holds more than filled and stroked outlines; `aspect` is its width over height."""

    def __init__(self, why: str, aspect: float = 1.0) -> None:
        super().__init__(why)
        self.why = why
        self.aspect = aspect


@dataclass(frozen=True, slots=True)
class Rule:
    """One selector's declarations; `kind` is "" for an element, "." a class, "#" an id."""

    kind: str
    name: str
    declarations: Style


def style_sheet(root: etree._Element) -> tuple[Rule, ...]:
    """All rules of the file, weakest selectors first, as the cascade asks. Raises SvgTooRich."""
    rules: list[Rule] = []
    for element in root.iter():
        if local_name(element) != "style":
            continue
        text = _COMMENT.sub("", "".join(map(str, element.itertext())))
        rest = _RULE.sub("", text).strip()
        if rest or "@" in text:
            raise SvgTooRich("a style sheet with more than plain rules")
        for match in _RULE.finditer(text):
            body = declarations(match["body"])
            for selector in match["selectors"].split(","):
                one = _SELECTOR.fullmatch(selector.strip())
                if one is None:
                    raise SvgTooRich(f"the selector {selector.strip()}")
                rules.append(Rule(one["kind"], one["name"], body))
    return tuple(sorted(rules, key=lambda rule: ("", ".", "#").index(rule.kind)))


def declarations(text: str) -> Style:
    """The declarations of a style attribute or of a rule's body."""
    pairs = (part.split(":", 1) for part in text.split(";") if ":" in part)
    return {key.strip(): value.replace("!important", "").strip() for key, value in pairs}


def style_of(element: etree._Element, parent: Style, rules: tuple[Rule, ...]) -> Style:
    """All properties of an element. Raises SvgTooRich for what outlines cannot show."""
    given: dict[str, str] = {}
    for key in (*INHERITED, *OWN, *BEYOND):
        value = element.get(key)
        if value is not None:
            given[key] = str(value).strip()
    classes = str(element.get("class") or "").split()
    for rule in rules:
        if (
            (rule.kind == "." and rule.name in classes)
            or (rule.kind == "#" and rule.name == element.get("id"))
            or (rule.kind == "" and rule.name == local_name(element))
        ):
            given.update(rule.declarations)
    given.update(declarations(str(element.get("style") or "")))
    for key in BEYOND:
        if given.get(key, "none") not in ("none", "normal"):
            raise SvgTooRich(f"the property {key}")
    style = {key: parent[key] for key in INHERITED}
    style.update({key: "1" if key == "opacity" else "inline" for key in OWN})
    for key, value in given.items():
        if (key in INHERITED and value != "inherit") or (key in OWN and value != "inherit"):
            style[key] = value
    return style


def colour(value: str, current: str) -> str | None:
    """#RRGGBB of a paint, None for none. Raises SvgTooRich for gradients and patterns."""
    from PIL import ImageColor

    value = current if value.lower() == "currentcolor" else value
    if value.lower() in ("none", "transparent"):
        return None
    if value.lower().startswith("url("):
        raise SvgTooRich("a gradient or pattern")
    try:
        red, green, blue, *alpha = ImageColor.getrgb(value)
    except ValueError:
        raise ValueRefused(f"has the colour {shown(value)}, which is none") from None
    if alpha and alpha[0] != 255:
        raise SvgTooRich("a colour with an opacity of its own")
    if not all(0 <= part <= 255 for part in (red, green, blue)):
        raise ValueRefused(f"has the colour {shown(value)}, which is none")
    return f"#{red:02X}{green:02X}{blue:02X}"


def number(value: str, what: str) -> float:
    """A number, or a percentage as a share. Raises ValueRefused."""
    try:
        return float(value[:-1]) / 100.0 if value.endswith("%") else float(value)
    except ValueError:
        raise ValueRefused(f"has {shown(value)} as {what}, which is no number") from None

"""Is an SVG harmless? Looked at before anything in it is believed.

Refused are scripts, and everything that reaches outside of the file or would unfold without end.
Source: SVG 1.1, chapters 5.6 (use), 17 (linking) and 18 (scripting).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cutlayers.reading.markup import DEEPEST, local_name, on_its_line, parse_markup
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

LARGEST_SVG = 20_000_000
"""Bytes; a drawing traced from a photograph has some millions."""

MOST_ELEMENTS = 100_000
"""With every reference unfolded; a drawing traced from a photograph has some thousands."""

XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
_ACTIVE = {"script", "handler", "listener", "foreignObject", "iframe", "embed", "object", "a"}
_PICTURES = {"image", "feImage"}
_URL = re.compile(r"url\(\s*['\"]?\s*(?P<target>[^'\")\s]*)", re.IGNORECASE)


def parse_safely(content: bytes) -> etree._Element:
    """The root of a harmless SVG. Raises ValueRefused."""
    root = parse_svg(content)
    refuse_harm(root)
    return root


def parse_svg(content: bytes, bare_doctype: bool = False) -> etree._Element:
    """The root of an SVG that may reach out of the file yet; see `parse_markup`. Raises
    ValueRefused."""
    if len(content) > LARGEST_SVG:
        raise ValueRefused(
            f"has {len(content)} bytes",
            found=len(content),
            allowed=Span(most=LARGEST_SVG, unit="bytes for an SVG"),
            advice="simplify it",
        )
    root = parse_markup(content, bare_doctype)
    if local_name(root) != "svg":
        raise ValueRefused(f"is XML but no SVG: it begins with <{local_name(root)}>")
    return root


def refuse_harm(root: etree._Element) -> None:
    """Raises ValueRefused for scripts, references out of the file, and those without end."""
    for count, element in enumerate(root.iter()):
        if count > MOST_ELEMENTS:
            raise _too_many()
        with on_its_line(element):
            _refuse_reaching_out(element)
    _refuse_endless(root)


def references(element: etree._Element) -> list[str]:
    """The ids that an element points to, by href and by url(#…)."""
    found = [
        value[1:]
        for key in ("href", XLINK_HREF)
        if (value := str(element.get(key) or "").strip()).startswith("#")
    ]
    for value in (*map(str, element.attrib.values()), element.text or ""):
        found += [match["target"][1:] for match in _URL.finditer(value)]
    return found


def _refuse_reaching_out(element: etree._Element) -> None:
    name = local_name(element)
    if name in _ACTIVE:
        reason = f"holds <{name}>, which a picture to be printed has no use for"
        raise ValueRefused(reason, found=name)
    if name in _PICTURES:
        raise ValueRefused(
            f"holds another picture (<{name}>)",
            found=name,
            advice="use that picture itself, or trace it",
        )
    for key, value in element.attrib.items():
        key, value = str(key), str(value)
        bare = key.rpartition("}")[2]
        if bare.lower().startswith("on"):
            advice = "save it without scripts"
            raise ValueRefused(f"has a script in {bare}", found=bare, advice=advice)
        if bare in ("href", "src") and not value.strip().startswith("#"):
            reason = f"refers to {shown(value)}, outside of the file"
            raise ValueRefused(reason, found=value, allowed="#id")
        _refuse_urls(value)
        if bare == "style":
            _refuse_hidden(value)
    if name == "style":
        text = "".join(map(str, element.itertext()))
        _refuse_hidden(text)
        _refuse_urls(text)


def _refuse_hidden(css: str) -> None:
    """Escapes could spell "url" or "@import" in a way that is not seen here."""
    if "\\" in css:
        raise ValueRefused("has a backslash in its styles", advice="save it with plain styles")
    if "@import" in css.lower():
        raise ValueRefused("imports a style sheet", advice="put the styles into the file")


def _refuse_urls(value: str) -> None:
    for match in _URL.finditer(value):
        if not match["target"].startswith("#"):
            reason = f"refers to {shown(match['target'])}, outside of the file"
            raise ValueRefused(reason, found=match["target"], allowed="url(#id)")


def _too_many() -> ValueRefused:
    return ValueRefused(
        f"unfolds to more than {MOST_ELEMENTS} elements", advice="simplify it or save it as a PNG"
    )


def _refuse_endless(root: etree._Element) -> None:
    """Count what is left when every reference is replaced by what it refers to."""
    by_id = {str(element.get("id")): element for element in root.iter() if element.get("id")}
    sizes: dict[etree._Element, int] = {}
    open_: set[etree._Element] = set()

    def size(element: etree._Element, depth: int) -> int:
        if element in sizes:
            return sizes[element]
        if element in open_ or depth > 2 * DEEPEST:
            name = shown(element.get("id") or local_name(element))
            raise ValueRefused(
                f"refers to itself, round in a circle, at {name}", line=element.sourceline
            )
        open_.add(element)
        total = 1
        pointed_at = [by_id[name] for name in references(element) if name in by_id]
        for inner in (*element, *pointed_at):
            total += size(inner, depth + 1)
        open_.discard(element)
        if total > MOST_ELEMENTS:
            raise _too_many()
        sizes[element] = total
        return total

    size(root, 0)

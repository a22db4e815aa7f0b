"""Elements of the page and its drawings, made in one call."""

from __future__ import annotations

from collections.abc import Mapping

from lxml import etree

Element = etree._Element


def make(tag: str, attributes: Mapping[str, str] | None = None, *inside: Element | str) -> Element:
    """An element with attributes and, in order, texts and other elements inside."""
    element = etree.Element(tag, {str(k): str(v) for k, v in (attributes or {}).items()})
    last: Element | None = None
    for each in inside:
        if isinstance(each, str):
            if last is None:
                element.text = (element.text or "") + each
            else:
                last.tail = (last.tail or "") + each
        else:
            element.append(each)
            last = each
    return element


def add(parent: Element, tag: str, attributes: Mapping[str, str], text: str = "") -> Element:
    """A new last child of `parent`."""
    child = make(tag, attributes, text) if text else make(tag, attributes)
    parent.append(child)
    return child

"""Pictures drawn elsewhere, set into the page."""

from __future__ import annotations

from lxml import etree

from cutlayers.guide import words
from cutlayers.guide.model import BoxGuide
from cutlayers.guide.page.contents import Picture


def finished_box(box: BoxGuide) -> Picture | None:
    """The picture at the top of the page."""
    if box.picture is None:
        return None
    return _set_in(box.picture, box.name, "picture", words.folded_description(net_names(box)))


def box_on_its_way(box: BoxGuide) -> Picture | None:
    """The pictures beside the assembly."""
    if box.views is None:
        return None
    return _set_in(box.views, box.name, "views", words.views_description(net_names(box)))


def net_names(box: BoxGuide) -> list[str]:
    """The nets of a box, by name."""
    return [blank.net.name for blank in box.blanks]


def _set_in(svg: bytes, box: str, part: str, description: str) -> Picture:
    """A picture with its names made its own, and a title and description for those who do not
    see it."""
    root = etree.fromstring(svg)
    ident = f"{part}-{_slug(box)}"
    for element in root.iter(etree.Element):
        element.tag = etree.QName(element).localname
        for name, value in element.attrib.items():
            if name == "id":
                element.set(name, f"{ident}-{value}")
            elif "url(#" in value:
                element.set(name, value.replace("url(#", f"url(#{ident}-"))
    etree.cleanup_namespaces(root)
    for old in root.findall("title"):
        root.remove(old)
    root.set("role", "img")
    root.set("aria-labelledby", f"{ident}-title {ident}-desc")
    for place, (tag, text) in enumerate(
        (("title", words.folded_title(box)), ("desc", description))
    ):
        told = etree.Element(tag, {"id": f"{ident}-{tag}"})
        told.text = text
        root.insert(place, told)
    return Picture(part, etree.tostring(root, method="html", encoding="unicode"))


def _slug(name: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in name.lower())

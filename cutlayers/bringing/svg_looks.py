"""What an SVG says of how its lines look, and what things in it are called.

Source: SVG 1.1, chapters 5 (structure) and 11 (painting); SVG 2, section 13.5.6 (dashes).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from cutlayers.artwork.svg_outlines import length
from cutlayers.artwork.svg_style import SvgTooRich, colour, number
from cutlayers.reading.markup import local_name
from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from lxml import etree

GIVEN_BY_PROGRAM = re.compile(r"(?:g|svg|layer|group|path|use|shape|object)?[-_]?\d[\d_.-]*", re.I)
"""Ids that nobody chose."""

LONGEST_NAME = 100


def names_of(element: etree._Element) -> list[str]:
    """What an element is called, the name that somebody chose first."""
    labels = [
        str(value)
        for key, value in element.attrib.items()
        if str(key).rpartition("}")[2] in ("label", "data-name", "aria-label")
    ]
    own = str(element.get("id") or "")
    titles = [
        "".join(map(str, child.itertext())) for child in element if local_name(child) == "title"
    ]
    chosen = [*labels, own, *titles]
    if GIVEN_BY_PROGRAM.fullmatch(own):
        chosen = [*labels, *titles, own]
    tidy = (" ".join(each.split())[:LONGEST_NAME] for each in chosen)
    return list(dict.fromkeys(each for each in tidy if each))


def is_clear(style: Mapping[str, str], key: str) -> bool:
    """Whether an opacity leaves nothing to be seen."""
    value = style.get(key, "1").strip()
    return bool(value) and value != "inherit" and number(value, key) <= 0.0


@lru_cache(1000)
def paint_of(value: str, current: str) -> str:
    """#RRGGBB, or nothing for a paint that is no one colour."""
    try:
        return colour(value, current) or ""
    except (SvgTooRich, ValueRefused):
        return ""


def dashes_of(value: str, grown: float) -> tuple[float, ...]:
    """An odd list is repeated, all zeros is a solid line. Source: SVG 2, section 13.5.6."""
    if value.strip().lower() in ("none", ""):
        return ()
    parts = [length(part, "stroke-dasharray") for part in re.split(r"[\s,]+", value) if part]
    if min(parts) < 0 or not sum(parts[1::2] if len(parts) % 2 == 0 else parts):
        return ()
    return tuple(round(part * grown, 9) for part in (parts * 2 if len(parts) % 2 else parts))

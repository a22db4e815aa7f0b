"""The lines of a DXF file, R12 to R2018, with what it says of each.

Blocks are unfolded where they stand. What is no line work, such as hatches, text and dimensions, is
counted and set aside, and so are lines that nobody sees. Source: DXF Reference.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from cutlayers.bringing.curves import Curve
from cutlayers.bringing.drawn_lines import lines_of
from cutlayers.bringing.dxf_looks import OUT, Looks, Place
from cutlayers.bringing.dxf_shapes import BROKEN, LINES, curves_of
from cutlayers.bringing.limits import MOST_EDGES, too_many
from cutlayers.bringing.lines import Drawing, DrawnText, Hints, Scale
from cutlayers.bringing.scale import OF_PLAN, bounds_of, candidates
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from ezdxf.math import Matrix44

MOST_ENTITIES = 200_000
"""Entries of a file, corners of old polylines among them; each takes some 20 µs and 2 kB."""

DEEPEST = 100
"""Blocks inside each other."""

NAMES = {
    "HATCH": "hatch", "MPOLYGON": "hatch", "SOLID": "filled area", "TRACE": "filled area",
    "3DFACE": "filled area", "WIPEOUT": "filled area", "TEXT": "text", "MTEXT": "text",
    "ATTRIB": "text", "ATTDEF": "text", "DIMENSION": "dimension", "ARC_DIMENSION": "dimension",
    "LARGE_RADIAL_DIMENSION": "dimension", "LEADER": "dimension", "MULTILEADER": "dimension",
    "MLEADER": "dimension", "TOLERANCE": "dimension", "IMAGE": "picture",
    "PDFUNDERLAY": "picture", "DWFUNDERLAY": "picture", "DGNUNDERLAY": "picture",
    "OLE2FRAME": "picture", "OLEFRAME": "picture", "POINT": "point", "XLINE": "endless line",
    "RAY": "endless line", "POLYLINE": "mesh", "MESH": "mesh", "ACAD_TABLE": "table",
}  # fmt: skip
"""What is set aside, in plain words."""

OTHER = "other entity"

UNCOUNTED = {"VIEWPORT", "SEQEND", "VERTEX"}

UNIT_NAMES = {1: "inches", 2: "feet", 4: "mm", 5: "cm", 6: "m", 14: "dm"}


def read_dxf(content: bytes) -> Drawing:
    """A drawing from a DXF's bytes. Raises ValueRefused."""
    reader = _Reader(_document(content))
    try:
        found = list(reader.lines())
    except ValueRefused:
        raise
    except BROKEN as error:
        raise _broken(error) from None
    scale = _scale(reader.document)
    lines = lines_of(found, scale, reader.aside)
    return Drawing(
        lines,
        scale,
        () if scale else candidates(bounds_of(lines), OF_PLAN),
        tuple(reader.texts),
        {name: count for name, count in sorted(reader.aside.items()) if count},
    )


def _document(content: bytes) -> Any:
    from cutlayers.reading.dxf_library import BINARY, read_document

    binary = content.startswith(BINARY)
    entries = len(re.findall(rb"(?m)^[ \t]*0[ \t]*\r?\n", content[: None if not binary else 0]))
    if entries > MOST_ENTITIES:
        raise ValueRefused(
            f"has {entries:,} entries",
            found=entries,
            allowed=Span(most=MOST_ENTITIES),
            advice="save the net alone",
        )
    if not binary and not re.match(rb"(\xef\xbb\xbf)?\s*(0|999)[ \t]*\r?\n", content):
        raise ValueRefused("is neither an SVG, a DXF nor a FOLD file", fault="unreadable")
    try:
        return read_document(content)
    except Exception as error:  # the library raises what it meets in a broken file
        raise _broken(error) from None


def _broken(error: Exception) -> ValueRefused:
    words = str(error).splitlines()
    reason = f": {words[0][:100]}" if words else ""
    return ValueRefused(f"cannot be read as a DXF{reason}", fault="unreadable")


def _scale(document: Any) -> Scale | None:
    """By $INSUNITS, which R12 has not."""
    from ezdxf.enums import InsertUnits
    from ezdxf.units import conversion_factor

    try:
        unit = int(document.header.get("$INSUNITS", 0))
        mm = conversion_factor(InsertUnits(unit), InsertUnits.Millimeters) if unit else 0.0
    except (ValueError, TypeError, KeyError, IndexError):
        return None
    if not mm > 0.0:
        return None
    name = UNIT_NAMES.get(unit, f"unit {unit}")
    word = {1.0: "mm", 10.0: "cm", 25.4: "in"}.get(round(mm, 9), "")
    return Scale(mm, f"the file says {name} ($INSUNITS {unit})", word)


class _Reader:
    """Walks through the drawing and the blocks in it."""

    def __init__(self, document: Any) -> None:
        self.document = document
        self.texts: list[DrawnText] = []
        self.aside: Counter[str] = Counter()
        self._looks = Looks(document)
        self._sizes: dict[str, int] = {}

    def lines(self) -> Iterator[tuple[Curve, Hints]]:
        """All lines of the drawing, or of its first page that has any where it has none."""
        from ezdxf.math import Matrix44

        layouts = [self.document.modelspace()]
        if not len(layouts[0]):
            layouts = [page for page in self.document.layouts if len(page)] or layouts
        space = layouts[0]
        if sum(self._size(entity, ()) for entity in space) > MOST_EDGES:
            raise too_many()
        yield from self._walk(space, Matrix44(), OUT)

    def _walk(self, entities: Any, placed: Matrix44, place: Place) -> Iterator[tuple[Curve, Hints]]:
        for entity in entities:
            kind = entity.dxftype()
            if kind == "INSERT":
                if self._looks.is_frozen(entity, place):
                    self.aside["hidden line"] += self._size(entity, ())
                else:
                    yield from self._unfolded(entity, placed, place)
            elif kind in LINES and self._looks.is_hidden(entity, place):
                self.aside["hidden line"] += 1
            elif kind in LINES:
                hints = self._looks.hints(entity, place)
                curves = tuple(curves_of(entity, placed))
                yield from ((curve, hints) for curve in curves)
                if not curves:
                    self.aside["mesh" if _is_mesh(entity) else "line without length"] += 1
            elif kind not in UNCOUNTED:
                self.aside[NAMES.get(kind, OTHER)] += 1
                self._text(entity, placed)

    def _unfolded(
        self, insert: Any, placed: Matrix44, place: Place
    ) -> Iterator[tuple[Curve, Hints]]:
        block = _block(insert)
        for attribute in insert.attribs:
            self.aside["text"] += 1
            self._text(attribute, placed)
        if block is None:
            self.aside["reference to nothing"] += 1
            return
        inside = self._looks.inside(insert, place, str(insert.dxf.name))
        copies = insert.multi_insert() if insert.mcount > 1 else (insert,)
        for copy in copies:
            yield from self._walk(block, copy.matrix44() * placed, inside)

    def _text(self, entity: Any, placed: Matrix44) -> None:
        kind = entity.dxftype()
        if kind == "MTEXT" or kind in ("TEXT", "ATTRIB"):
            text = entity.plain_text()
        else:
            return
        at = placed.transform(entity.ocs().to_wcs(entity.dxf.insert))
        tidy = " ".join(str(text).split())
        if tidy and abs(at.x) < 1e9 and abs(at.y) < 1e9:
            self.texts.append(DrawnText(tidy[:100], (at.x, at.y)))

    def _size(self, entity: Any, within: tuple[str, ...]) -> int:
        """How many entities it unfolds to. Raises ValueRefused for blocks without an end."""
        if entity.dxftype() != "INSERT":
            return 1
        name = str(entity.dxf.get("name", "")).lower()
        if name in within:
            raise ValueRefused(f"has a block that holds itself, {shown(name)}")
        if len(within) >= DEEPEST:
            raise ValueRefused(f"has blocks more than {DEEPEST} deep inside each other")
        copies = 1
        if entity.mcount > 1:
            copies = max(1, entity.dxf.row_count) * max(1, entity.dxf.column_count)
        if name not in self._sizes:
            block = _block(entity)
            if (
                block is not None
                and block.block is not None
                and (block.block.is_xref or block.block.is_xref_overlay)
            ):
                raise ValueRefused(
                    f"refers to another drawing, {shown(block.block.dxf.get('xref_path', ''))}",
                    advice="bind it into this one",
                )
            # Circles are found on the way in; a sum that is too large is known to be so.
            total = 1 + sum(self._size(each, (*within, name)) for each in block or ())
            self._sizes[name] = min(total, MOST_EDGES + 1)
        return min(self._sizes[name] * int(copies), MOST_EDGES + 1)


def _is_mesh(entity: Any) -> bool:
    """Whether a POLYLINE is no line but a surface."""
    return entity.dxftype() == "POLYLINE" and not (entity.is_2d_polyline or entity.is_3d_polyline)


def _block(insert: Any) -> Any:
    """What an INSERT stands for; None where there is no such block."""
    return insert.block() if insert.dxf.get("name") else None

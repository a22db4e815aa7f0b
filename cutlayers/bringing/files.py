"""A drawing from a file, whatever it is written in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cutlayers.bringing.lines import Drawing
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import DrawingError

LARGEST_MB = 60
"""Of a DXF with as many lines as may be."""


def read_drawing(path: Path) -> Drawing:
    """What is drawn in an SVG, a DXF or a FOLD file. Raises DrawingError.

    Which of them it is, its content says: an SVG is XML, FOLD is JSON, and a DXF neither.
    """
    try:
        return drawing_of(read_user_file(path, LARGEST_MB))
    except ValueRefused as refused:
        raise DrawingError(replace(refused.refusal, file=str(path))) from None


def drawing_of(content: bytes) -> Drawing:
    """A drawing from a file's content. Raises ValueRefused."""
    head = content[:1000].lstrip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n")
    if head.startswith(b"<"):
        from cutlayers.bringing.svg_lines import read_svg

        return _with_lines(read_svg(content))
    if head.startswith(b"{"):
        from cutlayers.bringing.fold_lines import read_fold

        return _with_lines(read_fold(content))
    from cutlayers.bringing.dxf_lines import read_dxf

    return _with_lines(read_dxf(content))


def _with_lines(drawing: Drawing) -> Drawing:
    if drawing.lines:
        return drawing
    aside = drawing.set_aside or {}
    holds = ", ".join(f"{count} × {name}" for name, count in aside.items())
    raise ValueRefused(
        f"holds no line to cut or fold{f' ({holds})' if holds else ''}",
        advice="save the lines of the net as lines",
    )

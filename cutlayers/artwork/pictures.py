"""Reading a picture from the bytes of a file: what it is, and whether it is safe to take.

Only what begins as one of the known formats is looked into, whatever the file is called; nothing
but the bytes given here is ever read. Each reader raises ValueRefused with a sentence that follows
the file's name.
"""

from __future__ import annotations

from functools import lru_cache

from cutlayers.artwork.ink import Raster
from cutlayers.artwork.model import Picture, PictureFit
from cutlayers.artwork.painting import paint_svg
from cutlayers.artwork.rasters import is_raster, is_tiff, read_raster
from cutlayers.artwork.svg_effort import painted_side
from cutlayers.artwork.svg_figure import SvgTooRich, read_figure
from cutlayers.artwork.svg_safety import parse_safely
from cutlayers.reading.apart import RanOutError, run_apart
from cutlayers.reading.values import ValueRefused

KNOWN = "PNG, JPEG, WebP, TIFF, GIF, BMP or SVG"
"""The formats, for people."""

PAINTING_S, PAINTING_BYTES = 8.0, 1_000_000_000
"""What painting a vector picture may take, or unpacking a TIFF: of time, and of memory."""


def read_picture(content: bytes, name: str, fit: PictureFit, repeat: float | None) -> Picture:
    """A picture from a file's bytes. Raises ValueRefused."""
    if is_raster(content):
        raster, alone = _tiff(content) if is_tiff(content) else read_raster(content)
        aspect = raster.width / raster.height
        return Picture(name, raster, aspect, fit, repeat, first_of_several=not alone)
    if _looks_like_xml(content):
        try:
            figure = read_figure(content)
        except SvgTooRich as rich:
            raster = _painted(content, rich)
            return Picture(name, raster, rich.aspect, fit, repeat, painted_as_pixels=True)
        return Picture(name, figure, figure.width / figure.height, fit, repeat)
    raise ValueRefused(f"is not a {KNOWN} picture", advice="save it as one of these")


def _looks_like_xml(content: bytes) -> bool:
    head = content[:400]
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if head.startswith(mark):
            head = head[2:].decode(encoding, "replace").encode()
    return head.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<")


def _painted(content: bytes, rich: SvgTooRich) -> Raster:
    """A checked SVG as pixels, painted in a process that ends where it takes too long."""
    side = painted_side(parse_safely(content), rich.largest)
    width = side if rich.aspect >= 1.0 else max(1, round(side * rich.aspect))
    try:
        png = run_apart(
            paint_svg,
            content.decode("utf-8-sig"),
            width,
            seconds=PAINTING_S,
            memory_bytes=PAINTING_BYTES,
        )
    except UnicodeDecodeError:
        raise ValueRefused("is not UTF-8", advice="save it as UTF-8") from None
    except ValueError as error:
        raise ValueRefused(f"cannot be painted: {str(error).splitlines()[0][:80]}") from None
    except RanOutError as ran_out:
        limit = _limit(ran_out)
        raise ValueRefused(
            f"cannot be painted {limit}: it holds {rich.why}",
            advice="simplify it, or save it as a PNG",
        ) from None
    raster, _ = read_raster(png)
    return raster


@lru_cache(2)  # every row of a kit reads its job anew
def _tiff(content: bytes) -> tuple[Raster, bool]:
    """As `read_raster`, in a process of its own: the library for TIFF tells what is wrong with a
    file on standard error, and is old and large."""
    try:
        return run_apart(read_raster, content, seconds=PAINTING_S, memory_bytes=PAINTING_BYTES)
    except ValueError as refused:
        raise ValueRefused(str(refused)) from None
    except RanOutError as ran_out:
        found = f"cannot be unpacked {_limit(ran_out)}"
        raise ValueRefused(found, advice="save it smaller, or as a PNG") from None


def _limit(ran_out: RanOutError) -> str:
    if ran_out.too_long:
        return f"within {PAINTING_S:g} seconds"
    return f"in {PAINTING_BYTES // 1_000_000} MB of memory"

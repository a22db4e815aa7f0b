"""Reading a picture from the bytes of a file: what it is, and whether it is safe to take.

Only PNG, JPEG and SVG are looked into, whatever the file is called; nothing but the bytes given
here is ever read. Each reader raises ValueRefused with a sentence that follows the file's name.
"""

from __future__ import annotations

import io
import warnings
from typing import TYPE_CHECKING

from cutlayers.artwork.ink import Raster
from cutlayers.artwork.model import Picture, PictureFit
from cutlayers.artwork.painting import paint_svg
from cutlayers.artwork.svg_effort import painted_side
from cutlayers.artwork.svg_figure import SvgTooRich, read_figure
from cutlayers.artwork.svg_safety import parse_safely
from cutlayers.reading.apart import RanOutError, run_apart
from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 60_000_000
"""A3 at 500 dots per inch; decoded, three bytes each, it still fits into a small computer."""

MOST_SIDE = 30_000
"""Pixels along a side; a picture of one column is decoded row by row, at a cost for each row."""

BAND_PIXELS = 1_000_000
"""Taken from a decoded picture at a time."""

DEEP = ("I", "I;16", "I;16B", "F")
"""Modes of more than eight bits, grey."""

PAINTING_S, PAINTING_BYTES = 8.0, 1_000_000_000
"""What painting a vector picture may take: of time, and of memory."""


def read_picture(content: bytes, name: str, fit: PictureFit, repeat: float | None) -> Picture:
    """A picture from a file's bytes. Raises ValueRefused."""
    if content.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        raster = read_raster(content)
        return Picture(name, raster, raster.width / raster.height, fit, repeat)
    if _looks_like_xml(content):
        try:
            figure = read_figure(content)
        except SvgTooRich as rich:
            raster = _painted(content, rich)
            return Picture(name, raster, rich.aspect, fit, repeat, painted_as_pixels=True)
        return Picture(name, figure, figure.width / figure.height, fit, repeat)
    raise ValueRefused("is not a PNG, JPEG or SVG picture", advice="save it as one of these")


def _looks_like_xml(content: bytes) -> bool:
    head = content[:400]
    for mark, encoding in ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")):
        if head.startswith(mark):
            head = head[2:].decode(encoding, "replace").encode()
    return head.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<")


def read_raster(content: bytes) -> Raster:
    """A PNG or JPEG. A plain JPEG is kept as it is, anything else becomes 8-bit grey or RGB.

    Raises ValueRefused for a broken file, and for more than MOST_PIXELS before any is decoded.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            # Our own limit comes right after, and says what to do.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image: Image.Image = Image.open(io.BytesIO(content), formats=("PNG", "JPEG"))
        width, height = image.size
        if width * height > MOST_PIXELS or max(width, height) > MOST_SIDE:
            raise _too_many(width, height)
        if image.format == "JPEG" and image.mode in ("RGB", "L") and _is_upright(image):
            image.load()  # a broken one must be found now
            channels = 3 if image.mode == "RGB" else 1
            return Raster(width, height, channels, content, is_jpeg=True)
        ImageOps.exif_transpose(image, in_place=True)
        return _decoded(image)
    except Image.DecompressionBombError:
        raise ValueRefused(f"has more than {MOST_PIXELS // 1_000_000} million pixels") from None
    except ValueRefused:
        raise
    except UnidentifiedImageError:
        raise ValueRefused(
            "is broken: its beginning makes no sense", advice="save it anew"
        ) from None
    except (OSError, SyntaxError, ValueError, EOFError, MemoryError, OverflowError) as error:
        reason = str(error).splitlines()[0][:80] if str(error) else type(error).__name__
        broken = f"is broken and cannot be read ({reason})"
        raise ValueRefused(broken, advice="save it anew") from None


def _too_many(width: int, height: int) -> ValueRefused:
    return ValueRefused(
        f"is {width} × {height} pixels large",
        found=[width, height],
        allowed=f"at most {MOST_PIXELS // 1_000_000} million in all and {MOST_SIDE} along a side, "
        "more than any printer shows",
        advice="save it smaller",
    )


def _is_upright(image: Image) -> bool:
    orientation = 0x0112  # Exif, tag Orientation; 1 is upright
    return bool(image.getexif().get(orientation, 1) == 1)


def _decoded(image: Image) -> Raster:
    """Band by band: of a large picture there is only ever one copy besides what is handed on."""
    samples, alphas = io.BytesIO(), io.BytesIO()
    channels = 1 if image.mode in ("1", "L", *DEEP) else 3
    opaque = True
    rows = max(1, BAND_PIXELS // image.width)
    for top in range(0, image.height, rows):
        band = image.crop((0, top, image.width, min(top + rows, image.height)))
        if band.mode in ("RGBA", "LA", "PA") or "transparency" in band.info:
            band, channels = band.convert("RGBA"), 3
            alpha = band.getchannel("A").tobytes()
            opaque = opaque and alpha.count(255) == len(alpha)
            alphas.write(alpha)
        elif band.mode in DEEP:
            # Pillow would cut these off at 255 instead of scaling them.
            band = band.point(lambda value: value / 257.0)
        samples.write(band.convert("L" if channels == 1 else "RGB").tobytes())
    return Raster(
        image.width,
        image.height,
        channels,
        samples.getvalue(),
        alpha=None if opaque else alphas.getvalue(),
    )


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
        limit = (
            f"within {PAINTING_S:g} seconds"
            if ran_out.too_long
            else f"in {PAINTING_BYTES // 1_000_000} MB of memory"
        )
        raise ValueRefused(
            f"cannot be painted {limit}: it holds {rich.why}",
            advice="simplify it, or save it as a PNG",
        ) from None
    return read_raster(png)

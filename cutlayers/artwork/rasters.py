"""Pictures of pixels: decoded into 8-bit grey or RGB, with limits and opacity apart."""

from __future__ import annotations

import io
import struct
import warnings
from typing import TYPE_CHECKING

from cutlayers.artwork.colour_profiles import GREY_MODES, into_srgb
from cutlayers.artwork.ink import Raster
from cutlayers.reading.values import ValueRefused

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 60_000_000
"""A3 at 500 dots per inch; decoded, three bytes each, it still fits into a small computer."""

MOST_SIDE = 30_000
"""Pixels along a side; a picture of one column is decoded row by row, at a cost for each row."""

BAND_PIXELS = 1_000_000
"""Taken from a decoded picture at a time."""

DEEP = ("I", "I;16", "I;16B")
"""Modes of sixteen bits, grey."""

_FORMATS = ("PNG", "JPEG", "WEBP", "TIFF", "GIF", "BMP")

_TIFF = (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")

_BEGINNINGS = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"BM", *_TIFF)

_MODES = ("P", "PA", "RGB", "RGBA", "RGBa", "RGBX", "CMYK", "YCbCr", *GREY_MODES)
"""Those that have a meaning in print."""

_BROKEN = (
    OSError, SyntaxError, ValueError, EOFError, MemoryError, OverflowError, struct.error,
    LookupError, TypeError, AttributeError, ZeroDivisionError, RuntimeError,
)  # fmt: skip
"""What decoders raise for a file that says one thing and holds another."""


def is_raster(content: bytes) -> bool:
    """Whether a file begins as a picture of pixels."""
    return content.startswith(_BEGINNINGS) or (content[:4] == b"RIFF" and content[8:12] == b"WEBP")


def is_tiff(content: bytes) -> bool:
    """Whether a file begins as a TIFF."""
    return content.startswith(_TIFF)


def read_raster(content: bytes) -> tuple[Raster, bool]:
    """The first picture of a file in sRGB, and whether it is the only one.

    A plain JPEG is kept as it is, anything else becomes 8-bit grey or RGB. Raises ValueRefused for
    a broken file, and for more than MOST_PIXELS before any is decoded.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            # Our own limit comes right after, and says what to do; odd tags are no harm.
            warnings.simplefilter("ignore")
            image: Image.Image = Image.open(io.BytesIO(content), formats=_FORMATS)
            width, height = image.size
            if width * height > MOST_PIXELS or max(width, height) > MOST_SIDE:
                raise _too_many(width, height)
            if image.mode not in _MODES or (image.mode == "I" and image.format == "TIFF"):
                kind = f"holds pixels of the kind {image.mode}"
                raise ValueRefused(kind, advice="save it as RGB, with 8 or 16 bits")
            if _is_plain_jpeg(image):
                image.load()  # a broken one must be found now
                channels = 3 if image.mode == "RGB" else 1
                return Raster(width, height, channels, content, is_jpeg=True), True
            alone = not getattr(image, "is_animated", False)
            ImageOps.exif_transpose(image, in_place=True)
            return _decoded(image), alone
    except Image.DecompressionBombError:
        raise ValueRefused(f"has more than {MOST_PIXELS // 1_000_000} million pixels") from None
    except ValueRefused:
        raise
    except UnidentifiedImageError:
        raise ValueRefused(
            "is broken: its beginning makes no sense", advice="save it anew"
        ) from None
    except _BROKEN as error:
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


def _is_plain_jpeg(image: Image) -> bool:
    """Whether a JPEG can be printed as it is: upright, and its colours those of sRGB."""
    orientation = 0x0112  # Exif, tag Orientation; 1 is upright
    if image.format != "JPEG" or image.mode not in ("RGB", "L"):
        return False
    return image.getexif().get(orientation, 1) == 1 and into_srgb(image) is None


def _decoded(image: Image) -> Raster:
    """Band by band: of a large picture there is only ever one copy besides what is handed on."""
    samples, alphas = io.BytesIO(), io.BytesIO()
    channels = 1 if image.mode in ("1", "L", *DEEP) else 3
    srgb = into_srgb(image)
    opaque = True
    rows = max(1, BAND_PIXELS // image.width)
    for top in range(0, image.height, rows):
        band = image.crop((0, top, image.width, min(top + rows, image.height)))
        if band.mode in ("RGBA", "LA", "PA", "RGBa", "La") or "transparency" in band.info:
            band, channels = band.convert("RGBA"), 3
            alpha = band.getchannel("A").tobytes()
            opaque = opaque and alpha.count(255) == len(alpha)
            alphas.write(alpha)
        elif band.mode in DEEP:
            # Pillow would cut these off at 255 instead of scaling them.
            band = band.convert("I").point(lambda value: value / 257.0).convert("L")
        if srgb is not None:
            band = srgb(band)
        samples.write(band.convert("L" if channels == 1 else "RGB").tobytes())
    return Raster(
        image.width,
        image.height,
        channels,
        samples.getvalue(),
        alpha=None if opaque else alphas.getvalue(),
    )

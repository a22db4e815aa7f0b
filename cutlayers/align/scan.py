"""A scan of a printed sheet: a grey picture that knows its scale."""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

import numpy as np

from cutlayers.telling.errors import AlignError

MM_PER_INCH = 25.4
MOST_PIXELS = 160_000_000
"""An A3 sheet at 600 dpi has 70 million."""

LEAST_DPI, MOST_DPI = 100.0, 2400.0
"""A line of 0.3 mm is little more than a pixel wide at 100 dpi."""


@dataclass(frozen=True, slots=True)
class Scan:
    """A grey picture of a sheet: 0 paper to 1 ink, rows from the top, pixels per mm each way."""

    ink: np.ndarray
    across: float
    up: float

    @property
    def width(self) -> float:
        """In mm."""
        return float(self.ink.shape[1] / self.across)

    @property
    def height(self) -> float:
        """In mm."""
        return float(self.ink.shape[0] / self.up)


def read_scan(content: bytes, name: str, dpi: float | None) -> Scan:
    """A scan from a PNG's or JPEG's bytes; `dpi` overrules what the file says.

    Raises AlignError for a file that is no such picture, is broken or too large, and where
    nobody says how many pixels make an inch.
    """
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            image: Image.Image = Image.open(io.BytesIO(content), formats=("PNG", "JPEG"))
        if image.width * image.height > MOST_PIXELS:
            raise AlignError(
                f"{name}: has {image.width} × {image.height} pixels; allowed are "
                f"{MOST_PIXELS // 1_000_000} million in all: scan at 300 dpi"
            )
        told = image.info.get("dpi")
        grey = np.asarray(image.convert("L"), dtype=np.float32)
    except Image.DecompressionBombError:
        raise AlignError(f"{name}: has too many pixels; scan at 300 dpi") from None
    except (OSError, SyntaxError, ValueError, EOFError, MemoryError) as error:
        if isinstance(error, AlignError):
            raise
        raise AlignError(
            f"{name}: is no PNG or JPEG that can be read; save the scan anew"
        ) from None
    across, up = (dpi, dpi) if dpi else map(float, told or (0.0, 0.0))
    for value in (across, up):
        if not LEAST_DPI <= value <= MOST_DPI:
            said = f"says {value:g} dots per inch" if value else "does not say its dots per inch"
            raise AlignError(
                f"{name}: {said}; allowed is {LEAST_DPI:g} to {MOST_DPI:g}: give --dpi"
            )
    return Scan(1.0 - grey / 255.0, across / MM_PER_INCH, up / MM_PER_INCH)

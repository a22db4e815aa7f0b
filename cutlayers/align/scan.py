"""A scan of a printed sheet: a grey picture that knows its scale."""

from __future__ import annotations

import io
import warnings

import numpy as np

from cutlayers.frozen import frozen
from cutlayers.telling.errors import AlignError
from cutlayers.telling.refusals import Refusal, Span

MM_PER_INCH = 25.4
MOST_PIXELS = 120_000_000
"""An A3 sheet at 600 dpi has 70 million; of each, up to six bytes are in memory at a time."""

LARGEST_MEGABYTES = 400
"""Of a scan's file; one of so many pixels in colour, packed as badly as can be, has 360."""

MOST_SIDE = 60_000
"""Pixels along a side; a picture of one column is decoded row by row, at a cost for each row."""

MOST_AREA = 1.1e6
"""mm²; an A0 sheet has 1,000,000. Marks are first looked for at 90 dpi, whatever a scan's own: such
a sheet has 12 million pixels there, which take a few hundred megabytes."""

LEAST_DPI, MOST_DPI = 100.0, 2400.0
"""A line of 0.3 mm is little more than a pixel wide at 100 dpi."""


@frozen
class Scan:
    """A grey picture of a sheet, rows from the top, pixels per mm each way.

    `grey` holds whole numbers from 0, ink, to 255, paper: a byte a pixel, since a scan has many.
    """

    grey: np.ndarray
    across: float
    up: float

    @property
    def width(self) -> float:
        """In mm."""
        return float(self.grey.shape[1] / self.across)

    @property
    def height(self) -> float:
        """In mm."""
        return float(self.grey.shape[0] / self.up)

    def ink(self, rows: np.ndarray, columns: np.ndarray) -> np.ndarray:
        """A part of it as ink, 0 to 1; of places beyond the edge, what lies at the edge."""
        rows = np.clip(rows, 0, self.grey.shape[0] - 1)
        columns = np.clip(columns, 0, self.grey.shape[1] - 1)
        return _ink(self.grey[np.ix_(rows, columns)])

    def shrunk(self, per_mm: float) -> np.ndarray:
        """The whole of it as ink, with so many pixels per mm, or as it is if it has no more.

        Each pixel is the mean of those it stands for, or fine lines would flicker.
        """
        from PIL import Image

        columns = max(1, round(self.width * min(per_mm, self.across)))
        rows = max(1, round(self.height * min(per_mm, self.up)))
        small = Image.fromarray(self.grey).resize((columns, rows), Image.Resampling.BILINEAR)
        return _ink(np.asarray(small))


def _ink(grey: np.ndarray) -> np.ndarray:
    ink: np.ndarray = 1.0 - grey.astype(float) / 255.0
    return ink


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
        if image.width * image.height > MOST_PIXELS or max(image.size) > MOST_SIDE:
            raise AlignError(_too_many(name, image.width, image.height))
        resolution = image.info.get("dpi")
        image.draft("L", None)  # a JPEG need not be decoded in colour first
        grey = np.asarray(image.convert("L"))
    except Image.DecompressionBombError:
        raise AlignError(_too_many(name)) from None
    except (OSError, SyntaxError, ValueError, EOFError, MemoryError) as error:
        if isinstance(error, AlignError):
            raise
        raise AlignError(
            Refusal(
                reason="is no PNG or JPEG that can be read",
                fault="unreadable",
                file=name,
                advice="save the scan anew",
            )
        ) from None
    across, up = (dpi, dpi) if dpi else map(float, resolution or (0.0, 0.0))
    for value in (across, up):
        if not LEAST_DPI <= value <= MOST_DPI:
            said = f"says {value:g} dots per inch" if value else "does not say its dots per inch"
            raise AlignError(
                Refusal(
                    reason=said,
                    fault="value",
                    file=name,
                    found=value or None,
                    allowed=Span(LEAST_DPI, MOST_DPI),
                    advice="give --dpi",
                )
            )
    scan = Scan(grey, across / MM_PER_INCH, up / MM_PER_INCH)
    if scan.width * scan.height > MOST_AREA:
        raise AlignError(
            Refusal(
                reason=f"is {{}} × {{}} large at {across:g} dots per inch",
                fault="value",
                file=name,
                found=[scan.width, scan.height],
                allowed="no larger than an A0 sheet, 841 × 1189 mm",
                advice="give --dpi",
                lengths=(round(scan.width), round(scan.height)),
            )
        )
    return scan


def _too_many(name: str, *size: int) -> Refusal:
    return Refusal(
        reason=f"is {size[0]} × {size[1]} pixels large" if size else "has far too many pixels",
        fault="unreadable",
        file=name,
        found=list(size) or None,
        allowed=f"at most {MOST_PIXELS // 1_000_000} million in all and {MOST_SIDE} along a side",
        advice="scan at 300 dpi",
    )

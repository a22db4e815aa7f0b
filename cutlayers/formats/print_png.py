"""A PNG to print, painted from the PDF, so that both show the same."""

from __future__ import annotations

import io
import math

from cutlayers.telling.errors import OutputError
from cutlayers.telling.refusals import Refusal

MOST_PIXELS = 250_000_000
"""A sheet of 500 × 700 mm at 600 dpi has 195 million. Each takes three bytes while it is painted:
more would fill a home computer's memory."""


HAIR = 1e-3
"""Pixels; far less than the eye sees, and more than the rounding of a page's size."""


def write_print_png(pdf: bytes, dpi: int) -> bytes:
    """Paint the first page's visible layers, `dpi` pixels per inch, stored in the file.

    A page that is no whole number of pixels gets a last row and column that are partly beyond it.
    Raises OutputError for a page that would have more than MOST_PIXELS.
    """
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    page = document[0]
    width, height = page.get_size()
    columns, rows = (_pixels(side, dpi) for side in (width, height))
    if columns * rows > MOST_PIXELS:
        raise OutputError(
            Refusal(
                ("print", "dpi"),
                f"is {dpi}, at which a PNG of this sheet has {columns * rows / 1e6:.0f} million "
                "pixels",
                "value",
                found=dpi,
                advice=f"lower it: a PNG may have {MOST_PIXELS // 1_000_000} million",
            )
        )
    # The painter stretches a page onto whole pixels; a page of whole pixels stays true.
    wide, high = ((count - HAIR) * 72.0 / dpi for count in (columns, rows))
    page.set_mediabox(0.0, height - high, wide, height)
    # Painted in the order of bytes that the file has, so that no second picture is needed.
    bitmap = page.render(scale=dpi / 72, rev_byteorder=True)
    out = io.BytesIO()
    bitmap.to_pil().save(out, format="PNG", dpi=(dpi, dpi))
    bitmap.close()
    document.close()
    return out.getvalue()


def _pixels(points: float, dpi: int) -> int:
    return math.ceil(points / 72.0 * dpi - 2 * HAIR)

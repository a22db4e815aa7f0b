"""A PNG to print, painted from the PDF, so that both show the same."""

from __future__ import annotations

import io

from cutlayers.errors import OutputError

MOST_PIXELS = 400_000_000
"""A sheet of 500 × 700 mm at 600 dpi has 195 million; far more fill a home computer's memory."""


def write_print_png(pdf: bytes, dpi: int) -> bytes:
    """Paint the first page's visible layers, `dpi` pixels per inch, stored in the file.

    Raises OutputError for a page that would have more than MOST_PIXELS.
    """
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    page = document[0]
    width, height = page.get_size()
    pixels = width / 72 * dpi * height / 72 * dpi
    if pixels > MOST_PIXELS:
        raise OutputError(
            f"a PNG of this sheet at {dpi} dpi has {pixels / 1e6:.0f} million pixels; allowed are "
            f"{MOST_PIXELS // 1_000_000}: lower print.dpi"
        )
    image = page.render(scale=dpi / 72).to_pil().convert("RGB")
    document.close()
    out = io.BytesIO()
    image.save(out, format="PNG", dpi=(dpi, dpi))
    return out.getvalue()

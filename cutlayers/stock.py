"""Card and paper: sheet sizes, thickness, weight and grain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SHEETS_MM: dict[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "A6": (105.0, 148.0),
    "letter": (8.5 * 25.4, 11 * 25.4),
    "legal": (8.5 * 25.4, 14 * 25.4),
    "tabloid": (11 * 25.4, 17 * 25.4),
}
"""Width and height, upright. Sources: ISO 216:2007 (A series); ASME Y14.1 sizes A and B for
letter and tabloid; legal is a trade size."""

Grain = Literal["long", "short", "unknown"]


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of card in fixed sheets.

    `caliper` is the thickness in mm, `grammage` the weight in g/m², `sheet` width and height
    in mm, `grain` the way the fibres run: along the long or the short side of the sheet.
    """

    name: str
    caliper: float
    sheet: tuple[float, float]
    grammage: float | None = None
    grain: Grain = "unknown"

    @property
    def sheet_weight_g(self) -> float | None:
        """Weight of one sheet in grams, where the grammage is known."""
        if self.grammage is None:
            return None
        return self.grammage * self.sheet[0] * self.sheet[1] / 1e6

"""The thickness of card as people write it, who buy it by weight or by thousandths of an inch."""

from __future__ import annotations

import re

from cutlayers.frozen import frozen
from cutlayers.reading.declared import Length
from cutlayers.reading.values import ValueRefused, read_length
from cutlayers.telling.lengths import MM_PER, Unit
from cutlayers.telling.refusals import Span
from cutlayers.telling.written import shown

SMALLEST_CALIPER, LARGEST_CALIPER = 0.02, 5.0
"""mm; from tissue to greyboard."""

POINTS, WEIGHTS = (8.0, 30.0), (60.0, 2000.0)
"""Bare numbers that are no caliper in mm but one in thousandths of an inch, or a weight in g/m²."""

_SOLD_BY = re.compile(
    r"(?P<number>\d{1,4}(?:\.\d{1,3})?)\s*(?P<unit>g|gsm|g/m²|g/m2|lbs?|#|pts?|mils?)?",
    re.IGNORECASE,
)


@frozen
class Caliper(Length):
    """The thickness of a sheet. Card is sold by its weight, so that is what people have at hand."""

    def read(self, value: object, unit: Unit) -> float:
        """In mm; what looks like a weight or like points is answered with what it means."""
        try:
            return read_length(value, unit, self.least, self.most)
        except ValueRefused:
            advice = _sold_by(value, unit)
            if not advice:
                raise
            reason = f"is {shown(value)}, which is no thickness" if isinstance(value, str) else ""
            allowed = Span(self.least, self.most, "mm")
            raise ValueRefused(
                reason, fault="value", found=value, allowed=allowed, unit=unit, advice=advice
            ) from None


CALIPER = Caliper(SMALLEST_CALIPER, LARGEST_CALIPER, "thickness of the card (0.02 mm to 5 mm)")


def read_caliper(value: object, unit: Unit = "mm") -> float:
    """The thickness of a sheet in mm, as a job file has it: a number in that unit, or a text with
    its own. Raises ValueRefused, which says what to do with a weight."""
    return CALIPER.read(value, unit)


def _sold_by(value: object, in_unit: Unit) -> str:
    """What to do with a number that card is sold by, in the place of its thickness; told in the
    unit of the file.

    Sources: a point, or mil, is a thousandth of an inch; the bulk of card, its caliper in µm by
    its weight in g/m² (ISO 534), is 1.0 to 1.5 as a rule (common practice, no source).
    """
    match = _SOLD_BY.fullmatch(str(value).strip()) if not isinstance(value, bool) else None
    if match is None:
        return ""
    number, unit = float(match["number"]), (match["unit"] or "").lower()
    if unit in ("lb", "lbs", "#"):
        return "pounds are a weight, whose thickness depends on the grade; measure ten sheets"
    if unit in ("pt", "pts", "mil", "mils") or (not unit and POINTS[0] <= number <= POINTS[1]):
        written = f"{number / 1000:g}" if in_unit == "in" else f'"{number * 0.0254:.3f} mm"'
        return f"{number:g} points, or mils, are written {written}"
    if unit or WEIGHTS[0] <= number <= WEIGHTS[1]:
        thin, thick = (
            f"{number * bulk / 1000 / MM_PER[in_unit]:.2g} {in_unit}" for bulk in (1.0, 1.5)
        )
        return (
            f"{number:g} g/m² is a weight and goes into grammage; such card is {thin} to {thick} "
            "thick as a rule: measure ten sheets and divide"
        )
    return ""

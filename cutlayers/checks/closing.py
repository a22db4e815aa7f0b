"""Do the panels meet again where hinges close a loop?"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.telling.findings import Finding, Severity


def check_closing(box: Assembly, limits: Limits) -> tuple[Finding, ...]:
    """An error for each left-over hinge whose panels miss each other or meet at another angle."""
    return tuple(_open_loops(box, limits))


def _open_loops(box: Assembly, limits: Limits) -> Iterator[Finding]:
    for folded in box.boxes:
        for closure in folded.closures:
            hinge = closure.hinge
            place = f"{folded.net.name}: {hinge.first} | {hinge.second}"
            if closure.gap > limits.closure:
                yield Finding(
                    Severity.ERROR,
                    "closure",
                    place,
                    f"the two panels miss each other by {closure.gap:.2f} mm once folded",
                    f"up to {limits.closure:g} mm",
                    "make the sizes or fold angles round this corner agree",
                )
            elif closure.angle_deg > limits.closure_deg:
                yield Finding(
                    Severity.ERROR,
                    "closure-angle",
                    place,
                    f"the panels meet {closure.angle_deg:.2f}° off the fold angle "
                    f"of {hinge.fold_deg:.2f}°",
                    f"up to {limits.closure_deg:g}°",
                    "correct the fold angles round this corner",
                )

"""From which measure on a check speaks up."""

from __future__ import annotations

from typing import Annotated

from cutlayers.box.box import ROOMY_LID
from cutlayers.frozen import frozen
from cutlayers.reading.declared import Length, Whole


@frozen
class Limits:
    """Allowed measures, in mm where not said otherwise. All are common practice, not standards:
    a job may set its own where a field says what the file may have.

    Example:

        [limits]
        tab_depth = 6
        lid_tight = 0.3
        lid_loose = 1.5
        layers = 2
    """

    closure: float = 0.05
    """Gap at a hinge that closes a loop; no hand folds more exactly."""
    closure_deg: float = 0.5
    """Difference between a hinge's angle and that of its panels, in degrees."""
    overhang: float = 0.1
    """How far a glue tab may stick out beside what it lands on."""
    tab_depth: Annotated[float, Length(1.0, 60.0, "least depth of a glued strip")] = 4.0
    """8 to 15 mm is common."""
    lid_tight: Annotated[
        float, Length(0.0, 10.0, "least room between lid and base on each side")
    ] = 0.25
    lid_loose: Annotated[
        float, Length(0.0, 20.0, "most room between lid and base on each side")
    ] = ROOMY_LID
    layers: Annotated[int, Whole(1, 20, "most layers of card that a punch goes through")] = 4
    hole_border: float = 2.0
    """Card to leave round a punched hole when another place is proposed for it."""

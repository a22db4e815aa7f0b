"""From which measure on a check speaks up."""

from __future__ import annotations

from dataclasses import dataclass

from cutlayers.box.box import ROOMY_LID


@dataclass(frozen=True, slots=True)
class Limits:
    """Allowed measures, in mm where not said otherwise. All are common practice, not standards:
    a job may set its own for the lid, the glue tabs and the punch."""

    closure: float = 0.05
    """Gap at a hinge that closes a loop; no hand folds more exactly."""
    closure_deg: float = 0.5
    """Difference between a hinge's angle and that of its panels, in degrees."""
    overhang: float = 0.1
    """How far a glue tab may stick out beside what it lands on."""
    tab_depth: float = 4.0
    """Least depth of a glued strip; 8 to 15 mm is common."""
    lid_tight: float = 0.25
    """Least room between lid and base on each side."""
    lid_loose: float = ROOMY_LID
    """Most room between lid and base on each side."""
    layers: int = 4
    """Most layers of card that a punch is to go through."""
    hole_border: float = 2.0
    """Card to leave round a punched hole when another place is proposed for it."""

"""What is to be done to the card, line by line, before any tool is chosen.

Guarantee from here on: no line is listed twice, every cut outline is closed, and each stroke
carries exactly one operation.
"""

from __future__ import annotations

from dataclasses import field, replace
from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.telling.findings import Subject


class Operation(StrEnum):
    """The work operations, in working order."""

    DRAW = "draw"
    SCORE = "score"
    PERFORATE = "perforate"
    CUT = "cut"


class Part(StrEnum):
    """What a stroke is to the piece; tool width is taken up by it."""

    OUTLINE = "outline"
    """Closed, counter-clockwise: material lies inside."""
    OPENING = "opening"
    """Closed, clockwise: material lies outside."""
    SLIT = "slit"
    """Material on both sides."""
    FOLD = "fold"
    """A hinge between two panels."""
    MARK = "mark"
    """On the surface only: guide lines and lettering."""


class Fold(StrEnum):
    """Which way a hinge folds, seen from the face that lies up, the outside of the box."""

    MOUNTAIN = "mountain"
    """The panels turn away from the viewer."""
    VALLEY = "valley"
    """The panels turn towards the viewer."""


@frozen
class Stroke:
    """One line of work; `fold` is set for folds alone. `name` says what it belongs to, `subject`
    the same for findings; a line that belongs to no net has an empty one.

    `glued` are the stretches of a cut contour that bound glue tabs: on the finished box they
    lie under another panel, so a cut may start there, and no bridge may stand there.
    """

    operation: Operation
    path: Path
    part: Part
    name: str
    fold: Fold | None = None
    glued: tuple[Path, ...] = ()
    subject: Subject = field(default=Subject(), compare=False)

    def found_at(self, point: Point | None = None) -> Subject:
        """What a finding about this line speaks of, and where on the sheet."""
        own = self.subject if self.subject != Subject() else Subject(feature=self.name)
        return replace(own, part=self.part.value, at=point)

    def transformed(self, transform: Transform) -> Stroke:
        """The stroke moved. Only motions that keep the face up (no mirror) make sense here."""
        return replace(
            self,
            path=self.path.transformed(transform),
            glued=tuple(path.transformed(transform) for path in self.glued),
        )

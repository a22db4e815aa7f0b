"""What each stage of making a job hands to the next: frozen values, nothing written yet.

Job ─▶ Layout (sheets, worked out) ─▶ Planned (in order) ─▶ Drawn (drawings, pictures) ─▶ files
Job ─▶ Shown (boxes folded up, as people see them) ─────────▲
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.job.order import Job
from cutlayers.making.printing import PrintedSheet
from cutlayers.making.sides import DrawnSide, LaidSide, PlannedSide
from cutlayers.profile.machine import Machine
from cutlayers.profile.setup_sheet import SetupSheet
from cutlayers.report.report import Report
from cutlayers.sheets.model import Sheet
from cutlayers.telling.findings import Finding, Severity

if TYPE_CHECKING:  # a job without art loads no areas, a layout no guide
    from cutlayers.guide.model import Guide
    from cutlayers.pictures.foldable import Foldable
    from cutlayers.pictures.folded import DrawnView
    from cutlayers.pictures.scene import Scene
    from cutlayers.sheets.artwork import SheetInk
    from cutlayers.solids.model import Model


@frozen
class Layout:
    """A job on its sheets, and all that is to be said against it.

    Guaranteed: each side of each sheet is worked out for the machine, in no order yet, the back
    of a sheet before its front; `findings` are all that is ever found, each once.
    """

    job: Job
    machine: Machine
    sheets: tuple[Sheet, ...]
    sides: tuple[LaidSide, ...]
    inks: Mapping[int, SheetInk]
    """What is printed first, by the sheet's number, where a sheet has art."""
    checked: Mapping[str, tuple[Finding, ...]]
    """What is wrong with each box, by the order's name; among `findings` too."""
    setup_sheets: tuple[SetupSheet, ...]
    """What to load into the machine for each stock."""
    findings: tuple[Finding, ...]

    @property
    def works(self) -> bool:
        """Whether no finding is an error."""
        return all(each.severity is not Severity.ERROR for each in self.findings)


@frozen
class Shown:
    """The boxes of a job folded up, as people see them."""

    views: Mapping[str, tuple[DrawnView, ...]]
    """The usual views of each kind of box, by the order's name."""
    pictures: Mapping[str, Scene]
    """A picture of each kind of box on its way and finished, by the stem of its file."""


@frozen
class Planned:
    """A layout whose lines are in working order. Guaranteed: the sides are those of the layout."""

    layout: Layout
    sides: tuple[PlannedSide, ...]


@frozen
class Drawn:
    """All drawings and pictures of a job, as values. `report` names no files so far."""

    machine: Machine
    sides: tuple[DrawnSide, ...]
    prints: tuple[PrintedSheet, ...]
    folded: Mapping[str, Scene]
    """A picture of each kind of box on its way and finished, by the stem of its file."""
    foldables: tuple[Foldable, ...]
    """Each kind of box as it folds, for whoever turns it in a browser; in the job's order."""
    guide: Guide
    report: Report
    solids: Mapping[str, Model] = field(default_factory=dict)
    """Each kind of box folded up, where the profile asks for it as a file, by the stem of that."""

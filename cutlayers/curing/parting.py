"""A blank is larger than its sheet, and its style can cut it in parts.

Measured: the blank's width and height in its best turn, against the sheet as far as the machine
reaches it, register marks and borders taken off.

Why: no turn lays the blank on the sheet, so it cannot be cut at all.

Cure: a larger sheet, or a smaller box; or the option of the style that cuts the blank in more
parts, such as `lid_parts`, which are glued to one before anything is folded. The number of parts is
tried: each then lies on a sheet.

Source: the blank's outline, laid on the empty sheet.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.job.order import Job
from cutlayers.profile.machine import Machine
from cutlayers.sheets.kinds import TooLargeError
from cutlayers.sheets.parting import in_parts
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Cure, Edit, Finding, Severity, Subject, at_most
from cutlayers.telling.quantities import length
from cutlayers.telling.refusals import in_unit
from cutlayers.telling.words import cure_in_words


def cured_by_parts(
    error: PlacementError, job: Job, machine: Machine
) -> tuple[Finding, Cure] | None:
    """A blank that is too large as a finding, and the edit that cuts it in parts; None where that
    does not help."""
    if not isinstance(error, TooLargeError):
        return None
    index = [order.name for order in job.orders].index(error.piece.order)
    found = in_parts(error, job.orders[index].box.origin, machine, job.sheets)
    if found is None:
        return None
    finding = Finding(
        "blank-too-large",
        Severity.ERROR,
        Subject(piece=error.piece.order, net=error.piece.blank.name),
        tuple(map(length, error.size)),
        at_most(*map(length, error.room)),
    )
    option, count = found
    return finding, Cure((Edit(("piece", index, "options", option), count),))


def with_advice(error: PlacementError, job: Job, machine: Machine) -> PlacementError:
    """A refusal of sheets in the job's unit, which tells of the parts in which a blank would lie
    on them."""
    refusals = in_unit(job.unit, error.refusals)
    cured = cured_by_parts(error, job, machine)
    if cured is None:
        return PlacementError(*refusals)
    (refusal,) = refusals
    advice = f"{refusal.advice}; or cut it in parts: {cure_in_words(cured[1], job.unit)}"
    return PlacementError(replace(refusal, advice=advice))

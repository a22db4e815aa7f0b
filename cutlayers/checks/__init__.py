"""What may go wrong with a box, found by folding it up before it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from cutlayers.box import Box
from cutlayers.fitting import Item
from cutlayers.geometry.transforms import Point
from cutlayers.job.limits import Limits
from cutlayers.net import Net
from cutlayers.telling.findings import Finding, Severity, Subject

if TYPE_CHECKING:
    from cutlayers.box.facing import GluedOn


def check_box(
    box: Box,
    *,
    item: Item | None = None,
    limits: Limits | None = None,
    grain: Mapping[str, Point] | None = None,
    glued_on: GluedOn = (),
) -> tuple[Finding, ...]:
    """Tell everything that is wrong with a box that is folded up.

    `item` is the thing to be packed, `glued_on` are facing pieces, each with its caliper, `grain`
    is the direction of the fibres in each net's flat
    coordinates, by its name; what is not known is not checked. Whether a blank fits on a sheet is
    seen where it is placed. Errors come first, then warnings; within these, in the order in which a
    maker meets them.

    A net with a curved hinge and no facets cannot be folded as rigid panels: a note says so, and
    the whole box then gets no findings but those of its flat blanks.
    """
    # The measuring library is heavy, and whoever only asks for `Limits` does without it.
    from cutlayers.box.facing import thickness
    from cutlayers.checks.calipers import check_calipers
    from cutlayers.checks.closing import check_closing
    from cutlayers.checks.colliding import check_colliding
    from cutlayers.checks.flat import check_flat
    from cutlayers.checks.gluing import check_gluing
    from cutlayers.checks.grain import check_grain
    from cutlayers.checks.lid import check_lid
    from cutlayers.checks.locking import check_locking
    from cutlayers.checks.meeting import check_meeting
    from cutlayers.checks.packed import check_packed
    from cutlayers.checks.punching import check_punching

    faced = thickness(glued_on) if glued_on else {}
    allowed = limits or Limits()
    found: list[Finding] = []
    nets, card = box.nets, box.card
    curved = [blank.net for blank in box.wholes if not blank.foldable]
    if curved:
        found.extend(_not_folded(net) for net in curved)
    else:
        folded = box.assembly
        found.extend(check_closing(folded, allowed))
        found.extend(finding for net in nets for finding in check_flat(net))
        drawn = box.origin is None and not any(net.caliper for net in nets)
        found.extend(check_gluing(folded, allowed, 2.0 * card.caliper if drawn else 0.0))
        found.extend(check_meeting(folded))
        found.extend(check_colliding(folded, card))
        if box.goes_together:
            found.extend(check_lid(folded, card, allowed, faced))
        found.extend(check_locking(folded, nets, allowed))
        if item is not None:
            found.extend(check_packed(folded, item, card, faced))
        found.extend(check_punching(folded, card, allowed, glued_on))
    found.extend(check_lettering(box, box))
    found.extend(check_calipers(box))
    for net in nets:
        if grain is not None and net.name in grain:
            found.extend(check_grain(net, grain[net.name]))
    rank = list(Severity)
    return tuple(sorted(found, key=lambda finding: rank.index(finding.severity)))


LETTERING = ("drawn-under-panel", "lettering-upside-down", "drawn-across-crease")
"""Codes of what `check_lettering` finds."""


def check_lettering(box: Box, finished: Box) -> Iterator[Finding]:
    """What `check_box` says of the letters and guides of a box. `finished` has the same panels,
    whatever stands on them: many boxes that differ in their letters alone are folded up once."""
    from cutlayers.checks.across_crease import check_across_crease
    from cutlayers.checks.under_panel import check_under_panel
    from cutlayers.checks.upside_down import check_upside_down

    if finished.foldable:
        yield from check_under_panel(box.nets, finished)
    yield from check_upside_down(box.nets, finished)
    yield from check_across_crease(box.nets, box.card)


def _not_folded(net: Net) -> Finding:
    """A net whose folds are curves is not folded up.

    Measured: nothing. The net has a curved fold, and card bends there instead of turning; a box
    that is folded up here is made of stiff flat panels.

    Why: whether the box closes, what fits in, whether tabs land and what lies at its holes is not
    known for such a net, so no finding of these kinds is told. That is no sign that all is well.

    Cure: none is needed. Fold one up from the card you mean to use before you cut many.

    Source: common practice, no source.
    """
    return Finding("curved", Severity.NOTE, Subject(net=net.name))


__all__ = ["LETTERING", "Limits", "check_box", "check_lettering"]

"""What is worth knowing about a job's art before anything is printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutlayers.artwork.model import Art, Lettering, Picture
from cutlayers.artwork.panel_ink import PanelInk
from cutlayers.box import Blank
from cutlayers.box.covers import Cover
from cutlayers.geometry.overlays import common, together
from cutlayers.job.order import Job, Order
from cutlayers.net import Net
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings
from cutlayers.sheets.artwork import print_settings
from cutlayers.sheets.pieces import art_on
from cutlayers.telling.findings import Finding, Severity

LEAST_DPI = 150
"""Common practice: below this a picture looks coarse in the hand, at 300 it looks sharp."""

SHOWN_SHARE = 0.995
"""A share smaller than what is left counts as a rounding of the fold, not as covered."""


def art_findings(job: Job, machine: Machine) -> tuple[Finding, ...]:
    """Art that a lid or a glued panel hides, that has no room, or that will look coarse."""
    settings = print_settings(machine, job.printing)
    found: list[Finding] = []
    for order in job.orders:
        hidden = order.box.covers if order.art else ()
        for blank in order.box.blanks:
            art = art_on(blank.net, order.art)
            found.extend(_on_blank(order, blank, art, settings, hidden))
        for facing in order.facings:
            found.extend(_on_blank(order, facing.blank, facing.art, settings, hidden))
    return tuple(dict.fromkeys(found))


def _on_blank(
    order: Order,
    blank: Blank,
    arts: tuple[Art, ...],
    settings: PrintSettings,
    hidden: Sequence[Cover],
) -> Iterator[Finding]:
    net = blank.net
    inked = blank.inked(arts, settings.bleed, settings.safe_margin)
    inks = {(art, panel): ink for art, panel, ink in inked.inks}
    for art in arts:
        if isinstance(art.source, Picture) and art.source.painted_as_pixels:
            yield Finding(
                Severity.NOTE,
                "art-as-pixels",
                art.place,
                f"{art.source.name} holds gradients or effects, so it is printed as pixels",
                advice="plain fills and lines stay sharp at any size",
            )
        for spot in art.spots:
            ink = inks[art, spot.panel]
            where = f"{art.place} on {order.name}: {net.name}, {spot.panel!r}"
            yield from _room(art, ink, where, settings)
            yield from _hidden(art, ink, spot.panel, net, where, hidden)


def _room(art: Art, ink: PanelInk, where: str, settings: PrintSettings) -> Iterator[Finding]:
    margin = f"a safe margin of {settings.safe_margin:g} mm"
    if not ink.items:
        yield Finding(
            Severity.ERROR,
            "art-without-room",
            where,
            f"the panel has no room for it within {margin}",
            advice="choose larger panels or a smaller print.safe_margin",
        )
    elif ink.fit < 1.0 - 1e-6 and isinstance(art.source, Lettering):
        height = art.source.height or 0.0
        yield Finding(
            Severity.WARNING,
            "lettering-reduced",
            where,
            f"its height of {height:g} mm does not fit within {margin}, so it becomes "
            f"{height * ink.fit:.1f} mm",
            advice="give a smaller height, or more lines",
        )
    if ink.pixels_per_mm is not None and ink.pixels_per_mm * 25.4 < LEAST_DPI:
        yield Finding(
            Severity.WARNING,
            "art-coarse",
            where,
            f"the picture has {ink.pixels_per_mm * 25.4:.0f} pixels per inch there",
            f"{LEAST_DPI} or more",
            "use a larger picture, or an SVG",
        )


def _hidden(
    art: Art, ink: PanelInk, panel: str, net: Net, where: str, hidden: Sequence[Cover]
) -> Iterator[Finding]:
    mine = [cover for cover in hidden if cover.net == net.name and cover.panel == panel]
    if not mine or not ink.items or not ink.area.area:
        return
    lost = common(together(cover.area for cover in mine), ink.area).area
    share = lost / ink.area.area
    if share <= 1.0 - SHOWN_SHARE:
        return
    by = ", ".join(dict.fromkeys(cover.by for cover in mine))
    yield Finding(
        Severity.WARNING,
        "art-covered",
        where,
        f"{share:.0%} of it is hidden on the finished box by {by}",
        advice="place it on another panel" if not art.spreads else "",
    )

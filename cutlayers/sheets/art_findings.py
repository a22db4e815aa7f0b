"""What is worth knowing about a job's art before anything is printed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.model import Art, Lettering, Picture
from cutlayers.artwork.panel_ink import PanelInk
from cutlayers.box import Blank
from cutlayers.box.covers import Cover
from cutlayers.box.facing import Facing
from cutlayers.geometry.overlays import as_area, common, together
from cutlayers.job.order import Job, Order
from cutlayers.net import Work
from cutlayers.net.faces import FACE_CHORD, into_creases, pierced
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings
from cutlayers.sheets.artwork import print_settings
from cutlayers.sheets.pieces import art_on
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, at_most, details
from cutlayers.telling.quantities import count, length, share

LEAST_DPI = 150
"""Common practice: below this a picture looks coarse in the hand, at 300 it looks sharp."""

UNDER = 0.005
"""Share of a drawn line from which on it counts as covered."""

TOUCHING = 0.01
"""mm by which print may reach into a crease."""

SHOWN_SHARE = 0.995
"""A share smaller than what is left counts as a rounding of the fold, not as covered."""


Hiding = tuple[tuple[str, str | None], ...]
"""The nets and panels that hide something, as a cover has them."""

Hidden = Mapping[tuple[str, str], tuple[BaseGeometry, Hiding]]
"""What of panels is hidden, by net and panel."""


def art_findings(
    job: Job, machine: Machine, progress: Callable[[int], None] = lambda _: None
) -> tuple[Finding, ...]:
    """Art that a lid, a facing or a glued panel hides, that has no room, or that will look coarse,
    and lines drawn under a facing. `progress` is told 1 for each order."""
    settings = print_settings(machine.printing, job.printing)
    found: list[Finding] = []
    for order in job.orders:
        faced = tuple(map(_cover, order.facings))
        hidden = _hiding((*order.box.covers, *faced)) if order.art else {}
        for blank in order.box.blanks:
            art = art_on(blank.net, order.art)
            found.extend(_on_blank(order, blank, art, settings, hidden))
            found.extend(_across_creases(order, blank, art, settings))
        for number, (facing, cover) in enumerate(zip(order.facings, faced, strict=True)):
            found.extend(_drawn_under(order, cover))
            over = _over(facing, faced[number + 1 :], order) if facing.art else ()
            found.extend(_on_blank(order, facing.blank, facing.art, settings, _hiding(over)))
        progress(1)
    return tuple(dict.fromkeys(found))


def _cover(facing: Facing) -> Cover:
    """What a facing hides of its panel."""
    (card,) = pierced(facing.net.panels)
    return Cover(facing.on.net, facing.on.panel, as_area(card), (facing.net.name, None))


def _hiding(covers: Iterable[Cover]) -> Hidden:
    """Covers by the net and the panel that they hide parts of."""
    found: dict[tuple[str, str], list[Cover]] = {}
    for cover in covers:
        found.setdefault((cover.net, cover.panel), []).append(cover)
    return {
        where: (together(each.area for each in mine), tuple(dict.fromkeys(c.by for c in mine)))
        for where, mine in found.items()
    }


def _over(facing: Facing, later: Sequence[Cover], order: Order) -> Iterator[Cover]:
    """What hides parts of a facing: what hides its panel, and facings that are glued on after it.
    It is drawn where its panel lies, so they lie over it where they lie over that."""
    for cover in (*order.box.covers, *later):
        if (cover.net, cover.panel) == (facing.on.net, facing.on.panel):
            yield replace(cover, net=facing.net.name, panel=facing.net.panels[0].name)


def _drawn_under(order: Order, cover: Cover) -> Iterator[Finding]:
    """Lettering or guide lines are drawn where a facing goes.

    Measured: how many of the lines drawn on a panel, letters and guides, lie under the piece that
    is glued on it, from half a per cent of a line's length on.

    Why: the facing is glued on while the card is flat, and what is under it is never seen again:
    the pen's work is lost, or its ink shows through thin paper.

    Cure: put the lettering on another panel or take it from this one, or leave this panel out of
    the facing's.

    Source: geometry of the facing; that ink shows through thin paper is common practice, no source.
    """
    lines = [
        shapely.LineString(feature.path.points(FACE_CHORD))
        for feature in order.box.blank(cover.net).net.panel(cover.panel).features
        if feature.work is Work.GUIDE
    ]
    under = [line for line in lines if common(line, cover.area).length > UNDER * line.length]
    if under:
        where = Subject(piece=order.name, net=cover.net, panel=cover.panel)
        yield Finding(
            "drawn-under-facing", Severity.WARNING, where, (count(len(under)),), at_most(count(0))
        )


def _on_blank(
    order: Order,
    blank: Blank,
    arts: tuple[Art, ...],
    settings: PrintSettings,
    hidden: Hidden,
) -> Iterator[Finding]:
    net = blank.net
    inked = blank.inked(arts, settings.bleed, settings.safe_margin)
    inks = {(art, panel): ink for art, panel, ink in inked.inks}
    for art in arts:
        if isinstance(art.source, Picture) and art.source.painted_as_pixels:
            yield _as_pixels(Subject(art=art.place, piece=order.name), art.source)
        if isinstance(art.source, Picture) and art.source.first_of_several:
            yield _first_frame(Subject(art=art.place, piece=order.name), art.source)
        for spot in art.spots:
            ink = inks[art, spot.panel]
            where = Subject(piece=order.name, net=net.name, panel=spot.panel, art=art.place)
            yield from _room(art, ink, where, settings)
            yield from _coarse(ink, where)
            yield from _hidden(art, ink, where, hidden.get((net.name, spot.panel)))


def _across_creases(
    order: Order, blank: Blank, arts: tuple[Art, ...], settings: PrintSettings
) -> Iterator[Finding]:
    """Lettering or a picture is printed across a crease.

    Measured: how far the printed letters, or a picture that stands whole on its panel, reach into
    the crease beside them. A crease is as broad as the card is thick, to either side; where a panel
    is folded right over, as broad as the strip of card that stands there. Colour, patterns and
    pictures that fill a panel end in its creases, and are not told.

    Why: a crease is pressed and bends: ink cracks there, and letters that lie half round a corner
    are hard to read.

    Cure: give a larger `safe_margin` under [print] in the job, or a smaller `height`.

    Source: common practice, no source; a crease takes about a caliper to either side.
    """
    net = blank.net
    for art, panel, ink in blank.inked(arts, settings.bleed, settings.safe_margin).inks:
        if art.spreads or not ink.fits:
            continue
        reach = into_creases(net, panel, order.box.card.of(net.name).caliper, ink.area)
        if reach > TOUCHING:
            where = Subject(piece=order.name, net=net.name, panel=panel, art=art.place)
            yield Finding(
                "art-across-crease",
                Severity.WARNING,
                where,
                (length(reach),),
                at_most(length(0.0)),
                details=details(margin=length(settings.safe_margin)),
            )


def _as_pixels(where: Subject, picture: Picture) -> Finding:
    """A drawing is printed as pixels.

    Measured: nothing. An SVG picture holds gradients, filters or other effects that cannot be kept
    as lines and plain fills, so it is painted into pixels first.

    Why: pixels are as sharp as they are many, and no sharper at a larger size. Plain fills and
    lines stay sharp at any size.

    Cure: none is needed where it looks well in print. Else use plain fills and lines in the
    drawing.

    Source: common practice, no source.
    """
    return Finding("art-as-pixels", Severity.NOTE, where, details=details(picture=picture.name))


def _first_frame(where: Subject, picture: Picture) -> Finding:
    """A picture's file holds further pictures, of which none is printed.

    Measured: nothing. The file has several frames, as a film in GIF or WebP has, or several pages,
    as a scan in TIFF has. The first is taken.

    Why: what you saw in another program may be another page, or a frame from the middle.

    Cure: if it is the wrong one, save the right one as a picture of its own.

    Source: none is needed.
    """
    return Finding("art-first-frame", Severity.NOTE, where, details=details(picture=picture.name))


def _room(art: Art, ink: PanelInk, where: Subject, settings: PrintSettings) -> Iterator[Finding]:
    """Art that finds no room on its panel, or less than was asked for.

    Measured: the room of a panel within the safe margin. art-without-room: nothing is left of it.
    lettering-reduced: the height of letters that was asked for, against the height at which the
    lines fit.

    Why: what is printed nearer to an edge than the safe margin is easily cut off, since print and
    cut never meet exactly. Letters smaller than you planned may be hard to read.

    Cure: choose larger panels, or a smaller `safe_margin` under [print]. For lettering give a
    smaller `height`, or break the words into more lines.

    Source: common practice, no source.
    """
    margin = details(margin=length(settings.safe_margin))
    if not ink.fits:
        yield Finding("art-without-room", Severity.ERROR, where, details=margin)
    elif ink.fit < 1.0 - 1e-6 and isinstance(art.source, Lettering):
        height = art.source.height or 0.0
        yield Finding(
            "lettering-reduced",
            Severity.WARNING,
            where,
            (length(height),),
            at_most(length(height * ink.fit)),
            details=margin,
        )


def _coarse(ink: PanelInk, where: Subject) -> Iterator[Finding]:
    """A picture has too few pixels for the size at which it is printed.

    Measured: pixels per inch of the picture at the size that it has on the panel, against 150.

    Why: below that the steps of the pixels are seen at reading distance, and edges look frayed.

    Cure: use a picture of more pixels, an SVG, or a smaller place for it. Enlarging the file adds
    pixels, but no sharpness.

    Source: common practice, no source: below 150 a picture looks coarse in the hand, at 300 sharp.
    """
    if ink.pixels_per_mm is not None and ink.pixels_per_mm * 25.4 < LEAST_DPI:
        yield Finding(
            "art-coarse",
            Severity.WARNING,
            where,
            (count(round(ink.pixels_per_mm * 25.4)),),
            at_least(count(LEAST_DPI)),
        )


def _hidden(
    art: Art, ink: PanelInk, where: Subject, hidden: tuple[BaseGeometry, Hiding] | None
) -> Iterator[Finding]:
    """Art that the finished box hides.

    Measured: the share of the ink on a panel that a facing or other panels cover once the box is
    folded and shut, from half a per cent on: a glue tab, a lid, a flap over it.

    Why: ink and the middle of a picture are lost where nobody sees them, and printed areas take
    glue badly.

    Cure: place the art on another panel, one that 'cutlayers styles STYLE' lists and that stays in
    sight; a pattern that covers the whole box may well run on under a lid.

    Source: geometry of the folded box; that glue holds worse on ink is common practice, no source.
    """
    if hidden is None or not ink.fits or not ink.area.area:
        return
    area, by = hidden
    if not area.intersects(ink.area):
        return
    covered = common(area, ink.area).area / ink.area.area
    if covered <= 1.0 - SHOWN_SHARE:
        return
    yield Finding(
        "art-covered",
        Severity.WARNING,
        where,
        (share(covered),),
        others=tuple(
            Subject(piece=where.piece, net=net_name, panel=panel_name)
            for net_name, panel_name in by
        ),
        details=details(spreads=art.spreads),
    )

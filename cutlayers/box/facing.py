"""Decorative pieces to be glued on panels: a little smaller all round, on a stock of their own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

from cutlayers.artwork.model import Art, Spot
from cutlayers.artwork.regions import area_of
from cutlayers.box.blank import Blank
from cutlayers.frozen import frozen
from cutlayers.geometry.offsetting import offset, offset_parts
from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Panel, Role, Stand, Work
from cutlayers.telling.errors import CollapseError, StyleError
from cutlayers.telling.refusals import Refusal, verbatim
from cutlayers.telling.written import shown

Faced = Mapping[tuple[str, str], float]
"""How thick the card is that is glued on the outside of panels, in mm, by net and panel."""

BARE: Faced = MappingProxyType({})
"""No panel has a facing."""

THROUGH = (Work.PUNCH, Work.WINDOW)
"""What goes through the facing as well, larger by the border."""


KEPT = 512
"""Facings kept for the next that is made of the same: of thirty boxes with a dozen each."""


@frozen
class Facing:
    """A decorative piece to be glued on a panel, cut from a stock of its own.

    Its net has one panel, drawn where the panel lies on its own net and standing the same way up;
    `on` is the panel that it goes on.
    """

    blank: Blank
    on: Spot
    stock: str
    art: tuple[Art, ...] = ()

    @property
    def net(self) -> Net:
        """The flat piece."""
        return self.blank.net


@lru_cache(KEPT)
def facing_blank(blank: Blank, panel_name: str, border: float) -> Blank:
    """What `facing_net` makes, with all that follows from it: once for all boxes with that blank.
    Raises StyleError as that does."""
    return Blank(facing_net(blank, panel_name, border))


def facing_net(blank: Blank, panel_name: str, border: float) -> Net:
    """The piece that faces one panel of a net: one panel, where that panel lies flat.

    It stands as the panel stands on the finished box, so art on it comes out upright. Punches and
    windows go through it too, `border` mm wider all round. Raises StyleError where nothing is left
    of it, where an opening reaches its edge, and for a panel with a slit or a tear line, which
    the facing would close again.
    """
    panel = blank.net.panel(panel_name)
    barred = [f for f in panel.features if f.work in (Work.SLIT, Work.TEAR)]
    if barred:
        raise _refused(
            border,
            f"goes over {shown(barred[0].name)} on panel {shown(panel_name)}, which a facing would "
            "close again",
            "choose other panels",
        )
    try:
        outline = _narrower(panel.outline, border)
        openings = tuple(
            replace(feature, path=_wider(feature.path, border))
            for feature in panel.features
            if feature.work in THROUGH
        )
    except CollapseError:
        raise _refused(
            border,
            f"leaves nothing, or more than one piece, of panel {shown(panel_name)}",
            "make it narrower",
        ) from None
    room = area_of(outline)
    for opening in openings:
        if not room.contains(area_of(opening.path)):
            raise _refused(
                border,
                f"cuts through {shown(opening.name)} of panel {shown(panel_name)}",
                "make it narrower or choose another panel",
            )
    return _net_of(blank, panel, outline, openings)


def _refused(border: float, why: str, advice: str) -> StyleError:
    reason = f"is {{}}, which {verbatim(why)}"
    return StyleError(
        "border", Refusal((), reason, "value", found=border, advice=advice, lengths=(border,))
    )


def _narrower(outline: Path, border: float) -> Path:
    """An outline moved in by the border. A cut-off corner smaller than that drops out, where any
    other loss raises CollapseError."""
    moved = offset_parts(outline, -border)
    lost = [loss for loss in moved.losses if loss.whole or not loss.is_corner]
    if len(moved.loops) == 1 and all(loss.depth <= border for loss in lost):
        return moved.loops[0]
    return offset(outline, -border)


def _wider(path: Path, border: float) -> Path:
    """An opening, which style files draw either way round, moved out by the border."""
    outward = path if path.area > 0 else path.reversed()
    return offset(outward, border) if border else outward


def _net_of(blank: Blank, panel: Panel, outline: Path, openings: tuple[Feature, ...]) -> Net:
    name = f"{panel.name} facing"
    edges = tuple(f"edge-{i}" for i in range(len(outline.bulges)))
    face = Panel(name, Role.WALL, outline, edges, openings)
    return Net(f"{blank.name} {name}", (face,), stand=Stand(name, up=blank.uprights[panel.name]))


GluedOn = Sequence[tuple[Facing, float]]
"""The facing pieces of a box, each with its caliper in mm."""


def thickness(glued_on: GluedOn) -> Faced:
    """How thick the pieces are that lie on each panel, together."""
    found: dict[tuple[str, str], float] = {}
    for facing, caliper in glued_on:
        place = (facing.on.net, facing.on.panel)
        found[place] = found.get(place, 0.0) + caliper
    return found

"""A tray with a hinged lid: the lid hangs on the back wall and tucks in at the front.

Two side flaps of the lid go down inside the side walls and their corner tabs, so the lid is
four calipers and the clearance shorter than the tray; the tuck goes down inside the front wall,
so the lid is one caliper and half the clearance less deep than the tray.
"""

from __future__ import annotations

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import proportion, size
from cutlayers.construction.ends import LEAST_HEIGHT, TUCK_CORNER, refuse_thumb
from cutlayers.construction.openings import thumb_cut, with_window
from cutlayers.construction.options import LEAST_FLAP, THUMB
from cutlayers.construction.refusing import refuse_above, refuse_small
from cutlayers.construction.style import Style
from cutlayers.construction.trays import refuse_tab_on_side, refuse_tab_on_wall, tray_net
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role
from cutlayers.net.engagement import PLAY
from cutlayers.net.shapes import rectangle, tuck_flap


@frozen
class HingedLidTray:
    """Dimensions of a tray with a hinged lid."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=70)
    height: float = size("of the walls", example=30)
    tuck_depth: float | None = proportion(
        "depth of the tuck flap; half the height up to 15 mm if not given",
        example=15,
        minimum=LEAST_FLAP,
        formerly="tuck",
    )
    side_flap_depth: float | None = proportion(
        "depth of the lid's side flaps, which keep it between the walls; that of the tuck if not "
        "given",
        example=15,
        minimum=LEAST_FLAP,
        formerly="side",
    )
    thumb: float | None = options.thumb()
    tab: float = options.tab()
    clearance: float = options.clearance()
    window: str = options.window(("lid",))
    window_width: float | None = options.window_width(54)
    window_height: float | None = options.window_height(42)
    window_radius: float | None = options.window_radius()


def build(dims: HingedLidTray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root, the back wall and the lid lie above it.

    Raises StyleError for flaps deeper than the walls, a thumb cut that would show past the tuck,
    and tabs, windows or lids without room.
    """
    length = card.panel("size.length", dims.length, 2)
    width = card.panel("size.width", dims.width, 2)
    height = card.panel("size.height", dims.height, 2)
    # Flaps are as much narrower than the lid, so that they pass one another in the corners.
    narrower = card.take_up + dims.clearance / 2
    # Their outer faces stand off those of the tabs on both sides, and off the front's.
    less_deep = card.caliper + dims.clearance / 2
    shorter = 2 * (less_deep + card.step)
    least = 4 * narrower + 2 * TUCK_CORNER
    for field, given, less in (("length", dims.length, shorter), ("width", dims.width, less_deep)):
        refuse_small(
            card, f"size.{field}", given, 2, least + less, "too small for a lid with flaps"
        )
    below_tuck = card.take_up + PLAY
    refuse_small(
        card, "size.height", dims.height, 2, LEAST_HEIGHT + below_tuck, "too low for a tuck to hold"
    )
    refuse_tab_on_side(dims.tab, width, card)
    refuse_tab_on_wall(dims.tab, height, dims.height, 2, card)
    tuck = min(15.0, height / 2) if dims.tuck_depth is None else dims.tuck_depth
    deepest = height - below_tuck
    refuse_above("options.tuck_depth", tuck, deepest, "deeper than the tray")
    side = tuck if dims.side_flap_depth is None else dims.side_flap_depth
    refuse_above("options.side_flap_depth", side, deepest, "deeper than the tray")
    thumb = min(THUMB, length / 2, tuck) if dims.thumb is None else dims.thumb
    refuse_thumb(thumb, tuck, length)
    lid_length, lid_depth = length - shorter, width - less_deep
    front = thumb_cut(rectangle(length, height), "top", thumb)
    net = tray_net("tray", length, width, height, dims.tab, step=card.step, front=front)
    net = net.attach("lid", rectangle(lid_length, lid_depth), to="back.top", role=Role.LID)
    net = net.attach(
        "tuck",
        tuck_flap(lid_length - 2 * narrower, tuck, min(TUCK_CORNER, tuck)),
        to="lid.top",
        role=Role.FLAP,
    )
    flap = tuck_flap(lid_depth - 2 * narrower, side, min(TUCK_CORNER, side))
    for edge, name in (("left", "right"), ("right", "left")):
        net = net.attach(f"{name} lid flap", flap, to=f"lid.{edge}", role=Role.FLAP)
    net = with_window(net, dims.window, dims.window_width, dims.window_height, dims.window_radius)
    return (net,)


def volume(dims: HingedLidTray, card: Card) -> float:
    """Length × width × height."""
    length, width, height = _scores(dims, card)
    return length * width * height


def _scores(dims: HingedLidTray, card: Card) -> tuple[float, float, float]:
    return card.score(dims.length, 2), card.score(dims.width, 2), card.score(dims.height, 2)


STYLE = Style(
    name="hinged-lid-tray",
    summary="a glued tray whose lid hinges at the back and tucks in at the front",
    dimensions=HingedLidTray,
    build=build,
    like="FEFCO-ESBO family 04 (folder-type boxes and trays)",
    volume=volume,
)

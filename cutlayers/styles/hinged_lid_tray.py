"""A tray with a hinged lid: the lid hangs on the back wall and tucks in at the front.

Two side flaps of the lid go down inside the side walls and their corner tabs, so the lid is
four calipers and the clearance shorter than the tray; the tuck goes down inside the front wall,
so the lid is one caliper and half the clearance less deep than the tray.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutlayers.errors import StyleError
from cutlayers.net import Net, Role
from cutlayers.net.shapes import rectangle, tuck_flap
from cutlayers.parts import options
from cutlayers.parts.ends import TUCK_CORNER, refuse_thumb
from cutlayers.parts.openings import thumb_cut, with_window
from cutlayers.parts.trays import tray_net
from cutlayers.style import Card, Style, option, size


@dataclass(frozen=True, slots=True)
class HingedLidTray:
    """Dimensions of a tray with a hinged lid."""

    length: float = size("along the front wall", example=90)
    width: float = size("from front to back", example=70)
    height: float = size("of the walls", example=30)
    tuck: float | None = option(
        "depth of the tuck flap; half the height up to 15 mm if not given",
        default=None,
        minimum=4,
    )
    side: float | None = option(
        "depth of the lid's side flaps; that of the tuck if not given, 0 for none", default=None
    )
    thumb: float = options.thumb()
    tab: float = options.tab()
    clearance: float = options.clearance()
    window: str = options.window(("lid",))
    window_width: float | None = options.window_width()
    window_height: float | None = options.window_height()
    window_radius: float | None = options.window_radius()


def build(dims: HingedLidTray, card: Card) -> tuple[Net, ...]:
    """One net; the base is the root, the back wall and the lid lie above it.

    Raises StyleError for flaps deeper than the walls, a thumb cut that would show past the tuck,
    and tabs, windows or lids without room.
    """
    length, width, height = _scores(dims, card)
    caliper = card.caliper
    tuck = min(15.0, height / 2) if dims.tuck is None else dims.tuck
    side = tuck if dims.side is None else dims.side
    for name, depth in (("tuck", tuck), ("side", side)):
        if depth > height - caliper:
            raise StyleError(
                f"options.{name}",
                f"is {depth:g} mm, deeper than the tray; at most {height - caliper:.1f} mm",
            )
    refuse_thumb(dims.thumb, tuck, length)
    lid_length = length - 4 * caliper - dims.clearance
    lid_depth = width - caliper - dims.clearance / 2
    # Flaps are as much narrower than the lid, so that they pass one another in the corners.
    ease = 2 * caliper + dims.clearance / 2
    for name, room in (("length", lid_length), ("width", lid_depth)):
        if room < 4 * ease + 2 * TUCK_CORNER:
            raise StyleError(
                f"size.{name}",
                f"is {getattr(dims, name):g} mm, too small for a lid with flaps; at least "
                f"{getattr(dims, name) - room + 4 * ease + 2 * TUCK_CORNER:.1f} mm works",
            )
    front = thumb_cut(rectangle(length, height), "top", dims.thumb)
    net = tray_net("tray", length, width, height, dims.tab, front=front)
    net = net.attach("lid", rectangle(lid_length, lid_depth), to="back.top", role=Role.LID)
    net = net.attach(
        "tuck",
        tuck_flap(lid_length - 2 * ease, tuck, min(TUCK_CORNER, tuck)),
        to="lid.top",
        role=Role.FLAP,
    )
    if side:
        flap = tuck_flap(lid_depth - 2 * ease, side, min(TUCK_CORNER, side))
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

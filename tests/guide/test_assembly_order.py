"""The order of work of every style, held against what a packer does.

Each list was written by hand, from how such boxes are put together at a table: common practice, no
source. The plain names of a carton's ends, and that a snap-lock bottom goes in back, sides, front
and a crash-lock bottom by itself, are those of folding cartons in general use, from memory.
"""

from __future__ import annotations

import pytest

from cutlayers.box import build
from cutlayers.box.steps import Step
from cutlayers.box.walking import walk
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named, styles

TRAY = """
fold {net}
glue front left tab, back left tab to left
glue front right tab, back right tab to right
"""

CARTON_TOP = """
fold in left top dust flap, right top dust flap
tuck top, top tuck to front
"""


def star(net: str, sides: int) -> str:
    """Walls on a base of so many sides, each glued to the next."""
    walls = ["front", *(f"wall {index}" for index in range(2, sides + 1))]
    tabs = ", ".join(f"{wall} tab" for wall in walls)
    return f"fold {net}\nglue {tabs} to {', '.join([*walls[1:], walls[0]])}\n"


ORDER = {
    "counter-tray": TRAY.format(net="tray") + "fill tray",
    "crash-lock-carton": f"""
        fold carton
        seam glue tab to left
        glue front wing to left bottom flap
        glue back wing to right bottom flap
        square up carton to front bottom, back bottom
        fill carton
        {CARTON_TOP}
    """,
    "envelope": """
        fold envelope
        glue left tab, right tab to back
        fill envelope
        close flap
    """,
    "folder": """
        fold folder
        close back
    """,
    "gable-carton": f"""
        {TRAY.format(net="base")}
        fold lid
        seam wall tab, roof tab, ridge tab to back, back roof, back ridge
        fill base
        join over lid to base
        gussets left gusset, right gusset to front roof, back roof
        ridges front ridge, back ridge
    """,
    "gusset-bag": """
        fold bag
        punch flat front, back
        seam glue tab to left back gusset
        glue front foot tab, left foot tab, right foot tab to bottom
        square up bag to bottom
        fill bag
    """,
    "gusseted-envelope": """
        fold envelope
        glue left tab, right tab to back
        square up envelope to front bottom, back bottom
        fill envelope
        close flap by top
    """,
    "hang-tag": "punch flat front",
    "header-card": """
        fold header
        put header to over the top of the filled bag
        close back
    """,
    "hinged-lid-tray": f"""
        {TRAY.format(net="tray")}
        fill tray
        tuck lid, tuck, right lid flap, left lid flap to front, left, right
    """,
    # The goods go in through the roof, before it is closed.
    "house-box": """
        fold house
        seam glue tab to left
        glue left roof tab, right roof tab to front roof
        fold in left bottom dust flap, right bottom dust flap
        tuck bottom, bottom tuck to front
        fill house
        fold in left roof flap, right roof flap
        tuck back roof, ridge tuck to front roof
    """,
    # Strips without a crease, slid into each other's slots.
    "partition": """
        join into cross strip 1 to long strip 1
        join into cross strip 2 to long strip 1
    """,
    "petal-top-box": star("box", 4)
    + """
        fill box
        interleave petal 4, petal 3, petal 2, petal 1
    """,
    # One end before it is filled, the other one after.
    "pillow-pack": """
        fold pillow
        seam glue tab to front
        fold in back bottom flap
        close front bottom flap
        fill pillow
        fold in back top flap
        close front top flap
    """,
    # No opening is left once the last face is glued.
    "platonic-solid": """
        fold solid
        glue face 2 tab 2, face 6 tab 5 to face 8
        glue face 2 tab 3 to face 4
        glue face 2 tab 4, face 4 tab 5, face 5 tab 2 to face 9
        glue face 2 tab 5 to face 3
        glue face 3 tab 4, face 5 tab 5, face 6 tab 2 to face 7
        glue face 4 tab 3, face 8 tab 2, face 10 tab 3, face 11 tab 4 to face 12
        glue face 4 tab 4, face 5 tab 3 to face 10
        fill solid
        glue face 5 tab 4, face 6 tab 3, face 10 tab 4 to face 11
    """,
    "pop-up-card": """
        fold card
        push out box 1 top, box 2 top, box 3 top
    """,
    "prism-box": star("base", 6)
    + star("lid", 6)
    + """
        fill base
        join over lid to base
    """,
    "pyramid-box": """
        fold pyramid
        punch flat front, wall 2, wall 3, wall 4
        fill pyramid
        bring up front flap, wall 2 flap, wall 3 flap, wall 4 flap by front, wall 2, wall 3, wall 4
        ribbon pyramid
    """,
    # A sleeve is open at both ends, so the drawer goes into it.
    "sleeve-and-drawer": f"""
        {TRAY.format(net="drawer")}
        fold sleeve
        seam glue tab to bottom
        square up sleeve
        fill drawer
        join into drawer to sleeve
    """,
    "slide-lock-mailer": """
        fold mailer
        fill mailer
        fold in left flap, right flap by left, right
        close cover by front
        engage tongue to cover by back
    """,
    "snap-lock-carton": f"""
        fold carton
        seam glue tab to left
        square up carton
        fold in back bottom
        fold in left bottom flap, right bottom flap
        engage front bottom to back bottom
        fill carton
        {CARTON_TOP}
    """,
    "tapered-tray": star("tray", 4) + "fill tray",
    "telescope-box": f"""
        {TRAY.format(net="base")}
        {TRAY.format(net="lid")}
        fill base
        join over lid to base
    """,
    "tray": TRAY.format(net="tray") + "fill tray",
    "tuck-carton": f"""
        fold carton
        seam glue tab to left
        square up carton
        fold in left bottom dust flap, right bottom dust flap
        tuck bottom, bottom tuck to back
        fill carton
        {CARTON_TOP}
    """,
    "belly-band": """
        fold band
        put band to round what it holds
        fold in front right end by right
        engage front left end to front right end by left
    """,
}


WITH_MORE: dict[tuple[str, str, object], str] = {
    # What lines a box or stiffens it is glued in before it is filled, and closes before it does.
    ("envelope", "lining", True): """
        fold envelope
        glue left tab, right tab to back
        fold lining
        join into lining to envelope
        fill envelope
        close flap lining
        close flap
    """,
    ("gusset-bag", "handle", "patch"): """
        fold bag
        seam glue tab to left back gusset
        glue front foot tab, left foot tab, right foot tab to bottom
        square up bag to bottom
        join into front patch to bag
        join into back patch to bag
        fill bag
    """,
    # The lid meets the base rim to rim, and goes over what stands out of it.
    ("telescope-box", "shoulder", 10.0): f"""
        {TRAY.format(net="base")}
        fold shoulder
        seam glue tab to left
        square up shoulder
        {TRAY.format(net="lid")}
        join into shoulder to base
        fill base
        join over lid to shoulder
    """,
}
"""By an option that brings a net of its own."""


def shown(step: Step) -> str:
    """A step as the lists above have it; of a fold only what is folded."""
    words = f"{step.action} {', '.join(step.panels) or step.net}"
    if step.targets and step.action != "fold":
        words += f" to {', '.join(step.targets)}"
    return words + (f" by {', '.join(step.brought)}" if step.brought else "")


def lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def test_no_style_is_left_out() -> None:
    assert sorted(ORDER) == sorted(style.name for style in styles())


@pytest.mark.parametrize("caliper", [0.3, 1.0])
@pytest.mark.parametrize("name", sorted(ORDER))
def test_it_goes_together_in_the_order_of_a_packer(name: str, caliper: float) -> None:
    style = style_named(name)
    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})

    steps = build(style, dims, Card(caliper)).steps()

    assert [shown(step) for step in steps] == lines(ORDER[name])


@pytest.mark.parametrize("caliper", [0.3, 1.0])
@pytest.mark.parametrize(("name", "option", "value"), WITH_MORE)
def test_what_an_option_adds_goes_in_where_a_packer_has_room_for_it(
    name: str, option: str, value: object, caliper: float
) -> None:
    """And nothing goes through anything on the way."""
    style = style_named(name)
    box = build(style, style.dimensions(**{option: value}), Card(caliper))

    assert [shown(step) for step in box.steps()] == lines(WITH_MORE[name, option, value])
    assert not any(way.slid and way.bends for way in walk(box, 15.0))

"""Machines for the trials' tests, from the text of their profiles."""

from __future__ import annotations

import tomllib

from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import profile_from
from cutlayers.trials.model import Setup

BLADE = """\
title = "Kitchen table"
[bed]
width = 305
height = 305
margin = 5
[tools.blade]
type = "drag-blade"
offset = 0.25
overcut = 0.3
[tools.pen]
type = "pen"
[tools.stylus]
type = "stylus"
[operations.perforate]
tool = "blade"
perforation = { cut = 3, tie = 1, minimum_tie = 0.6 }
[operations.cut]
tool = "blade"
[materials.kraft-270]
grammage = 270
score = { force = 18 }
cut = { force = 20, note = "new blade" }
"""

LASER = """\
title = "Garage"
[bed]
width = 300
height = 300
margin = 3
[tools.beam]
type = "laser"
kerf = 0.2
[operations.draw]
tool = "beam"
[operations.score]
as = "perforate"
[operations.cut]
tool = "beam"
"""


def machine(text: str, name: str = "mine") -> Machine:
    """The machine of a profile's text."""
    return profile_from(tomllib.loads(text), "mine.toml", name)


BLADE_SETUP = Setup(machine(BLADE), "mine", "kraft-270")
LASER_SETUP = Setup(machine(LASER), "mine", "kraft-270")

SETUPS = {
    "kerf": LASER_SETUP,
    "offset": BLADE_SETUP,
    "settings": BLADE_SETUP,
    "score": BLADE_SETUP,
    "fold": BLADE_SETUP,
    "perforation": BLADE_SETUP,
    "register": BLADE_SETUP,
    "pen": BLADE_SETUP,
    "squareness": BLADE_SETUP,
}
"""A setup that each trial makes sense for."""

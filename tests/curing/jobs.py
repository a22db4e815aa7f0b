"""Job files with something to be cured, and a machine that takes sheets of any size."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cutlayers.curing import Source
from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import find_profile
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.lengths import Unit

FILE = Path("boxes.toml")


def cutter() -> Machine:
    """The one of the sample profile."""
    return read_profile(find_profile("drag-blade-340"))


def large_machine() -> Machine:
    """One on which no box is too large to be laid."""
    machine = cutter()
    return replace(machine, bed=replace(machine.bed, width=5000.0, height=5000.0))


def source(text: str) -> Source:
    """A job's text as it is cured."""
    return Source(parse_toml(text, str(FILE)), FILE)


def telescope(options: str, *, unit: Unit = "mm", limits: str = "") -> str:
    """A box with a lid, of card 0.5 mm thick."""
    return f"""\
title = "Soap for the winter market"
units = "{unit}"
profile = "drag-blade-340"
{limits}
[stock.kraft]   # from the drawer
caliper = "0.5 mm"
sheet = "A4"

[[piece]]
stock = "kraft"
style = "telescope-box"
[piece.size]  # of the soap
length = "60 mm"
width = "40 mm"
height = "20 mm"
[piece.options]
{options}
"""

"""Edits of a job file that cure what a check found, each tried before it is offered."""

from cutlayers.curing.mending import Cured, Mended, mended, with_cure
from cutlayers.curing.proving import Source, with_cures

__all__ = ["Cured", "Mended", "Source", "mended", "with_cure", "with_cures"]

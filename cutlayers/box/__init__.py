"""A piece of a job, built: its nets, and everything that follows from them, worked out once."""

from cutlayers.box.blank import Blank
from cutlayers.box.box import Box, Origin, build

__all__ = ["Blank", "Box", "Origin", "build"]

"""What a check found: facts about a job, never printed where they are found."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad it is."""

    ERROR = "error"
    """The job does not work as it stands."""
    WARNING = "warning"
    """It works, but the maker should know."""
    NOTE = "note"
    """Worth knowing; nothing is wrong."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One fact: a stable `code` for scripts, where it is, what was measured, what is allowed,
    and the change that would cure it. Lengths inside the texts are written in mm."""

    severity: Severity
    code: str
    place: str
    measured: str
    allowed: str = ""
    advice: str = ""

    def __str__(self) -> str:
        parts = [f"{self.severity}: {self.place}: {self.measured}"]
        if self.allowed:
            parts.append(f"allowed is {self.allowed}")
        if self.advice:
            parts.append(self.advice)
        return "; ".join(parts)

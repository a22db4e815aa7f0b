"""What the words of one finding are made of."""

from __future__ import annotations

from collections.abc import Callable

from cutlayers.frozen import frozen
from cutlayers.telling.findings import Allowed, Finding
from cutlayers.telling.quantities import Quantity
from cutlayers.telling.saying import Say


@frozen
class Sentence:
    """What was found, which goes on from the place; what would be right and what to do, each a
    clause of its own or empty."""

    found: str
    right: str = ""
    cure: str = ""


Telling = Callable[[Finding, Say], Sentence]


def least(finding: Finding) -> Quantity:
    """The lower limit of a finding that has one."""
    return _limits(finding).least[0]


def most(finding: Finding) -> Quantity:
    """The upper limit of a finding that has one."""
    return _limits(finding).most[0]


def _limits(finding: Finding) -> Allowed:
    if finding.allowed is None:
        raise ValueError(f"{finding.code} has no limits")
    return finding.allowed

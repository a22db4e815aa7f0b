"""What several trials refuse, in the same way everywhere."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.profile.machine import Machine
from cutlayers.telling.errors import TrialError
from cutlayers.telling.refusals import Allowed, Place, Refusal


def unsuited(
    machine: Machine, place: Place, reason: str, advice: str = "", found: object = None
) -> TrialError:
    """A profile that a trial makes no sense for; `reason` goes on from the place in it."""
    return TrialError(
        Refusal(
            place,
            reason,
            "missing" if found is None else "value",
            file=f"profile {machine.name}",
            found=found,
            advice=advice,
        )
    )


def unread(name: str, advice: str) -> TrialError:
    """Readings without which nothing can be said; `name` is the first of them."""
    return TrialError(Refusal((name,), fault="missing", advice=advice))


def misread(name: str, value: float, reason: str, advice: str) -> TrialError:
    """A reading that the others contradict; `reason` goes on from the reading."""
    return TrialError(
        Refusal((name,), f"is {value:g}, which {reason}", "value", found=value, advice=advice)
    )


def refuse_apart(name: str, readings: Sequence[float], step: float, most: int, advice: str) -> None:
    """Raise TrialError where the readings of one thing lie more than `most` steps apart."""
    if readings and max(readings) - min(readings) > most * step + 1e-9:
        found = f"{min(readings):g} to {max(readings):g}"
        raise TrialError(
            Refusal(
                (name,),
                f"was read as {found}, more than {most} steps apart; the readings contradict "
                "each other",
                "value",
                found=list(readings),
                advice=advice,
            )
        )


def too_small(width: float, height: float, reason: str, advice: str) -> TrialError:
    """A card that a trial does not fit on; `reason` goes on from its size in mm."""
    return TrialError(
        Refusal(
            ("--sheet",),
            f"is {width:g} × {height:g} mm, {reason}",
            "value",
            found=[width, height],
            advice=advice,
        )
    )


def option(
    name: str, found: object, reason: str = "", allowed: Allowed | None = None, advice: str = ""
) -> TrialError:
    """An option of the command that cannot be; without a `reason` what was found says it."""
    return TrialError(
        Refusal((name,), reason, "value", found=found, allowed=allowed, advice=advice)
    )

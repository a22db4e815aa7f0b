"""How the nets of a drawing fold up, found where nobody said it."""

from __future__ import annotations

from cutlayers.bringing.angles import MOST_HINGES, FoldUp, fold_up
from cutlayers.bringing.bends import bends
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.understanding import Understood, fold_name
from cutlayers.frozen import frozen
from cutlayers.net.model import Net
from cutlayers.net.panel import Hinge


@frozen
class Answer:
    """One net of a drawing, how often it is there, and how it folds up; `folded` is None where no
    way was found that closes."""

    flat: FlatNet
    count: int
    folded: FoldUp | None

    @property
    def net(self) -> Net:
        """The net, folded up where that is known."""
        return self.flat.net if self.folded is None else self.folded.net

    @property
    def closes(self) -> bool:
        """Whether it folds up so that something tests it: sides that meet, tabs that land."""
        return self.folded is not None and not all(map(self.doubtful, self.net.hinges))

    @property
    def bent(self) -> tuple[Hinge, ...]:
        """The folds along which its panels bend."""
        return bends(self.flat.net)

    @property
    def why_not(self) -> str:
        """Why it is not folded up, in a few words; empty where it is."""
        if self.folded is not None:
            return ""
        hinges = len(self.flat.net.hinges)
        if self.bent:
            return (
                f"its panels bend along {len(self.bent)} of its folds, so whether it closes is not "
                "checked; it is cut and scored as drawn"
            )
        if hinges > MOST_HINGES:
            return (
                f"it has more than {MOST_HINGES} folds, which are not tried: "
                "say the angles under folds"
            )
        return "no way to fold it up was found: say the angles under folds"

    def angle(self, hinge: Hinge) -> float | None:
        """The angle of one of its folds in degrees, a mountain above 0; None where none is
        known."""
        if self.folded is not None:
            return hinge.fold_deg
        given = self.flat.given[self.flat.net.hinges.index(hinge)]
        return float(given) if isinstance(given, int | float) else None

    def doubtful(self, hinge: Hinge) -> bool:
        """Whether nothing tests the angle of a fold."""
        return self.folded is None or fold_name(hinge) in self.folded.doubtful


def answers(understood: Understood) -> tuple[Answer, ...]:
    """Every net of a drawing, folded up where a way is found."""
    return tuple(
        Answer(flat, count, fold_up(flat, understood.shows)) for flat, count in understood.nets
    )

"""How the nets of a drawing fold up, found where nobody said it."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.bringing.angles import FoldUp, fold_up
from cutlayers.bringing.meeting_angles import with_angles
from cutlayers.bringing.panels import FlatNet
from cutlayers.bringing.roles import with_roles
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


def folded_at(flat: FlatNet, angles: Sequence[float]) -> Net:
    """A net at the angles of its folds, in degrees, with the panels' roles and how it stands."""
    return with_roles(with_angles(flat.net, angles))


def answers(understood: Understood) -> tuple[Answer, ...]:
    """Every net of a drawing, folded up where a way is found."""
    return tuple(Answer(flat, count, fold_up(flat)) for flat, count in understood.nets)

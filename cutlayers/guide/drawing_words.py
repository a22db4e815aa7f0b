"""Words of the drawings: titles, lines of the legend, and descriptions for those who listen."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.guide.words import counted
from cutlayers.telling.saying import listed

AS_DRAWN = "The outside of the box faces you; the blank lies as in its drawing."
CUT, SCORE_OUT, SCORE_IN, PERFORATE, TRIM, WASTE = (
    "cut",
    "score, fold away from you",
    "score on the inside, fold towards you",
    "perforate",
    "trimmed edge of the blank",
    "waste",
)


def score_drawing_title(blank: str) -> str:
    """Title of the first drawing of a blank."""
    return f"{blank}: panels and scores"


def cut_drawing_title(blank: str) -> str:
    """Title of the second drawing of a blank."""
    return f"{blank}: cuts"


def score_drawing_description(
    width: str, height: str, panels: Sequence[str], away: int, towards: int
) -> str:
    """What the first drawing shows, for those who do not see it."""
    return (
        f"A blank {width} wide and {height} high with the panels {listed(panels)}. "
        f"{counted(away, 'line is', 'lines are')} scored to fold away from you, "
        f"{counted(towards, 'line', 'lines')} to fold towards you. Distances are given from the "
        f"left edge along the top and from the top edge along the left."
    )


def cut_drawing_description(points: int, holes: int) -> str:
    """What the second drawing shows."""
    holes_told = f" and {counted(holes, 'hole', 'holes')}" if holes else ""
    return (
        f"The same blank with its waste hatched and its cut lines{holes_told}; "
        f"{counted(points, 'point is', 'points are')} named by letters that the lists below use."
    )


def folded_title(box: str) -> str:
    """A picture of the folded box."""
    return f"{box}, folded"


def folded_description(nets: Sequence[str]) -> str:
    """The picture of the folded box."""
    return f"The finished box ({listed(nets)}), seen from the front and a little from above."


def views_description(nets: Sequence[str]) -> str:
    """The pictures of the box being folded."""
    if len(nets) == 1:
        return f"From left to right: {listed(nets)} half folded, and folded."
    return f"From left to right: {listed(nets)} half folded, then together, open and closed."


def step_title(box: str, step: int) -> str:
    """A picture of the box after a step."""
    return f"{box} after step {step}"


def step_description(seen: str) -> str:
    """The picture of a box after a step; `seen` is where from, if not from the usual place."""
    place = seen or "from the front and a little from above"
    return f"The box as it stands after this step, seen {place}; what the step has moved is blue."


def scale(percent: str) -> str:
    """How large a drawing is."""
    return "Drawn at full size." if percent == "100" else f"Drawn at {percent} % of its size."


def numbered(names: Sequence[tuple[int, str]]) -> str:
    """Panels too small for their names."""
    return "Small panels: " + ", ".join(f"{number} {name}" for number, name in names) + "."

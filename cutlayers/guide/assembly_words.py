"""Words of the assembly: each step of folding, gluing and closing, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.box.pressing import Tool
from cutlayers.box.steps import Action, Step
from cutlayers.guide.hand_words import fold_names
from cutlayers.guide.words import marked
from cutlayers.telling.saying import listed

NAMED = (Action.JOIN_OVER, Action.JOIN_INTO, Action.FILL, Action.PUT, Action.SQUARE)
"""Their words name the piece."""


def assembly_step(step: Step, diameter: str, *, name_net: bool, by_hand: bool) -> str:
    """One step in one sentence; `name_net` says first which piece of the box it is about, and
    `by_hand` that no machine may have punched its holes already."""
    sentence = _step(step, diameter, "" if by_hand else ", unless the machine cut them")
    if name_net and step.action not in NAMED:
        return f"{step.net[0].upper()}{step.net[1:]}: {sentence}"
    return sentence[0].upper() + sentence[1:]


def step_in_words(step: Step, *, name_net: bool) -> str:
    """A step that moves panels, in one plain sentence."""
    return assembly_step(step, "", name_net=name_net, by_hand=False).replace("*", "")


def _step(step: Step, diameter: str, unless: str) -> str:
    panels, targets = marked(step.panels), marked(step.targets)
    glued = f"put glue on {panels} and press {them(step.panels)}"
    brought = f"bring up {marked(step.brought)}, then " if step.brought else ""
    behind = "on the outside of" if step.outside else "behind"
    match step.action:
        case Action.FOLD:
            if not step.targets:
                return "fold every score away from you, sharpen it, and open it again."
            valleys = listed([f"*{fold_names([name])}*" for name in step.targets])
            return (
                f"fold every score and open it again: away from you where the outside is scored, "
                f"towards you where the inside is ({valleys})."
            )
        case Action.FACING:
            pieces = "piece" if len(step.panels) == 1 else "pieces"
            return f"stick the facing {pieces} on {panels} while the card is flat."
        case Action.PUNCH_FLAT:
            thick = (
                f": {step.layers} layers are too thick to punch later" if step.layers > 1 else ""
            )
            done = "" if step.layers > 1 else unless
            return f"punch the holes ({diameter}) in {panels} while the card is flat{thick}{done}."
        case Action.JOIN_PARTS:
            one = len(step.panels) == 1
            ends = "its end along the tab's crease" if one else "their ends along the tabs' creases"
            return f"join the parts while they are flat: {glued} {behind} {targets}, with {ends}."
        case Action.SEAM:
            return f"{glued} {behind} {targets}; this is the seam."
        case Action.GLUE:
            if len(step.panels) > 1 and len(step.panels) == len(step.targets):
                return f"{glued} {behind} {targets}, each in turn."
            return f"{glued} {behind} {targets}."
        case Action.SQUARE:
            flat = f", and push {targets} down until {they(step.targets)} flat"
            return f"open the {step.net} out until it stands square{flat if step.targets else ''}."
        case Action.PUSH_OUT:
            return (
                f"push {panels} out from behind, so that {they(step.panels, 'stand')} out between "
                f"the halves, and close the {step.net}: every crease finds its way."
            )
        case Action.JOIN_OVER:
            return f"set the {step.net} over the {listed(step.targets)}."
        case Action.JOIN_INTO:
            return f"slide the {step.net} into the {listed(step.targets)}."
        case Action.FILL:
            return f"fill the {step.net}."
        case Action.PUT:
            return f"put the {step.net} {' '.join(step.targets)}."
        case Action.FOLD_IN:
            return f"{brought}fold in {panels}."
        case Action.CLOSE:
            return f"{brought}close {panels}."
        case Action.TUCK:
            lid, *tucks = step.panels
            return f"close {marked([lid])} and push {marked(tucks)} behind {targets}."
        case Action.ENGAGE:
            return f"{brought}push {panels} into {targets} until it holds."
        case Action.INTERLEAVE:
            under = (
                f"slip the free side of {marked(step.panels[-1:])} under {marked(step.panels[:1])}"
            )
            return f"close {panels}, each over the one before, and {under}."
        case Action.BRING_UP:
            return (
                f"bring up {marked(step.brought)} all together, {panels} each on the inside of the "
                "panel beside it."
            )
        case Action.GUSSETS:
            return f"push {panels} inwards, so that their sides lie flat under {targets}."
        case Action.RIDGES:
            return f"bring {panels} together, with the strips of the gussets between."
        case Action.PUNCH_CLOSED:
            layers = f"through all {step.layers} layers" if step.layers > 1 else "through the card"
            return f"punch the holes ({diameter}) {layers}{unless}."
        case Action.RIBBON:
            return "thread the ribbon through the holes and tie it."


def bend(panel: str, past: str, radius: str) -> str:
    """What a panel does that only gets by where it bends; `radius` is the widest that will do."""
    return (
        f"{marked([panel])} has to bend to get past {marked([past])}: let it curve, to a radius of "
        f"about {radius}, and do not crease it; it springs flat again."
    )


def bows(radius: str) -> str:
    """What card does in a ring whose creases alone do not let it pass."""
    return (
        f"The card has to bow on the way, to a radius of about {radius}, since its creases alone "
        "do not let it pass: go slowly, one side after the other."
    )


def rubs(moving: str, past: str, deep: str) -> str:
    """What a net does that slides past a panel which stands in its way by so much."""
    return (
        f"{marked([moving])} meets {marked([past])} by {deep} on the way: press the walls a little "
        "apart to let it by."
    )


def pressed(panels: Sequence[str], tool: Tool) -> str:
    """What to do where no finger gets in to press on panels."""
    if tool is Tool.PENCIL:
        return f"No finger gets in to {marked(panels)}: press there with the end of a pencil."
    return (
        f"Nothing gets in to {marked(panels)}: press from outside, and hold {them(panels)} until "
        f"{they(panels, 'stay')}."
    )


def they(panels: Sequence[str], do: str = "lie") -> str:
    """A pronoun for panels with its verb."""
    return f"it {do}s" if len(panels) == 1 else f"they {do}"


def them(panels: Sequence[str]) -> str:
    """A pronoun for panels."""
    return "it" if len(panels) == 1 else "them"

"""Sentences of what is found by folding a box up."""

from __future__ import annotations

from cutlayers.telling.findings import Finding, Subject
from cutlayers.telling.quantities import Quantity, length
from cutlayers.telling.saying import Say, angle, angle_limit, listed, many, number, percent
from cutlayers.telling.sentences.sentence import Sentence, Telling, least, most


def _curved(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        "has curved folds and was not folded up, so fit, tabs and holes are not checked"
    )


def _closure(finding: Finding, say: Say) -> Sentence:
    gap, limit = say.against(finding.measured[0], most(finding), 2)
    return Sentence(
        f"the two panels miss each other by {gap} once folded",
        f"up to {limit} closes by hand",
        "make the sizes or fold angles round this corner agree",
    )


def _closure_angle(finding: Finding, say: Say) -> Sentence:
    (off,) = finding.measured
    return Sentence(
        f"the panels meet {angle(off, 2)} off the fold angle of {angle(finding.detail('fold'), 2)}",
        f"up to {angle_limit(most(finding))} closes by hand",
        "correct the fold angles round this corner",
    )


def _collision(finding: Finding, say: Say) -> Sentence:
    (other,) = finding.others
    name = other.panel if other.net == finding.subject.net else f"{other.net}: {other.panel}"
    return Sentence(
        f"passes through {name!r} along {say.length(finding.measured[0])}",
        "panels may only touch",
        "make one of the two smaller, or change the angle between them",
    )


def _flat_point(finding: Finding, say: Say) -> Sentence:
    mountains, valleys = finding.measured
    return Sentence(
        f"{many(mountains, 'mountain')} and {many(valleys, 'valley')} meet there on the flat net, "
        "which cannot lie flat",
        "it takes two more of the one than of the other",
        "fold one of these creases the other way",
    )


def _tab_misses(finding: Finding, say: Say) -> Sentence:
    how = finding.detail("how")
    if how == "nowhere":
        return Sentence(
            "names no panel of its net that it lands on",
            cure="name the panel that it is glued to",
        )
    target = finding.others[0].panel
    if how == "unknown":
        return Sentence(
            f"lands on {target!r}, which the net does not have",
            cure="name the panel that it is glued to",
        )
    if how == "beside":
        return Sentence(
            f"lies beside {target!r} by {say.length(finding.measured[0])}",
            cure="move the tab or name another panel that it lands on",
        )
    if how == "away":
        off, limit = say.against(finding.measured[0], most(finding))
        found = f"comes to lie {off} away from {target!r}"
    else:
        limit = say.limit(most(finding))
        way = "comes to stand at an angle to" if how == "askew" else "turns the wrong face to"
        found = f"{way} {target!r}"
    return Sentence(
        found,
        f"it has to lie flat on it, within {limit}",
        "correct the fold angle of the tab or the sizes of the panels between the two",
    )


def _tab_overhangs(finding: Finding, say: Say) -> Sentence:
    over, limit = say.against(finding.measured[0], most(finding))
    return Sentence(
        f"sticks out {over} beside {finding.others[0].panel!r}",
        f"up to {limit} does not show",
        f"make the tab {over} smaller on that side, or taper it more",
    )


def _tab_small(finding: Finding, say: Say) -> Sentence:
    (depth,), limit = finding.measured, least(finding)
    written, asked = say.against(depth, limit)
    return Sentence(
        f"is glued over a depth of {written}",
        f"{asked} or more holds",
        f"make the tab {say.length(length(limit.value - depth.value))} deeper",
    )


def _flaps_meet(finding: Finding, say: Say) -> Sentence:
    over = say.length(finding.measured[0])
    return Sentence(
        f"lies {over} over {finding.others[0].panel!r} inside the box",
        "they have to lie beside each other",
        f"make the two {over} shorter together",
    )


def _lid(finding: Finding, say: Say) -> Sentence:
    (room,) = finding.measured
    low, high = least(finding), most(finding)
    tight = finding.code == "lid-tight"
    limit = low if tight else high
    written, _ = say.against(length(abs(room.value)), limit, 2)
    base = finding.others[-1].net
    off = say.length(length(abs(limit.value - room.value) * finding.detail("sides")), 2)
    return Sentence(
        f"is {written} too small on each side to go over {base!r}"
        if room.value < 0
        else f"has {written} of room over {base!r} on each side",
        f"{_between(low, high, say)} slides well",
        f"make the clearance {off} {'larger' if tight else 'smaller'} in all",
    )


def _between(low: Quantity, high: Quantity, say: Say) -> str:
    one, other = say.apart((low, high)) if say.unit == "in" else (say.limit(low), say.limit(high))
    return f"{one.rpartition(' ')[0]} to {other}"


def _layer(layer: Subject) -> str:
    """A panel, or the facing piece on one: its net has one panel alone."""
    return layer.panel or f"the {layer.net}"


def _layers(finding: Finding, say: Say) -> Sentence:
    names = ", ".join(map(_layer, finding.others))
    return Sentence(
        f"goes through {many(finding.measured[0], 'layer')}: {names}",
        f"a punch goes through {number(most(finding))} at most",
        _elsewhere(finding, say),
    )


def _hole_at_edge(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"lies across the edge of {_layer(finding.others[0])}, "
        f"which covers {percent(finding.measured[0])} of it",
        "it has to be clear of the edges of all layers",
        _elsewhere(finding, say),
    )


def _hole_covered(finding: Finding, say: Say) -> Sentence:
    layer = _layer(finding.others[0])
    return Sentence(
        f"{percent(finding.measured[0])} of it is covered by {layer}",
        "every layer that lies there needs a hole",
        f"punch {layer} too, or move the hole",
    )


def _elsewhere(finding: Finding, say: Say) -> str:
    move, there = finding.detail("move"), finding.detail("layers_there")
    if move is None:
        return "no place on this panel works; make the hole smaller or punch fewer layers"
    across, up = move
    ways = [
        f"{say.length(length(abs(by.value)))} {positive if by.value > 0 else negative}"
        for by, positive, negative in ((across, "right", "left"), (up, "up", "down"))
        if by.value
    ]
    layers = "there is 1 layer" if number(there) == 1 else f"there are {number(there)} layers"
    return f"move it {listed(ways) if ways else 'nowhere'}, where {layers}"


def _lock_shallow(finding: Finding, say: Say) -> Sentence:
    found, wanted = say.against(finding.measured[0], least(finding), 2)
    slit = finding.others[0].panel
    if finding.detail("way") == "bite":
        return Sentence(
            f"reaches {found} into the card of {slit!r}, whose slit it goes into",
            f"it has to come through all of it, {wanted}",
            "make the tongue longer, or move its slit",
        )
    return Sentence(
        f"is held by {found} of {slit!r}",
        f"{wanted} or more holds",
        "make the slit or the tongue longer",
    )


def _lock_tight(finding: Finding, say: Say) -> Sentence:
    wanting = say.length(length(least(finding).value - finding.measured[0].value), 2)
    return Sentence(
        f"lacks {wanting} of room in the slit of {finding.others[0].panel!r}",
        "it has to go in without force",
        f"make the slit {wanting} wider",
    )


def _bridge_thin(finding: Finding, say: Say) -> Sentence:
    found, wanted = say.against(finding.measured[0], least(finding), 2)
    return Sentence(
        f"has a bridge of card {found} wide beside its slit",
        f"{wanted}, three times the card's thickness, does not tear",
        "make the slit shorter or move it inward",
    )


def _drawn_under_panel(finding: Finding, say: Say) -> Sentence:
    lines = many(finding.measured[0], "line")
    by = ", ".join(
        str(over.panel) if over.net == finding.subject.net else f"{over.panel} of the {over.net}"
        for over in finding.others
    )
    return Sentence(
        f"{lines} of its lettering cannot be seen on the finished box, under {by}",
        cure="write on another panel, smaller, or elsewhere on this one by align",
    )


def _lettering_upside_down(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        "its lettering stands on its head in the finished box",
        cure='turn = "upright" turns it so that it reads upright',
    )


def _drawn_across_crease(finding: Finding, say: Say) -> Sentence:
    reach = say.length(finding.measured[0])
    if finding.detail("what") == "guides":
        cure = "leave out guides, or make the panel larger"
        return Sentence(f"its guide lines reach {reach} into a crease", cure=cure)
    return Sentence(
        f"its lettering reaches {reach} into a crease",
        cure="give it a larger margin, or a smaller height",
    )


def _no_finger_inside(finding: Finding, say: Say) -> Sentence:
    panels = [repr(each.panel) for each in finding.others]
    also = f", nor to {listed(panels)}" if panels else ""
    if finding.detail("tool") == "pencil":
        return Sentence(
            f"no finger gets in to press it from inside{also}",
            cure="press with the end of a pencil",
        )
    return Sentence(
        f"nothing gets in to press it from inside{also}", cure="press from outside until it stays"
    )


SENTENCES: dict[str, Telling] = {
    "curved": _curved,
    "no-finger-inside": _no_finger_inside,
    "closure": _closure,
    "closure-angle": _closure_angle,
    "collision": _collision,
    "flat-point": _flat_point,
    "tab-misses": _tab_misses,
    "tab-overhangs": _tab_overhangs,
    "tab-small": _tab_small,
    "flaps-meet": _flaps_meet,
    "lid-tight": _lid,
    "lid-loose": _lid,
    "layers": _layers,
    "hole-at-edge": _hole_at_edge,
    "hole-covered": _hole_covered,
    "lock-shallow": _lock_shallow,
    "lock-tight": _lock_tight,
    "bridge-thin": _bridge_thin,
    "drawn-under-panel": _drawn_under_panel,
    "lettering-upside-down": _lettering_upside_down,
    "drawn-across-crease": _drawn_across_crease,
}

"""One box from a style's name and its sizes, checked like those of a job file."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from cutlayers.box import Box
from cutlayers.box import build as build_box
from cutlayers.construction.card import Card, Measure, usual_relief
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles_by_name
from cutlayers.fitting import Item
from cutlayers.job.caliper import CALIPER
from cutlayers.job.dimensions import MEASURES, read_dimensions, read_item
from cutlayers.job.stock import RELIEF
from cutlayers.reading.declared import Length
from cutlayers.reading.values import ValueRefused, read_choice
from cutlayers.telling.errors import StyleError
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal


def build(
    style: str | Style,
    /,
    *,
    caliper: float | str | Mapping[str, float | str],
    measure: Measure = "inside",
    holds: Mapping[str, object] | None = None,
    relief: float | str | None = None,
    **dimensions: object,
) -> Box:
    """One box of a style, of card `caliper` mm thick: one for all nets, or that of each by its
    name, {"base": 1.0, "lid": 0.3}.

    `dimensions` are the sizes and options of the style by their names: lengths in mm, or texts
    such as "2 7/16 in"; angles in degrees. Options left out take the style's defaults. `measure`
    says what the sizes are measured to: "inside", "score" (crease to crease) or "outside".
    `holds` is a thing to be packed, as in a job file: {"shape": "sphere", "diameter": 58,
    "clearance": 2}, lengths in mm; sizes that are left out are then found, the smallest that do.
    `relief` is how far creases stop short of inner corners of cuts, and the radius of the holes
    where lines end in a point, a length too: the caliper by default from 0.5 mm card on.

    Raises StyleError, whose `field` names what is wrong: a style, a dimension or a thing that there
    is not, a size that is missing, out of its limits, or that cannot be folded.
    """
    found = _style(style)
    try:
        read_choice(measure, MEASURES)
    except ValueRefused as error:
        raise StyleError("measure", error.refusal) from None
    dial = None if relief is None else _length("relief", relief, RELIEF)
    card = _card(caliper, measure).each(
        lambda each: replace(each, relief=usual_relief(each.caliper) if dial is None else dial)
    )
    sizes, options = _tables(found, dimensions)
    reading = read_dimensions(found, sizes, options, "mm", sizes_optional=holds is not None)
    _refuse(reading.problems)
    thing = None
    if holds is not None:
        thing, problems = read_item(holds, "mm")
        _refuse(problems)
    box = box_of(found, reading.values, card, thing)
    if isinstance(caliper, Mapping):
        for problem in not_each_net(caliper, [blank.name for blank in box.wholes]):
            raise StyleError(".".join(("caliper", *map(str, problem.place))), problem)
    return box


def not_each_net(named: Collection[str], nets: Sequence[str]) -> list[Refusal]:
    """What is wrong with a table that is to name each net of a box: nets that it does not have, or
    that are not named."""
    if len(nets) == 1:
        return [Refusal((), "is a table, but the box has one net alone; give one value")]
    lacking = [net for net in nets if net not in named]
    return [
        *unknown_nets(named, nets),
        *(Refusal((net,), fault="missing") for net in lacking),
    ]


def unknown_nets(named: Iterable[str], nets: Sequence[str]) -> list[Refusal]:
    """Nets that a box does not have."""
    return [
        Refusal((net,), fault="unknown", allowed=tuple(nets), nearest=nearest(net, nets))
        for net in named
        if net not in nets
    ]


def _card(caliper: float | str | Mapping[str, float | str], measure: Measure) -> Card:
    """Nets that are not named count as of the first card. Raises StyleError."""
    if not isinstance(caliper, Mapping):
        return _of_caliper("caliper", caliper, measure)
    others = tuple(
        (net, _of_caliper(f"caliper.{net}", each, measure)) for net, each in caliper.items()
    )
    if not others:
        raise StyleError("caliper", Refusal(fault="empty"))
    return replace(others[0][1], others=others)


def _of_caliper(field: str, caliper: float | str, measure: Measure) -> Card:
    return Card(_length(field, caliper, CALIPER), measure)


def _length(field: str, value: float | str, known: Length) -> float:
    try:
        return known.read(value, "mm")
    except ValueRefused as error:
        raise StyleError(field, error.refusal) from None


def box_of(style: Style, values: Mapping[str, Any], card: Card, thing: Item | None) -> Box:
    """The box of these dimensions, or the smallest one for a thing. Raises StyleError."""
    if thing is None:
        return build_box(style, style.dimensions(**values), card)
    from cutlayers.fitting.search import box_for_item  # heavy, and few jobs need it

    return box_for_item(style, values, card, thing)


def _style(style: str | Style) -> Style:
    if isinstance(style, Style):
        return style
    known = styles_by_name()
    if style not in known:
        near = nearest(style, known)
        refused = Refusal(fault="value", found=style, allowed=tuple(known), nearest=near)
        raise StyleError("style", refused)
    return known[style]


def _tables(
    style: Style, dimensions: Mapping[str, object]
) -> tuple[dict[str, object], dict[str, object]]:
    """The sizes and the options among the dimensions."""
    sizes: dict[str, object] = {}
    options: dict[str, object] = {}
    for name, value in dimensions.items():
        if name not in style.table:
            refused = Refusal(
                reason=f"is unknown to {style.name}",
                fault="unknown",
                allowed=tuple(style.table),
                nearest=style.meant(name, style.table),
            )
            raise StyleError(name, refused)
        (sizes if style.table[name][0].group == "size" else options)[name] = value
    return sizes, options


def _refuse(problems: Sequence[Refusal]) -> None:
    for problem in problems:
        raise StyleError(str(problem.place[-1]), problem)

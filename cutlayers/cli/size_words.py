"""What the words after `cutlayers size` mean: a thing, a card, a style's dimensions.

What makes no sense is raised as RefusedUsage, or as the core's own errors.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING, Any

from cutlayers.cli.ending import RefusedUsage
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from cutlayers import Machine, Stock, Style
    from cutlayers.fitting import Item
    from cutlayers.telling.lengths import Unit


def _pairs(texts: Sequence[str]) -> dict[str, str]:
    found = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not sign or not name or not value:
            allowed = "NAME=VALUE, such as diameter=58"
            raise RefusedUsage(
                Refusal((text,), "is no such pair", "value", found=text, allowed=allowed)
            )
        if name in found:
            raise RefusedUsage(Refusal((name,), "is given twice", "value", found=value))
        found[name] = value
    return found


def _length(name: str, text: str, unit: Unit = "mm") -> float:
    from cutlayers.fitting import read_measure
    from cutlayers.reading import ValueRefused

    try:
        return read_measure(text, unit)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under(name)) from None


def read_thing(shape: str, measures: Sequence[str], unit: Unit) -> Item:
    """The thing to be packed, of a shape and NAME=LENGTH words, clearance among them; bare numbers
    count in that unit."""
    from cutlayers.fitting import CLEARANCE, item

    sizes = {name: _length(name, text, unit) for name, text in _pairs(measures).items()}
    clearance = sizes.pop(CLEARANCE, 0.0)
    return item(shape, sizes, clearance)


def read_stock(
    caliper: str, sheet: str, material: str | None, unit: Unit, machine: Machine | None
) -> Stock:
    """A card of this caliper in sheets of this size, without a name of the user's; its creases take
    up what was measured of it on the machine, if that knows it."""
    from cutlayers import Stock, read_caliper, read_sheet
    from cutlayers.reading import ValueRefused

    try:
        sides = read_sheet(sheet, unit)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under("--sheet")) from None
    try:
        thickness = read_caliper(caliper, unit)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under("--caliper")) from None
    if material is not None:
        _refuse_unknown(material, machine)
    stock = Stock("card", thickness, sides, material=material)
    return stock if machine is None else stock.folded_as(machine.take_up)


def _refuse_unknown(material: str, machine: Machine | None) -> None:
    """Raise RefusedUsage for a material that the machine's profile has not."""
    from cutlayers.telling.nearest import nearest

    if machine is None:
        advice = "name the profile that has this material"
        raise RefusedUsage(Refusal(("--profile",), fault="missing", advice=advice))
    if material not in machine.materials:
        known = tuple(machine.materials)
        reason = f"is unknown to {machine.title}"
        raise RefusedUsage(
            Refusal(
                ("--material",),
                reason,
                "unknown" if known else "value",
                found=material,
                allowed=known or None,
                nearest=nearest(material, known),
            )
        )


def read_settings(style: Style, settings: Sequence[str], unit: Unit) -> dict[str, Any]:
    """The style's own dimensions that were given, checked like those of a job file."""
    from cutlayers.profile import read_value
    from cutlayers.reading import ValueRefused

    found = {}
    for name, text in _pairs(settings).items():
        if name not in style.table:
            raise RefusedUsage(
                Refusal(
                    ("--set", name),
                    f"is unknown to {style.name}",
                    "unknown",
                    allowed=tuple(style.table),
                    nearest=style.meant(name, style.table),
                )
            )
        try:
            found[name] = style.table[name][0].value.read(read_value(text), unit)
        except ValueRefused as error:
            raise RefusedUsage(error.refusal.under("--set", name)) from None
    return found


def read_shares(
    style: Style, proportions: Sequence[str], fixed: Collection[str]
) -> dict[str, float]:
    """The share of each of the style's sizes but the fixed ones, from NAME=SHARE words."""
    sizes = [
        name
        for name, (dimension, _) in style.table.items()
        if dimension.is_length and dimension.group == "size"
    ]
    wanted = [name for name in sizes if name not in fixed]
    pairs = _pairs(proportions)
    for name in pairs:
        if name in sizes and name in fixed:
            why = "has a share too; give one of the two"
            raise RefusedUsage(Refusal(("--set", name), why, "value"))
    if not wanted:
        raise RefusedUsage(
            Refusal(("--set",), "fixes every size", "value", advice="leave one to the sheet")
        )
    if sorted(pairs) != sorted(wanted):
        lacking = next((name for name in wanted if name not in pairs), None)
        wrong = lacking or next(name for name in pairs if name not in wanted)
        raise RefusedUsage(
            Refusal(
                (wrong,),
                fault="missing" if lacking else "unknown",
                allowed=None if lacking else tuple(wanted),
                advice=f"{style.name} needs a share for each of " + ", ".join(wanted),
            )
        )
    shares = {name: _length(name, text) for name, text in pairs.items()}
    for name, share in shares.items():
        if share <= 0:
            raise RefusedUsage(Refusal((name,), fault="value", found=share, allowed="more than 0"))
    return shares

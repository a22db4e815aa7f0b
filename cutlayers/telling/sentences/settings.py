"""Whose settings are taken for a card: words for the setup sheet and for the findings alike."""

from __future__ import annotations

from typing import Literal

HowFound = Literal["named", "nearest", "none", "unasked"]
"""How settings were found for a card: it names them or has their name; they are those of the card
nearest in weight; there are none; or nobody said which card it is."""


def settings_in_words(
    how: HowFound,
    stock: str,
    material: str | None,
    stock_g_m2: float | None,
    material_g_m2: float | None,
) -> str:
    """Whose settings they are, without a stop; weights in g/m², both known for the nearest.

    >>> settings_in_words("none", "ivory", None, None, None)
    'no settings: the profile has no material of its name, and it has no grammage to find the \
nearest by'
    """
    match how:
        case "named":
            return f"settings of {material}"
        case "nearest":
            return (
                f"nearest by weight: settings of {material}, {material_g_m2:g} g/m², for {stock}, "
                f"{stock_g_m2:g} g/m²; try them on a scrap first"
            )
        case "none":
            lacking = "it has no grammage" if stock_g_m2 is None else "no material has a grammage"
            no_settings = "no settings: the profile has no material of its name"
            return f"{no_settings}, and {lacking} to find the nearest by"
        case "unasked":
            return "no card was named; with --material NAME its settings stand here"

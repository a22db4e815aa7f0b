"""Sentences of what is found where lines become the paths of a tool."""

from __future__ import annotations

from cutlayers.telling.findings import Finding
from cutlayers.telling.quantities import length
from cutlayers.telling.saying import Say, angle, angle_limit, many, number
from cutlayers.telling.sentences.sentence import Sentence, Telling, least
from cutlayers.telling.sentences.settings import settings_in_words


def _relief(finding: Finding, say: Say) -> Sentence:
    size, stops, holes = finding.measured
    found = []
    if number(stops):
        found.append(
            f"creases stop {say.length(size, 2)} short of {many(stops, 'inner corner')} of cuts"
        )
    if number(holes):
        across = say.length(length(2 * size.value), 2)
        found.append(f"{many(holes, 'hole')} {across} across stand where lines end in a point")
    return Sentence(
        ", and ".join(found),
        "otherwise card so thick tears or bulges there",
        "`relief` of the stock says another length, or 0 for none",
    )


def _too_few_bridges(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{number(finding.measured[0])} of {number(least(finding))} bridges find room beside "
        "corners and glue tabs",
        cure="ask for fewer or narrower bridges, or hold the piece down in another way",
    )


def _score_too_short(finding: Finding, say: Say) -> Sentence:
    long, loss = say.against(finding.measured[0], least(finding), 2)
    return Sentence(
        f"a score {long} long runs from edge to edge",
        f"it takes more than {loss} to pull its ends back",
        "it is scored right to the edge, where it may start a tear; lower pull_back",
    )


def _narrower_than_kerf(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"a gap {say.length(finding.measured[0], 2)} long is narrower than the kerf and "
        "is cut along its drawn lines, so it comes out one kerf wider",
        f"it takes more than {say.limit(least(finding))}",
        "make it wider, or a slit",
    )


def _finer_than_kerf(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"a detail of {say.size(finding.measured, 2)} is finer than the kerf and comes out rounded",
        f"it takes more than {say.limit(least(finding))}",
    )


def _kerf_shared(finding: Finding, say: Say) -> Sentence:
    pieces, kerf = finding.detail("pieces"), say.limit(finding.detail("kerf"))
    return Sentence(
        f"{many(pieces, 'piece')} share borders, of which the kerf of {kerf} takes half from "
        f"either side: each comes out {say.limit(finding.measured[0])} smaller for each border "
        "that it shares",
        cure=f"a gap of {kerf} or more under [sheets] gives each piece a border of its own",
    )


def _too_short_to_perforate(finding: Finding, say: Say) -> Sentence:
    long, limit = say.against(finding.measured[0], least(finding), 2)
    return Sentence(
        f"a line {long} long holds no cut between two ties; it is left whole",
        f"it takes {limit} or more",
        "shorten cut or minimum_tie in the profile, or score it by hand",
    )


def _row_finer_than_kerf(finding: Finding, say: Say) -> Sentence:
    cut, tie = (say.limit(each) for each in finding.measured)
    kerf = say.limit(least(finding))
    return Sentence(
        f"cuts of {cut} and ties of {tie} or more cannot be made with a kerf of {kerf}; "
        "the lines are left out",
        f"both have to be more than {kerf}",
        "lengthen cut and minimum_tie of the perforation",
    )


def _second_side(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"{many(finding.measured[0], 'valley fold')} "
        f"{'is' if number(finding.measured[0]) == 1 else 'are'} scored from the back, so that "
        f"{'it closes' if number(finding.measured[0]) == 1 else 'they close'} over the bead",
        cure=f"work the back first, turned over about {finding.detail('axis')}, then the front",
    )


def _narrow_gap(finding: Finding, say: Say) -> Sentence:
    wide, finest = say.against(finding.measured[0], least(finding), 2)
    return Sentence(
        f"a gap {wide} wide",
        f"this tool makes {finest} or more",
        "widen it, or set `finest` of the tool if a scrap shows that it can",
    )


def _narrow_strip(finding: Finding, say: Say) -> Sentence:
    wide, finest = say.against(finding.measured[0], least(finding), 2)
    makes = f"this tool makes {finest} or more"
    if finding.others:
        return Sentence(f"{wide} between two cuts", makes, "move them apart")
    return Sentence(
        f"a strip {wide} wide",
        makes,
        "widen it, or set `finest` of the tool if a scrap shows that it can",
    )


def _sharp_point(finding: Finding, say: Say) -> Sentence:
    points, sharpest = finding.detail("points"), angle(finding.measured[0])
    return Sentence(
        f"{many(points, 'point')} of card, the sharpest of {sharpest}",
        f"this tool makes {angle_limit(least(finding))} or more",
        "a trailing blade tears sharper ones; blunt them",
    )


def _no_room_to_straighten(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"no waste is left for a stroke that sets the blade straight before it begins to "
        f"{finding.subject.operation}: the first line may start {say.length(finding.measured[0])} "
        "beside its place",
        f"it takes a free place {say.limit(least(finding))} long",
        "leave a border or a gap, or turn the blade by hand on a scrap",
    )


def _no_room_for_coupon(finding: Finding, say: Say) -> Sentence:
    side = say.limit(least(finding))
    return Sentence(
        "no waste is left for the coupon that is to be cut first",
        f"it takes a free square of {side}",
        "cut the coupon of another sheet of the same card, or leave a wider border",
    )


def _starts_astray(finding: Finding, say: Say) -> Sentence:
    lines, off = finding.measured
    return Sentence(
        f"{many(lines, 'line')} to {finding.subject.operation} "
        f"{'starts' if number(lines) == 1 else 'start'} in the card, where in any order of lines "
        f"the blade points anywhere: up to {say.length(off)} beside the line",
        cure='have the driver keep the order of the file, and write order = "kept" under [files] '
        "in the profile",
    )


def _out_of_reach(finding: Finding, say: Say) -> Sentence:
    near, margin = finding.measured[0], least(finding)
    if near.value >= 0:
        told, limit = say.against(near, margin, 2)
        where = f"{told} from the edge of the sheet"
    else:
        told, limit = say.length(length(-near.value), 2), say.limit(margin)
        where = f"{told} beyond the edge of the sheet"
    return Sentence(
        f"a line to {finding.subject.operation} takes its tool to {where}",
        f"the machine gets to {limit} from it",
        "lay or print the sheet anew, so that the print lies where it was planned; after "
        "measuring marks, see that it was from the corner that the machine counts from",
    )


def _nearest_material(finding: Finding, say: Say) -> Sentence:
    material, stock = finding.detail("material"), finding.subject.stock
    found = settings_in_words(
        "nearest",
        str(stock),
        material,
        finding.detail("stock_g_m2"),
        finding.detail("material_g_m2"),
    )
    return Sentence(found, cure=f'name the right one: material = "{material}" in [stock.{stock}]')


def _no_settings(finding: Finding, say: Say) -> Sentence:
    weighed = "give its grammage in g/m² to take those of the nearest card, or "
    by_weight = weighed if finding.detail("lacking") == "stock" else ""
    return Sentence(
        "the profile has no settings for this card, so the guide says which tool goes in and not "
        "how it is set",
        cure=f'{by_weight}name them: material = "NAME" in [stock.{finding.subject.stock}]',
    )


def _creases_measured(finding: Finding, say: Say) -> Sentence:
    takes, caliper = finding.measured
    return Sentence(
        f"a crease takes {say.length(takes)} of its {say.length(caliper)}, as measured of "
        f"{finding.detail('material')}; blanks are drawn by that"
    )


SENTENCES: dict[str, Telling] = {
    "relief": _relief,
    "too-few-bridges": _too_few_bridges,
    "score-too-short": _score_too_short,
    "narrower-than-kerf": _narrower_than_kerf,
    "finer-than-kerf": _finer_than_kerf,
    "kerf-shared": _kerf_shared,
    "too-short-to-perforate": _too_short_to_perforate,
    "row-finer-than-kerf": _row_finer_than_kerf,
    "second-side": _second_side,
    "narrow-gap": _narrow_gap,
    "narrow-strip": _narrow_strip,
    "sharp-point": _sharp_point,
    "no-room-to-straighten": _no_room_to_straighten,
    "no-room-for-coupon": _no_room_for_coupon,
    "starts-astray": _starts_astray,
    "out-of-reach": _out_of_reach,
    "nearest-material": _nearest_material,
    "no-settings": _no_settings,
    "creases-measured": _creases_measured,
}

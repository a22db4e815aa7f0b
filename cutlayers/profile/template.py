"""A new profile: the commented file that the answers about a machine become."""

from __future__ import annotations

from cutlayers.profile.asking import Answers, check_answers, mm_of
from cutlayers.profile.cautions import cautions
from cutlayers.profile.tools import ToolType
from cutlayers.telling.written import shown, write_place

WIDTH = 100
"""Characters of a line of the file."""


def profile_text(answers: Answers) -> str:
    """The file of a new profile, with what is worth knowing beside each value.

    Raises ProfileError where the answers do not go together.
    """
    check_answers(answers)
    cutter = ToolType(str(answers["cutter"]))
    tools = [_cutter_lines(cutter, answers)]
    if answers["draw"] == "pen":
        tools.append(["[tools.pen]", 'type = "pen"'])
    if answers["score"] == "stylus":
        tools.append(["[tools.stylus]", 'type = "stylus"'])
    cut_tool = "beam" if cutter is ToolType.LASER else "blade"
    kinds = [cutter]
    blocks = [
        [f"# {line}" for caution in cautions(kinds) for line in _wrapped(caution)],
        [
            '# Lengths are mm; a text with a unit, such as "12 in", is understood as well. Check',
            "# the file with 'cutlayers profile check' after a change of your own.",
        ],
        [f"title = {_text(answers['title'])}"],
        [
            "[bed]",
            f"width  = {mm_of(answers, 'width'):g}",
            f"height = {mm_of(answers, 'height'):g}",
            f"margin = {mm_of(answers, 'margin'):g}    # the border that no tool reaches",
        ],
        *tools,
        *_operation_blocks(answers, cut_tool),
        _register_lines(answers),
        _file_lines(answers),
        [
            "# Your cards, and what you found to work on each: numbers and texts under names of",
            "# your own, printed on the setup sheet. Trials fill this in: cutlayers trial --help",
            f"[materials.{write_place((str(answers['material']),))}]",
            f"grammage = {answers['grammage']:g}    # g/m²",
        ],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _cutter_lines(cutter: ToolType, answers: Answers) -> list[str]:
    if cutter is ToolType.DRAG_BLADE:
        who = {
            "machine": ("machine", "the machine leads it round corners"),
            "file": ("path", "the file leads it round corners"),
        }
        unsure = ("machine", "a guess: most makers' machines lead it round corners")
        swivel, why = who.get(str(answers["corners"]), unsure)
        return [
            "[tools.blade]",
            'type    = "drag-blade"',
            f"offset  = {mm_of(answers, 'offset'):g}    # how far the tip trails; trial: offset",
            f'swivel  = "{swivel}"    # {why}; trial: offset',
            "overcut = 0.3     # closed cuts run on a little, so that the last corner lets go",
        ]
    name, kind = ("beam", "laser") if cutter is ToolType.LASER else ("blade", "wheel")
    kerf = f"kerf = {mm_of(answers, 'kerf'):g}    # full width that is cut away; trial: kerf"
    return [f"[tools.{name}]", f'type = "{kind}"', kerf]


def _operation_blocks(answers: Answers, cut_tool: str) -> list[list[str]]:
    blocks = []
    drawing = {"pen": "pen", "laser": cut_tool}.get(str(answers["draw"]))
    if drawing:
        blocks.append(["[operations.draw]", f'tool = "{drawing}"'])
    match answers["score"]:
        case "stylus":
            blocks.append(["[operations.score]", 'tool = "stylus"'])
        case "laser":
            careful = "    # half through: set it far lower than to cut; trial: score"
            blocks.append(["[operations.score]", f'tool = "{cut_tool}"{careful}'])
        case "short cuts":
            row = "perforation = { cut = 1.5, tie = 1.5, minimum_tie = 0.8 }"
            blocks.append(["[operations.score]", 'as = "perforate"', row])
        case _:
            blocks.append(["[operations.score]", 'as = "by hand"'])
    blocks.append(
        [
            "[operations.perforate]",
            f'tool = "{cut_tool}"',
            "perforation = { cut = 3, tie = 1, minimum_tie = 0.6 }    # trial: perforation",
        ]
    )
    blocks.append(["[operations.cut]", f'tool = "{cut_tool}"'])
    return blocks


def _register_lines(answers: Answers) -> list[str]:
    """Marks lie whole within reach, so a wide margin moves them in."""
    size = 8.0
    from_edge = max(12.0, mm_of(answers, "margin") + size / 2)
    return [
        "[register]",
        'shape = "target"    # or dot, corner, none',
        f"size  = {size:g}",
        f"from_edge = {from_edge:g}    # from the sheet's edge to the mark's middle",
    ]


def _file_lines(answers: Answers) -> list[str]:
    chosen = ("dxf", "svg") if answers["formats"] == "both" else (str(answers["formats"]),)
    formats = ", ".join(map(_text, chosen))
    return ["[files]", f"formats = [{formats}]"]


def _text(value: object) -> str:
    import tomlkit

    return tomlkit.item(str(value)).as_string()


def _wrapped(sentence: str) -> list[str]:
    import textwrap

    return textwrap.wrap(sentence, WIDTH - 2)


def first_steps(name: str, answers: Answers) -> list[str]:
    """What to do next with a new profile, a line for each step."""
    blade = answers["cutter"] == ToolType.DRAG_BLADE
    material = (
        shown(str(answers["material"]))
        if " " in str(answers["material"])
        else str(answers["material"])
    )
    kind = "offset" if blade else "kerf"
    what = (
        "who leads the blade round corners, and how far it trails"
        if blade
        else "how wide the cut is"
    )
    return [
        f"cutlayers profile default {name}    so that jobs take it without being told",
        f"cutlayers trial {kind} --profile {name} --material {material}    writes a small sheet to "
        f"cut, from which you read {what}; its instructions.html says the rest",
        "cutlayers trial --help    the other trials",
    ]

"""A new profile: the questions about a machine, and the commented file the answers become."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.profile.cautions import cautions
from cutlayers.profile.editing import read_value
from cutlayers.profile.machine import Machine
from cutlayers.profile.tools import ToolType
from cutlayers.reading.tables import kind_at
from cutlayers.reading.values import ValueRefused, read_choice, read_length, read_number, read_text
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.lengths import parse_length
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown, write_place

Answer = str | float
Answers = Mapping[str, Answer]
AnswerKind = Literal["text", "length", "number", "choice"]

WIDTH = 100
"""Characters of a line of the file."""

UNSURE = "unsure"


@frozen
class Question:
    """One thing to know about a machine.

    `ask` is for people, `default` is given where they just go on; limits are inclusive and mm
    for lengths. `wanted` says from the answers so far whether it has to be asked.
    """

    name: str
    ask: str
    default: str
    kind: AnswerKind = "text"
    minimum: float = 0.0
    maximum: float = 0.0
    choices: tuple[str, ...] = ()
    unit: str = ""
    wanted: Callable[[Answers], bool] = lambda _: True

    @property
    def allowed(self) -> str:
        """What may be answered, for people."""
        if self.kind == "choice":
            return ", ".join(self.choices)
        return "" if self.kind == "text" else f"{self.minimum:g} to {self.maximum:g} {self.unit}"

    def read(self, text: str) -> Answer:
        """The answer in a text. Raises ProfileError naming the question."""
        try:
            match self.kind:
                case "text":
                    return read_text(text.strip())
                case "choice":
                    return str(read_choice(text.strip(), self.choices))
                case "length":
                    return read_length(text.strip(), "mm", self.minimum, self.maximum)
            value = read_value(text.strip())
            return read_number(value, self.minimum, self.maximum, self.unit)
        except ValueRefused as error:
            raise ProfileError(error.refusal.under(self.name)) from None


def questions() -> tuple[Question, ...]:
    """What to ask, in order; the limits are the profile's own."""

    def length(
        name: str,
        ask: str,
        default: str,
        place: tuple[str, ...],
        wanted: Callable[[Answers], bool] = lambda _: True,
    ) -> Question:
        limits = kind_at(Machine, *place)
        return Question(
            name, ask, default, "length", limits.least, limits.most, unit="mm", wanted=wanted
        )

    def cutter(kind: ToolType) -> Callable[[Answers], bool]:
        return lambda answers: answers["cutter"] == kind

    weight = kind_at(Machine, "materials", "NAME", "grammage")
    return (
        Question("title", "What do you call the machine?", "My cutting machine"),
        length("width", "How wide a sheet or mat goes in?", "340", ("bed", "width")),
        length("height", "How long a sheet or mat goes in?", "340", ("bed", "height")),
        length("margin", "How wide is the border that no tool reaches?", "5", ("bed", "margin")),
        Question(
            "cutter",
            "What does it cut with?",
            "drag-blade",
            "choice",
            choices=("drag-blade", "laser", "wheel"),
        ),
        Question(
            "corners",
            "A blade trails behind its holder and must be led round corners. Does the machine do "
            "that by itself, as most makers' machines do whose program asks for the kind of blade "
            "(machine), or does it follow every line as it is, so that the file must (file)? If "
            "you are unsure, 'cutlayers trial offset' shows it on card.",
            UNSURE,
            "choice",
            choices=("machine", "file", UNSURE),
            wanted=cutter(ToolType.DRAG_BLADE),
        ),
        length(
            "offset",
            "How far does the blade's tip trail its axis? (see the blade's package)",
            "0.25",
            ("tools", "NAME", "offset"),
            cutter(ToolType.DRAG_BLADE),
        ),
        length(
            "kerf",
            "How wide is the cut? (a guess will do; the trial 'kerf' measures it)",
            "0.15",
            ("tools", "NAME", "kerf"),
            lambda answers: answers["cutter"] != ToolType.DRAG_BLADE,
        ),
        Question(
            "draw",
            "Does it draw: with a pen, with the laser, or not at all?",
            "pen",
            "choice",
            choices=("pen", "laser", "no"),
        ),
        Question(
            "score",
            "How will folds be made: scored by a stylus or the laser, by short cuts, or by hand?",
            "stylus",
            "choice",
            choices=("stylus", "laser", "short cuts", "by hand"),
        ),
        Question(
            "formats",
            "Which files does its program open?",
            "both",
            "choice",
            choices=("dxf", "svg", "both"),
        ),
        Question("material", "A card that you use, by a name of your own", "kraft-270"),
        Question(
            "grammage", "Its weight", "270", "number", weight.least, weight.most, unit=weight.unit
        ),
    )


def check_answers(answers: Answers) -> None:
    """What single questions cannot see. Raises ProfileError."""
    for key in ("draw", "score"):
        if answers[key] == "laser" and answers["cutter"] != ToolType.LASER:
            reason = 'is "laser"; it can be that only where cutter is "laser"'
            raise ProfileError(Refusal((key,), reason, "value", found="laser"))
    short = min(_mm(answers, "width"), _mm(answers, "height"))
    if _mm(answers, "margin") >= short / 2:
        raise ProfileError(
            Refusal(
                ("margin",),
                f"is {_mm(answers, 'margin'):g} mm",
                "value",
                found=_mm(answers, "margin"),
                allowed=f"less than {short / 2:g} mm, half the bed's shorter side",
            )
        )


def _mm(answers: Answers, key: str) -> float:
    return parse_length(answers[key])


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
            f"width  = {_mm(answers, 'width'):g}",
            f"height = {_mm(answers, 'height'):g}",
            f"margin = {_mm(answers, 'margin'):g}    # the border that no tool reaches",
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
            f"offset  = {_mm(answers, 'offset'):g}    # how far the tip trails; trial: offset",
            f'swivel  = "{swivel}"    # {why}; trial: offset',
            "overcut = 0.3     # closed cuts run on a little, so that the last corner lets go",
        ]
    name, kind = ("beam", "laser") if cutter is ToolType.LASER else ("blade", "wheel")
    kerf = f"kerf = {_mm(answers, 'kerf'):g}    # full width that is cut away; trial: kerf"
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
    from_edge = max(12.0, _mm(answers, "margin") + size / 2)
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

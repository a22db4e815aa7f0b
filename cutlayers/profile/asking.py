"""What is asked about a machine before its profile is written, and what may be answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.profile.editing import read_value
from cutlayers.profile.machine import Machine
from cutlayers.profile.tools import ToolType
from cutlayers.reading.tables import kind_at
from cutlayers.reading.values import ValueRefused, read_choice, read_length, read_number, read_text
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.lengths import parse_length
from cutlayers.telling.refusals import Refusal

Answer = str | float
Answers = Mapping[str, Answer]
AnswerKind = Literal["text", "length", "number", "choice"]

UNSURE = "unsure"
"""The answer of whoever does not know."""


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
    short = min(mm_of(answers, "width"), mm_of(answers, "height"))
    if mm_of(answers, "margin") >= short / 2:
        raise ProfileError(
            Refusal(
                ("margin",),
                f"is {mm_of(answers, 'margin'):g} mm",
                "value",
                found=mm_of(answers, "margin"),
                allowed=f"less than {short / 2:g} mm, half the bed's shorter side",
            )
        )


def mm_of(answers: Answers, key: str) -> float:
    """An answer that is a length, in mm."""
    return parse_length(answers[key])

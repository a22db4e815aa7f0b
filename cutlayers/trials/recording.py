"""From what was read to what is saved."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from cutlayers.frozen import frozen
from cutlayers.profile.editing import Edit, Key, Value
from cutlayers.reading.values import read_number
from cutlayers.telling.errors import LengthError, TrialError
from cutlayers.telling.lengths import parse_length
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal, Span
from cutlayers.telling.written import shown
from cutlayers.trials.model import Outcome, Readings, ReadingSpec, Result, Setup, Trial

NEAR_RUNG = 1e-6


@frozen
class Recorded:
    """What came of the readings, the edits that save it, and its line in the profile's diary."""

    outcome: Outcome
    edits: tuple[Edit, ...]
    diary: dict[str, Value]


def record(trial: Trial, setup: Setup, words: Sequence[str], today: date) -> Recorded:
    """Read `name=value` words, work out what they say, and prepare to save it.

    Raises TrialError for readings that are unknown, impossible, missing, or contradict each other.
    """
    outcome = trial.estimate(setup, read_words(trial.readings(setup), words))
    edits = [Edit(result.key, _written(result)) for result in outcome.results]
    edits += [Edit(key, value) for key, value in outcome.more]
    tables = dict.fromkeys(_dated(result.key) for result in outcome.results)
    edits += [Edit((*table, "tested_on"), today) for table in tables if table]
    diary: dict[str, Value] = {"kind": trial.kind, "tested_on": today}
    if setup.material is not None:
        diary["material"] = setup.material
    diary["readings"] = list(words)
    diary["results"] = [f"{'.'.join(each.key)} = {each}" for each in outcome.results]
    return Recorded(outcome, tuple(edits), diary)


def _dated(key: Key) -> Key:
    """The table that holds the date of a value's trial: a material's operation, or a whole table;
    none for operations, which have no date."""
    match key[0]:
        case "materials":
            return key[:3]
        case "tools":
            return key[:2]
        case "operations":
            return ()
    return key[:1]


def _written(result: Result) -> float:
    """As a person would write it: whole where the dial has whole steps only."""
    whole = result.dial and result.dial == int(result.dial)
    return int(result.rounded) if whole else result.rounded


def in_plain_words(result: Result) -> str:
    """What was found, what to do with it and how sure it is, for people."""
    match result.key:
        case ("materials", material, operation, *rest):
            what = f"{'.'.join(rest)} to {operation} {material}"
        case ("tools" | "operations", name, *rest):
            what = f"{'.'.join(rest)} of {name}"
        case _:
            what = ".".join(result.key)
    found = f"{round(result.value, result.decimals):g} {result.unit}".rstrip()
    if not result.dial:
        said = f"{what}: {found}, by these readings."
    else:
        said = f"{what}: set it to {result.rounded:g}."
        if abs(result.rounded - result.value) > 1e-6:
            said += f" The readings say {found}; the dial takes steps of {result.dial:g}."
    if result.half is not None:
        half = f"{round(result.half, result.decimals):g} {result.unit}".rstrip()
        said += f" 19 times in 20 the truth lies within {half} of that."
    return said


def read_words(specs: Sequence[ReadingSpec], words: Sequence[str]) -> Readings:
    """Readings by name, in the order of the specifications. Raises TrialError."""
    known = {spec.name: spec for spec in specs}
    lower = {name.lower(): name for name in known}
    read: dict[str, list[float]] = {}
    for word in words:
        name, equals, text = word.partition("=")
        name = name if name in known else lower.get(name.lower(), name)
        if not equals:
            advice = f"write name=value, such as {specs[0].name}=1.65"
            raise TrialError(Refusal((word,), "is no reading", "value", found=word, advice=advice))
        if name not in known:
            raise TrialError(
                Refusal(
                    (name,),
                    "is no reading of this trial",
                    "unknown",
                    allowed=tuple(known),
                    nearest=nearest(name, known),
                )
            )
        read.setdefault(name, []).append(_value(known[name], text))
    for spec in specs:
        if spec.needed and spec.name not in read:
            raise TrialError(Refusal((spec.name,), fault="missing", about=spec.what))
    return {name: tuple(read[name]) for name in known if name in read}


def _value(spec: ReadingSpec, text: str) -> float:
    place = (spec.name,)
    try:
        value = parse_length(text) if spec.unit == "mm" else read_number(float(text), -1e9, 1e9)
    except LengthError as error:
        reason = f"is {shown(text)}, which {error.reason}"
        raise TrialError(Refusal(place, reason, "value", found=text)) from None
    except ValueError:
        raise TrialError(Refusal(place, fault="value", found=text, allowed="a number")) from None
    said = f"is {value:g} {spec.unit}".rstrip()
    if spec.rungs:
        near = min(spec.rungs, key=lambda rung: abs(rung - value))
        if abs(near - value) > NEAR_RUNG:
            reason = f"{said}, which the sheet does not have"
            raise TrialError(
                Refusal(
                    place, reason, "value", found=text, works=near, advice=f"it is: {spec.what}"
                )
            )
        return near
    if not spec.minimum <= value <= spec.maximum:
        allowed = Span(spec.minimum, spec.maximum, spec.unit)
        raise TrialError(
            Refusal(place, said, "value", found=text, allowed=allowed, about=spec.what)
        )
    return value

"""From what was read to what is saved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from cutlayers.profile.editing import Edit, Key, Value
from cutlayers.reading.values import read_number
from cutlayers.telling.errors import LengthError, TrialError
from cutlayers.telling.lengths import parse_length
from cutlayers.telling.nearest import did_you_mean
from cutlayers.trials.model import Outcome, Readings, ReadingSpec, Setup, Trial

NEAR_RUNG = 1e-6


@dataclass(frozen=True, slots=True)
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
    edits = [Edit(result.key, result.rounded) for result in outcome.results]
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


def read_words(specs: Sequence[ReadingSpec], words: Sequence[str]) -> Readings:
    """Readings by name, in the order of the specifications. Raises TrialError."""
    known = {spec.name: spec for spec in specs}
    lower = {name.lower(): name for name in known}
    read: dict[str, list[float]] = {}
    for word in words:
        name, equals, text = word.partition("=")
        name = name if name in known else lower.get(name.lower(), name)
        if not equals:
            example = specs[0].name
            raise TrialError(f"{word!r} is no reading; write name=value, such as {example}=1.65")
        if name not in known:
            raise TrialError(
                f"{name!r} is no reading of this trial; there are {', '.join(known)}."
                f"{did_you_mean(name, known)}"
            )
        read.setdefault(name, []).append(_value(known[name], text))
    for spec in specs:
        if spec.needed and spec.name not in read:
            raise TrialError(f"{spec.name} is missing: {spec.what}")
    return {name: tuple(read[name]) for name in known if name in read}


def _value(spec: ReadingSpec, text: str) -> float:
    unit = f" {spec.unit}" if spec.unit else ""
    try:
        value = parse_length(text) if spec.unit == "mm" else read_number(float(text), -1e9, 1e9)
    except LengthError as error:
        raise TrialError(f"{spec.name} is {error}") from None
    except ValueError:
        raise TrialError(f"{spec.name} is {text!r}; it must be a number") from None
    if spec.rungs:
        near = min(spec.rungs, key=lambda rung: abs(rung - value))
        if abs(near - value) > NEAR_RUNG:
            raise TrialError(
                f"{spec.name} is {value:g}{unit}, which the sheet does not have; the nearest "
                f"is {near:g}. It asks for {spec.what}"
            )
        return near
    if not spec.minimum <= value <= spec.maximum:
        raise TrialError(
            f"{spec.name} is {value:g}{unit}; possible is {spec.minimum:g} to {spec.maximum:g}"
            f"{unit}: {spec.what}"
        )
    return value

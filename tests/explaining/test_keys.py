"""The keys of jobs and profiles: each is told, and each has an example that works."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from click.testing import CliRunner, Result
from PIL import Image

from cutlayers.cli import main
from cutlayers.explaining.keys import OWN_NAME, Table, all_tables
from cutlayers.job.reading import job_schema
from cutlayers.profile.reading import profile_schema
from tests.lettering.test_outlines import build as build_font

TABLES = {
    f"{table.file} {table.heads[0] if table.heads else 'top'}": table for table in all_tables()
}


OF_DRAWINGS = {"lines", "known"}

DRAWN = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 140 60" fill="none">
  <g id="outline"><path d="M10 10 h120 v30 h-120 z" stroke="#000000"/></g>
  <path d="M20 20 h5" stroke="#FF0000"/>
  <path d="M50 10 v30" stroke="#0000FF" stroke-dasharray="2 1"/>
  <path d="M90 10 v30" stroke="#0000FF" stroke-dasharray="2 1"/>
  <path id="tear" d="M60 30 h20" stroke="#00FF00"/>
  <g id="pen"><path d="M60 20 h20" stroke="#00FF00"/></g>
  <g id="marks"><path d="M2 2 h5" stroke="#000000"/></g>
  <g id="notes"><path id="frame" d="M1 1 h138 v58 h-138 z" stroke="#000000" stroke-width="0.5"/></g>
</svg>"""


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def merged(one: Any, other: Any) -> Any:
    """Two tables in one; what stands in no item of a list goes into the first, what belongs to a
    drawing into the last; of values the second."""
    if isinstance(one, dict) and isinstance(other, dict):
        common = {key: merged(one[key], other[key]) for key in one.keys() & other.keys()}
        return {**one, **other, **common}
    if isinstance(one, list) and isinstance(other, dict):
        if other.keys() & OF_DRAWINGS:
            return [*one[:-1], merged(one[-1], other)]
        return [merged(one[0], other), *one[1:]]
    return other


def whole(file: str) -> dict[str, Any]:
    """All examples of a file in one."""
    table: dict[str, Any] = {}
    for each in all_tables():
        if each.file == file:
            table = merged(table, tomllib.loads(each.example))
    return table


def inside(table: Any, steps: list[str]) -> Iterator[dict[str, Any]]:
    """The tables at a place, in which NAME is any name."""
    if isinstance(table, list):
        for each in table:
            yield from inside(each, steps)
    elif not steps:
        yield table
    else:
        names = table.keys() if steps[0] == OWN_NAME else {steps[0]} & table.keys()
        for name in names:
            yield from inside(table[name], steps[1:])


@pytest.mark.parametrize("table", TABLES.values(), ids=TABLES.keys())
def test_every_key_is_in_the_example_of_its_table(table: Table) -> None:
    """Where other tables stand in it, these have examples of their own."""
    example = tomllib.loads(table.example)
    steps = [place.split(".") for place in table.places] or [[]]
    told = {key.name for key in table.keys}
    elsewhere = {
        step for other in all_tables() for place in other.places for step in place.split(".")
    }

    shown = {key for each in steps for found in inside(example, each) for key in found}

    assert told - shown - {"anything else"} <= elsewhere
    assert shown <= told or "anything else" in told
    assert all(
        key.help and f"{key.name} = " in key.example for key in table.keys if key.name in shown
    )


def test_no_key_is_left_out() -> None:
    """What the schemas have, whose keys the files are checked against by others' readers."""
    told = {(table.file, key.name) for table in all_tables() for key in table.keys}
    for file, schema in (("job", job_schema()), ("profile", profile_schema())):
        for name, node in [("", schema), *schema["$defs"].items()]:
            if not name.endswith((" size", " options")):
                assert {(file, key) for key in node.get("properties", {})} <= told, name


def test_files_are_named_by_one_key() -> None:
    """In kits, art, facings' art and lettering alike; a piece's drawing stands for its style."""

    def keys(table: Any) -> Iterator[str]:
        for key, value in table.items() if isinstance(table, dict) else ():
            if isinstance(value, str) and Path(value).suffix in (".csv", ".png", ".svg", ".ttf"):
                yield key
            for each in value if isinstance(value, list) else [value]:
                yield from keys(each)

    found = list(keys(whole("job")))

    assert found.count("file") >= 3
    assert set(found) == {"file", "drawing"}


@pytest.fixture
def beside(tmp_path: Path) -> Path:
    """A folder with the files that the examples name."""
    Image.new("RGB", (300, 200), "#0072B2").save(tmp_path / "sprig.png")
    (tmp_path / "friend.svg").write_text(DRAWN)
    return tmp_path


def test_all_examples_together_are_made(beside: Path) -> None:
    """One job and one profile with every key there is."""
    job, profile = whole("job"), whole("profile")
    job["profile"] = "./machine.toml"
    job["sheets"]["seconds"] = 1  # of searching, not to wait for
    del job["kit"]
    build_font(beside / "letters.ttf")
    (beside / "machine.toml").write_text(tomlkit.dumps(profile))
    (beside / "job.toml").write_text(tomlkit.dumps(job))

    result = run("make", beside / "job.toml", "-o", beside / "out")

    assert result.exit_code == 0, result.output
    assert (beside / "out" / "report.json").exists()


def test_a_table_is_told_with_its_keys_and_its_example() -> None:
    """As they stand in the file."""
    told = run("keys", "lettering").output

    for key in ("text", "panel", "height", "face", "file", "as", "align", "turn", "margin"):
        assert f"\n  {key} " in told
    assert "    [[piece.lettering]]\n" in told
    assert "0.5 mm to 500 mm" in told
    assert max(map(len, told.splitlines())) <= 88


@pytest.mark.parametrize("asked", ["gap", "sheets.gap"])
def test_a_key_is_told_alone(asked: str) -> None:
    """By its name or its place."""
    told = run("keys", asked).output.splitlines()

    assert told == [
        "gap, of sheets in a job: card left between pieces",
        "  0 mm to 100 mm; 4 mm if not given",
        "  for example: gap = 3",
    ]


def test_a_name_of_both_files_is_told_of_both() -> None:
    """Each with its own keys."""
    told = run("keys", "print").output

    assert "[print] of a job" in told and "[print] of a profile" in told


def test_a_style_s_own_keys_are_told_with_their_styles() -> None:
    """What a window may be depends on the style."""
    told = run("keys", "window").output

    assert "piece.options.window in a job, of sleeve-and-drawer" in told
    assert "piece.options.window_width in a job" in told


def test_every_key_can_be_asked_for() -> None:
    """None of them ends in a refusal."""
    for table in all_tables():
        for name in {*table.places, *(key.name for key in table.keys)} - {"anything else"}:
            assert run("keys", name).exit_code == 0, name


def test_scripts_get_tables_and_keys_as_data() -> None:
    """The list, and one."""
    listed = json.loads(run("keys", "--json").output)
    one = json.loads(run("keys", "limits", "--json").output)

    assert {each["file"] for each in listed} == {"job", "profile"}
    assert [key["name"] for key in one["tables"][0]["keys"]] == [
        "tab_depth",
        "lid_tight",
        "lid_loose",
        "layers",
    ]


@pytest.mark.parametrize(
    ("mistyped", "near"), [("letering", "lettering"), ("grammages", "grammage"), ("qqqq", None)]
)
def test_a_mistyped_key_is_refused_with_the_nearest(mistyped: str, near: str | None) -> None:
    """As a mistyped code is."""
    result = run("keys", mistyped)

    assert result.exit_code == 2
    assert "'cutlayers keys' lists the tables" in result.stderr
    assert (f"Did you mean {near}" in result.stderr) == (near is not None)

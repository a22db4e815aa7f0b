"""Changes to a profile: what is kept, what is refused, and saves that are whole or not at all."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.profile.default import default_profile, set_default
from cutlayers.profile.editing import (
    Edit,
    Value,
    differences,
    edited,
    read_key,
    read_value,
    with_entry,
)
from cutlayers.profile.reading import profile_from
from cutlayers.profile.search import FOLDER_VARIABLE, shipped_folder
from cutlayers.profile.store import (
    BACKUP,
    add_profile,
    change,
    own_profile,
    save,
)
from cutlayers.reading.editing import settled
from cutlayers.telling.errors import CutlayersError, OutputError, ProfileError
from cutlayers.writing.single import UNFINISHED
from tests.boxes import trying

ROOT = Path(__file__).parents[2]
SHIPPED = sorted(shipped_folder().glob("*.toml"))

SMALL = """\
# My machine, in the shed.
title = "Shed"   # a wooden one

[bed]
width = 305
height = 305

# The blade came with it.
[tools.blade]
type = "drag-blade"
offset = 0.25      # from the package

# What cuts.
[operations.cut]
tool = "blade"

[materials.kraft]
cut = { force = 22, note = "new blade" }   # spring
"""


def test_one_line_changes(tmp_path: Path) -> None:
    """Setting a value leaves its comment, and every other line, as it was."""
    text, changes = edited(SMALL, [Edit(("tools", "blade", "offset"), 0.3)], "f", "shed")

    assert text == SMALL.replace("offset = 0.25", "offset = 0.3")
    assert [str(each) for each in changes] == ["tools.blade.offset: 0.25 → 0.3"]


def test_new_keys_go_above_the_next_table_s_comment() -> None:
    """What a comment speaks of stays under it."""
    text, _ = edited(SMALL, [Edit(("tools", "blade", "overcut"), 0.4)], "f", "shed")

    assert text == SMALL.replace("# from the package\n", "# from the package\novercut = 0.4\n")


def test_new_tables_are_made() -> None:
    """A card that nobody named before gets its table, with an empty line before it."""
    edits = [
        Edit(("materials", "white 160", "cut", "force"), 14),
        Edit(("materials", "white 160", "cut", "tested_on"), date(2026, 3, 1)),
    ]

    text, _ = edited(SMALL, edits, "f", "shed")

    assert text == SMALL + ('\n[materials."white 160".cut]\nforce = 14\ntested_on = 2026-03-01\n')


def test_taking_out_leaves_the_rest() -> None:
    """None takes a key out and no more; a space may stay behind in an inline table."""
    text, _ = edited(SMALL, [Edit(("materials", "kraft", "cut", "note"), None)], "f", "shed")

    assert text.replace("22  }", "22 }") == SMALL.replace(', note = "new blade"', "")


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_line_ends_stay(end: str) -> None:
    """A file from another system keeps its line ends, new lines included."""
    text, _ = edited(
        SMALL.replace("\n", end), [Edit(("operations", "cut", "passes"), 2)], "f", "shed"
    )

    assert text == SMALL.replace('tool = "blade"\n', 'tool = "blade"\npasses = 2\n').replace(
        "\n", end
    )


names = st.text(st.characters(codec="utf-8", categories=("L", "N")), min_size=1, max_size=8)
comments = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), max_size=20)
numbers = st.integers(1, 99) | st.floats(0.01, 99.0).map(lambda value: round(value, 2))


@st.composite
def profiles(draw: st.DrawFn) -> str:
    """A right profile as people write them: comments, empty lines, spaces, tables in any order."""

    def line(text: str) -> str:
        space, comment = " " * draw(st.integers(0, 3)), draw(comments)
        return f"{text}{space}#{comment}\n" if draw(st.booleans()) else f"{text}{space}\n"

    def gap() -> str:
        return draw(st.sampled_from(("", "\n", "\n\n"))) + (
            f"#{draw(comments)}\n" if draw(st.booleans()) else ""
        )

    equals = draw(st.sampled_from((" = ", "=", "  =  ")))
    blocks = [
        gap() + line("[bed]") + line(f"width{equals}305") + gap() + line(f"height{equals}305"),
        gap()
        + line("[tools.blade]")
        + line(f'type{equals}"drag-blade"')
        + line(f"offset{equals}0.25"),
        gap() + line("[tools.pen]") + line(f'type{equals}"pen"'),
        gap() + line("[operations.cut]") + line(f'tool{equals}"blade"'),
    ]
    for name in draw(st.lists(names, max_size=3, unique=True)):
        force = draw(numbers)
        if draw(st.booleans()):
            blocks.append(
                gap() + line(f'[materials."{name}"]') + line(f"cut = {{ force = {force} }}")
            )
        else:
            blocks.append(gap() + line(f'[materials."{name}".cut]') + line(f"force = {force}"))
    order = draw(st.permutations(blocks))
    last = draw(st.sampled_from(("", "\n", "# the end")))
    return gap() + line(f'title{equals}"t"') + "".join(order) + last


EDITS: list[tuple[tuple[str, ...], st.SearchStrategy[Value]]] = [
    (("tools", "blade", "offset"), st.floats(0.01, 2.0).map(lambda value: round(value, 3))),
    (("tools", "blade", "overcut"), st.floats(0.0, 9.0).map(lambda value: round(value, 3))),
    (("bed", "margin"), st.integers(0, 8)),
    (("title",), names),
    (("operations", "cut", "passes"), st.integers(1, 20)),
    (("materials", "kraft 270", "cut", "force"), numbers),
    (("materials", "kraft 270", "grammage"), st.integers(10, 2000)),
    (("correction", "apply"), st.booleans()),
]


@trying(60)
@given(profiles(), st.data())
def test_everything_else_stays_byte_for_byte(text: str, data: st.DataObject) -> None:
    """After any edit, the text reads as just that edit, and every line but the edited one is
    there as it was and in its order; comments are never lost."""
    key, values = data.draw(st.sampled_from(EDITS))
    value = data.draw(values)
    before = tomllib.loads(text)

    after, _ = edited(text, [Edit(key, value)], "f", "mine")

    table = tomllib.loads(after)
    node, old = table, before
    for step in key[:-1]:
        node, old = node[step], old.get(step, {})
    assert node[key[-1]] == value
    old_lines = [line.rstrip("\n") for line in text.split("\n")]
    new_lines = [line.rstrip("\n") for line in after.split("\n")]
    if key[-1] in old:
        assert len(old_lines) == len(new_lines)
        changed = [(a, b) for a, b in zip(old_lines, new_lines, strict=True) if a != b]
        assert len(changed) <= 1
        for one, other in changed:
            assert one.partition("#")[2] == other.partition("#")[2]
    else:
        rest = iter(new_lines)
        assert all(any(line == other for other in rest) for line in old_lines if line.strip())


@trying(25)
@given(st.sampled_from(SHIPPED), st.data())
def test_setting_and_taking_out_brings_the_file_back(path: Path, data: st.DataObject) -> None:
    """A new value set and taken out again leaves the very bytes of before."""
    text = path.read_text(encoding="utf-8")
    tool = data.draw(st.sampled_from(sorted(tomllib.loads(text)["tools"])))
    edit = Edit(("tools", tool, "note"), data.draw(names))

    there, _ = edited(text, [edit], "f", "mine")
    back, _ = edited(there, [Edit(edit.key, None)], "f", "mine")

    assert there != text
    assert back == text


def test_nothing_set_changes_nothing() -> None:
    """Setting what is there already keeps the file's bytes, whatever they look like."""
    odd = SMALL.replace("offset = 0.25", "offset =   2.5e-1")

    assert edited(odd, [Edit(("tools", "blade", "offset"), 0.25)], "f", "shed")[0] == odd


REFUSED = [
    ("tools.blade.offset", "5", "tools.blade.offset is 5 mm; it must be 0 mm to 2 mm"),
    ("tools.blade.ofset", "0.3", "Did you mean offset?"),
    ("bed.width.inner", "3", "bed.width is 305; it must be a table"),
    ("tools.blade", "3", "it must be a table"),
    ("tools.knife.offset", "0.2", "tools.knife.type is missing"),
    ("operations.cut.tool", "pen", 'operations.cut.tool is "pen"'),
    ("tools..offset", "3", "is no key"),
    ("", "3", "is no key"),
    ("a = 1\nb", "3", "is no key"),
]


@pytest.mark.parametrize(("key", "value", "reason"), REFUSED)
def test_refuses(key: str, value: str, reason: str) -> None:
    """What would be no right profile, or is no key, is refused with the place."""
    with pytest.raises(ProfileError) as caught:
        edited(SMALL, [Edit(read_key(key), read_value(value))], "f", "shed")

    assert reason in str(caught.value)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("18", 18),
        ("0.25", 0.25),
        ("true", True),
        ("2026-03-01", date(2026, 3, 1)),
        ("12 in", "12 in"),
        ("drag-blade", "drag-blade"),
        ('"18"', "18"),
        ('["dxf"]', ["dxf"]),
        ("1\nbed = 2", "1\nbed = 2"),
        ("", ""),
    ],
)
def test_values_are_toml_or_else_text(text: str, value: object) -> None:
    """Nobody has to fight a shell's quotes for a word."""
    assert read_value(text) == value
    assert type(read_value(text)) is type(value)


def test_the_diary_grows() -> None:
    """Each recorded trial is one more table at the end."""
    once = with_entry(SMALL, "trials", {"kind": "kerf", "tested_on": date(2026, 3, 1)}, "f")
    twice = with_entry(once, "trials", {"kind": "pen", "tested_on": date(2026, 3, 2)}, "f")

    assert twice.startswith(SMALL)
    assert [each["kind"] for each in tomllib.loads(twice)["trials"]] == ["kerf", "pen"]
    assert profile_from(tomllib.loads(twice), "f", "shed")


def test_differences_are_told_by_key() -> None:
    """What one has and the other has not shows as -."""
    other, _ = edited(
        SMALL,
        [Edit(("bed", "margin"), 3), Edit(("materials", "kraft", "cut", "force"), 20)],
        "f",
        "shed",
    )

    found = differences(tomllib.loads(SMALL), tomllib.loads(other))

    assert {str(each) for each in found} == {
        "materials.kraft.cut.force: 22 → 20",
        "bed.margin: - → 3",
    }


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A profile of the user's own on the disk."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    path = tmp_path / "shed.toml"
    path.write_bytes(SMALL.encode())
    return path


def test_the_last_version_is_kept(shed: Path) -> None:
    """After two saves the backup is the one before the last."""
    for force in (20, 18):
        change(own_profile("shed"), [Edit(("materials", "kraft", "cut", "force"), force)])

    assert "force = 18" in shed.read_text()
    backup = shed.with_name("shed.toml" + BACKUP)
    assert backup.read_text() == SMALL.replace("force = 22", "force = 20")
    assert sorted(path.name for path in shed.parent.iterdir()) == ["shed.toml", backup.name]


@pytest.mark.parametrize("broken", [b"title = ", b"\xff\xfe", b'title = "t"\n', b""])
def test_a_broken_file_is_never_overwritten(shed: Path, broken: bytes) -> None:
    """What does not read as a profile is for its owner to mend."""
    shed.write_bytes(broken)

    with pytest.raises(ProfileError):
        change(own_profile("shed"), [Edit(("bed", "width"), 300)])

    assert shed.read_bytes() == broken
    assert [path.name for path in shed.parent.iterdir()] == ["shed.toml"]


def test_a_file_changed_meanwhile_is_not_overwritten(shed: Path) -> None:
    """An editor that saved in between wins."""
    profile = own_profile("shed")
    shed.write_text(SMALL + "# mine\n")

    with pytest.raises(OutputError, match="changed by something else"):
        save(profile, b"other")

    assert shed.read_text() == SMALL + "# mine\n"


def test_a_byte_order_mark_stays(shed: Path) -> None:
    """Some editors begin a file with one."""
    shed.write_bytes(b"\xef\xbb\xbf" + SMALL.encode())

    change(own_profile("shed"), [Edit(("bed", "width"), 300)])

    assert (
        shed.read_bytes() == b"\xef\xbb\xbf" + SMALL.replace("width = 305", "width = 300").encode()
    )


@pytest.mark.usefixtures("shed")
def test_shipped_profiles_are_not_changed() -> None:
    """They come back with every update, so a change would be lost."""
    with pytest.raises(ProfileError, match="cutlayers profile copy small-laser"):
        own_profile("small-laser")


@pytest.mark.skipif(os.name == "nt", reason="links and modes are other things there")
def test_a_link_and_its_mode_stay(shed: Path, tmp_path: Path) -> None:
    """A profile kept elsewhere and linked is changed where it is."""
    real = tmp_path / "kept" / "real.toml"
    real.parent.mkdir()
    shed.rename(real)
    real.chmod(0o600)
    shed.symlink_to(real)

    change(own_profile("shed"), [Edit(("bed", "width"), 300)])

    assert shed.is_symlink()
    assert "width = 300" in real.read_text()
    assert real.stat().st_mode & 0o777 == 0o600


def test_the_default_is_remembered(shed: Path) -> None:
    """One name in one small file, until it is cleared."""
    assert default_profile() is None
    set_default("shed")
    assert default_profile() == "shed"
    set_default(None)
    set_default(None)
    assert default_profile() is None


def test_adding_never_overwrites_unasked(shed: Path) -> None:
    """Only `replace` takes a profile's place, and keeps it as the last version."""
    with pytest.raises(OutputError, match="is there already"):
        add_profile(shed, b"new")
    add_profile(shed, b"new", replace=True)

    assert shed.read_bytes() == b"new"
    assert shed.with_name("shed.toml" + BACKUP).read_bytes() == SMALL.encode()


SAVER = """\
import sys
from pathlib import Path
from cutlayers.profile.store import ProfileText, save
from tests.dying import die_at_line
path = Path(sys.argv[1])
texts = [Path(sys.argv[2]).read_bytes(), Path(sys.argv[3]).read_bytes()]
die_at_line(int(sys.argv[4]), "writing", "profile/store.py")
while True:
    now = path.read_bytes()
    save(ProfileText(path, now), texts[now == texts[0]])
"""

KILLS = int(os.environ.get("CUTLAYERS_KILLS", "12"))
"""How often the process is killed; set it to 200 for the long run."""

LINES = 120
"""Lines of ours that two saves run, there and back: about 60 each."""


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal there")
def test_a_killed_save_leaves_a_whole_file(tmp_path: Path) -> None:
    """Killed at any line of saving, over and over, the file and its last version are each one of
    the two texts, whole."""
    big = SMALL + "".join(f'[materials."card {i}"]\ngrammage = {100 + i}\n' for i in range(300))
    texts = [big.encode(), big.replace("offset = 0.25", "offset = 0.35").encode()]
    for name, text in zip(("one", "two"), texts, strict=True):
        (tmp_path / name).write_bytes(text)
    folder = tmp_path / "profiles"
    folder.mkdir()
    path = folder / "shed.toml"
    path.write_bytes(texts[0])
    backup = path.with_name(path.name + BACKUP)
    for kill in range(KILLS):
        line = str(1 + kill * LINES // KILLS)
        words: list[str | Path] = [
            sys.executable,
            "-c",
            SAVER,
            path,
            tmp_path / "one",
            tmp_path / "two",
            line,
        ]
        assert subprocess.run(words, cwd=ROOT).returncode == -signal.SIGKILL
        assert path.read_bytes() in texts
        assert not backup.exists() or backup.read_bytes() in texts
    left = [each.name for each in folder.iterdir() if each not in (path, backup)]
    assert all(name.startswith(".") and name.endswith(UNFINISHED) for name in left)


def test_errors_are_the_package_s_own() -> None:
    """The command line turns them into one line and exit code 2."""
    assert issubclass(ProfileError, CutlayersError)


@pytest.mark.parametrize("lost", ["a = 1\n", "b = 2\n", "c = 3\n", "b = 2\nc = 3\n"])
def test_a_text_that_lost_lines_is_left_as_it_is(lost: str) -> None:
    """At its end too, where what is left is the beginning of what was there."""
    before = "a = 1\nb = 2\nc = 3\n"

    assert settled(before, before.replace(lost, "")) == before.replace(lost, "")


@pytest.mark.parametrize("steps", [20, 21, 60, 200, 400, 1500])
def test_a_key_deeper_than_any_is_refused(steps: int) -> None:
    """A profile's own go five tables deep; the library that keeps comments gives up at some 200."""
    key = ".".join("a" * steps)

    with pytest.raises(ProfileError) as caught:
        edited(SMALL, [Edit(read_key(key), 3)], "mine.toml", "mine")

    assert ("is no key" in str(caught.value)) == (steps > 20)
    assert "\n" not in str(caught.value)

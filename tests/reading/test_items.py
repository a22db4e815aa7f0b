"""Tables put into lists of tables, and taken out again."""

from __future__ import annotations

import tomllib

import pytest

from cutlayers.reading.editing import EditRefused
from cutlayers.reading.items import with_block, with_copy, with_item, without_item

TWO = """\
title = "Two"

[[piece]]
style = "tray"    # the first

[piece.size]
length = 60
# wall = 20    # if it is to be higher

# The second is for the shelf.
[[piece]]
style = "folder"
note = '''
[[piece]]
[[piece.art]]
'''
"""

ART = {"roles": "wall", "pattern": "dots"}


@pytest.mark.parametrize("piece", [0, 1])
def test_an_item_stands_where_its_list_ends(piece: int) -> None:
    """Behind all of its own table, with its remarks, and before those of the next one."""
    text = with_item(TWO, ("piece", piece, "art"), ART)

    block = '[[piece.art]]\nroles = "wall"\npattern = "dots"\n'
    if piece == 0:
        assert text == TWO.replace("# The second", f"{block}\n# The second")
    else:
        assert text == f"{TWO}\n{block}"
    assert tomllib.loads(text)["piece"][piece]["art"] == [ART]


def test_what_is_put_in_comes_out_again() -> None:
    once = with_item(TWO, ("piece", 0, "art"), ART)
    twice = with_item(once, ("piece", 0, "art"), {"colour": "#FFFFFF"})

    assert without_item(twice, ("piece", 0, "art", 1)) == once
    assert without_item(once, ("piece", 0, "art", 0)) == TWO


def test_a_list_within_brackets_is_gone_on_with() -> None:
    text = 'piece = [{ style = "tray" }]\n'

    longer = with_item(text, ("piece",), {"style": "folder"})

    assert tomllib.loads(longer) == {"piece": [{"style": "tray"}, {"style": "folder"}]}
    assert tomllib.loads(without_item(longer, ("piece", 0))) == {"piece": [{"style": "folder"}]}


@pytest.mark.parametrize("place", [("piece", 5, "art"), ("title", "art"), ("piece", 0, "style")])
def test_where_there_is_no_list_nothing_is_put(place: tuple[str | int, ...]) -> None:
    with pytest.raises(EditRefused):
        with_item(TWO, place, ART)


NOWHERE = [
    (), ("piece",), (0,), ("piece", 2), ("piece", 0, "art", 0), ("title", 0), ("piece", 0, "piece"),
    ("piece", "x"), ("title", "x", 0), ("piece", 0, 1), ("piece", "x", 0), ("title", 0, 0),
]  # fmt: skip
"""Places of no item, some of which no table can have."""


@pytest.mark.parametrize("place", NOWHERE)
def test_what_is_not_there_is_not_taken_out(place: tuple[str | int, ...]) -> None:
    with pytest.raises(EditRefused):
        without_item(TWO, place)


def test_a_table_is_copied_with_its_remarks() -> None:
    """To the end of its list, with the values of its own there; head and remarks of others stay."""
    two = TWO.partition("note")[0]
    text = with_copy(two, ("piece", 0), {"name": "high"})

    first = two[two.index("[[piece]]") : two.index("\n# The second")]
    named = first.replace("# the first\n", '# the first\nname = "high"\n')
    assert text == f"{two}\n{named}"
    assert without_item(text, ("piece", 2)) == two


def test_what_goes_on_within_brackets_keeps_its_remarks() -> None:
    text = '[[piece]]\nart = [\n  { roles = "wall" },    # dots\n  # more later\n]    # all\n'

    longer = with_item(text, ("piece", 0, "art"), {"roles": "lid"})
    copied = with_copy(longer, ("piece", 0, "art", 0), {"roles": "base"})

    assert longer == text.replace("later\n", 'later\n  {roles = "lid"}\n')
    roles = [each["roles"] for each in tomllib.loads(copied)["piece"][0]["art"]]
    assert roles == ["wall", "lid", "base"]
    assert "# dots" in copied and "# more later" in copied and "# all" in copied


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_block_comes_with_its_remarks_and_the_line_ends_of_the_text(end: str) -> None:
    block = '[[piece]]\nstyle = "gable-carton"\n# wall = 3\n[piece.size]    # inside\nlength = 60\n'

    text = with_block(TWO.replace("\n", end), ("piece",), block)

    assert text == f"{TWO}\n{block}".replace("\n", end)


@pytest.mark.parametrize("place", [("piece", 2), ("piece", -1), ("title", 0), ("none", 0)])
def test_what_there_is_not_cannot_be_copied(place: tuple[str, int]) -> None:
    with pytest.raises(EditRefused):
        with_copy(TWO, place, {})

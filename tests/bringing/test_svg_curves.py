"""Our reader of straight path data against the library that reads all others."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cutlayers.artwork.svg_outlines import subpaths
from cutlayers.bringing.curves import chain_of
from cutlayers.bringing.svg_curves import straight_curves

numbers = st.one_of(
    st.integers(-99, 99).map(str),
    st.floats(-99, 99).map(lambda value: f"{value:.3f}"),
    st.sampled_from([".5", "-.5", "1e1", "-2.5E-1", "+3"]),
)


@st.composite
def path_data(draw: st.DrawFn) -> str:
    parts = []
    for letter in draw(st.text("MmLlHhVvZz", min_size=1, max_size=8)):
        needed = {"M": 2, "L": 2, "H": 1, "V": 1, "Z": 0}[letter.upper()]
        count = needed * draw(st.integers(1, 3))
        between = draw(st.sampled_from([" ", ",", " , ", "\n"]))
        parts.append(letter + between.join(draw(numbers) for _ in range(count)))
    return "M 1 2" + draw(st.sampled_from(["", " "])).join(parts)


@given(path_data())
def test_it_reads_as_the_library_does(data: str) -> None:
    ours = straight_curves(data)

    theirs = tuple(
        chain_of([start, *((each.end.x, each.end.y) for each in segments)], closed=False).points
        for start, segments, _ in subpaths(data)
    )
    assert ours is not None
    assert len(ours) == len(theirs)
    for mine, other in zip(ours, theirs, strict=True):
        ends = list(mine.points)[: -1 if mine.closed else None]
        assert [(round(x, 6), round(y, 6)) for x, y in ends] == [
            (round(x, 6), round(y, 6)) for x, y in other
        ]


def test_others_are_left_to_the_library() -> None:
    for data in (
        "M0 0C1 1 2 2 3 3",
        "M0 0A1 1 0 0 1 2 2",
        "L 3 3",
        "M0",
        "M0 0 L",
        "M0 0 1",
        "M0 0x",
    ):
        assert straight_curves(data) is None

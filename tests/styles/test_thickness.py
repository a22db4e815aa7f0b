"""Do panels of the closed box share room, at any caliper?

`NOT_YET` lists what does, from thin to thick: how many pairs of panels share more than is allowed
at each of `CALIPERS`, and how many mm the deepest shares ("-" where there is none). It can only
shrink: a number that no longer holds fails, and so does one that is right.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from cutlayers.construction.style import Style, styles
from tests.styles.thickness import CALIPERS, allowed, row

NOT_YET = """
counter-tray       12@0.2  12@0.3  12@0.5    12@1  12@1.5    12@2    12@3
crash-lock-carton  32@0.2  32@0.3  33@0.5    33@1  33@1.5    33@2    33@3
envelope            7@0.2   7@0.3   7@0.5     7@1   7@1.5     7@2     7@3
folder              1@0.2   1@0.3   1@0.5     1@1   1@1.5     1@2     1@3
gable-carton       50@0.2 104@0.3 104@0.5   113@1 113@1.5   113@2   113@3
gusset-bag         20@0.2  30@0.3  30@0.5    30@1  30@1.5    30@2    30@3
gusseted-envelope  12@0.2  12@0.3  14@0.5    14@1  14@1.5    14@2    14@3
header-card         1@0.2   1@0.3   1@0.5     1@1   1@1.5     1@2     1@3
hinged-lid-tray    12@0.2  12@0.3  12@0.5    12@1  12@1.5    12@2    12@3
house-box          25@0.2  27@0.3  32@0.5    32@1  32@1.5    32@2    32@3
petal-top-box      34@0.2  34@0.3  34@0.5    34@1  34@1.5    34@2    34@3
pillow-pack       112@0.2 144@0.3 160@0.5   176@1 176@1.5   176@2   176@3
platonic-solid     38@0.2  38@0.3  38@0.5    86@1  86@1.5    86@2    86@3
prism-box          36@0.2  36@0.3  36@0.5    36@1  36@1.5    36@2    36@3
pyramid-box        14@0.2  14@0.3  14@0.5    14@1  14@1.5    14@2    14@3
sleeve-and-drawer  14@0.2  14@0.3  14@0.5    14@1  14@1.5    14@2    14@3
slide-lock-mailer   9@0.2   9@0.3   9@0.5     9@1   9@1.5     9@2     9@3
snap-lock-carton   14@0.2  14@0.3  16@0.5    16@1  16@1.5    16@2    16@3
tapered-tray        8@0.2  12@0.3  12@0.5    12@1  12@1.5    12@2    12@3
telescope-box      24@0.2  24@0.3  24@0.5    24@1  24@1.5    24@2    24@3
tray               12@0.2  12@0.3  12@0.5    12@1  12@1.5    12@2    12@3
tuck-carton        15@0.2  15@0.3  18@0.5    18@1  18@1.5    18@2    18@3
wrap-band           1@0.2   1@0.3   1@0.5     1@1   1@1.5     1@2     1@3
"""

every_style = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)


@every_style
@pytest.mark.parametrize("caliper", CALIPERS)
def test_no_two_panels_share_room_but_those_on_the_list(style: Style, caliper: float) -> None:
    """Allowed are 0.05 mm and a tenth of the caliper; what is on the list is so and no better."""
    found = row(style, caliper)
    listed = dict(_listed()).get((style.name, caliper))
    if listed is None:
        assert found is None or found.depth <= allowed(caliper)
        return
    beyond, depth = listed
    assert found is not None
    assert found.beyond == beyond
    assert found.depth == pytest.approx(depth, abs=2e-3)
    assert beyond and depth > allowed(caliper), "what is right is not listed"


def _listed() -> Iterator[tuple[tuple[str, float], tuple[int, float]]]:
    """Style and caliper with pairs beyond and depth."""
    for line in NOT_YET.strip().splitlines():
        name, *found = line.split()
        for caliper, each in zip(CALIPERS, found, strict=True):
            if each != "-":
                beyond, _, depth = each.partition("@")
                yield (name, caliper), (int(beyond), float(depth))

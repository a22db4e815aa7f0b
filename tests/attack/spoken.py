"""Doors for what is said on a command line."""

from __future__ import annotations

from cutlayers.construction.styles import styles
from tests.attack.cases import NAUGHTY_NUMBERS, NAUGHTY_TEXTS, Case, Chance, consoles, toml_of
from tests.attack.texts import COLOURED, PROFILE, ROOT, profiles, tray

MARKS = ((12, 12), (198, 12), (12, 285))
"""Middles of the register marks of the tray with a coloured base, on A4."""

READINGS = {
    "kerf": ("A=1.65", "B=1.6", "C=3.2", "S=0.15", "S=0.2"),
    "offset": ("offset=0.25", "offset=0.3", "overcut=0.2"),
    "settings": ("first=12", "last=20", "first=14"),
    "score": ("MA=12", "MB=14", "CA=12", "LA=3"),
    "perforation": ("holds=1.4", "tears=1.6", "holds=0.8"),
    "register": ("x1=0.1", "y1=0.1", "x2=0.1", "y2=0.2", "x3=0", "y3=0"),
    "pen": ("solid=0.3", "letters=3.5", "solid=0.4"),
    "squareness": ("bottom=270", "left=270", "rising=381.8", "falling=382"),
}


def align_words(chance: Chance) -> tuple[str, ...]:
    """The command that asks where the marks of the tray are."""
    sheet = chance.choice(("1", "1", "1", "1", "1", "1", "2", "0"))
    return ("align", "{folder}/job.toml", *PROFILE, "--sheet", sheet)


def marks(chance: Chance) -> Case:
    """Measured marks that cannot be, or hardly."""
    words = list(align_words(chance))
    odd = chance.random() < 0.5
    for across, up in chance.sample(MARKS, chance.choice((0, 2, 3, 3, 3))):
        x, y = (value + chance.gauss(0, chance.choice((0.1, 2, 50))) for value in (across, up))
        place: tuple[object, object] = (round(x, 2), f"{y:.2f} mm")
        if odd and chance.random() < 0.4:
            place = chance.choice((*NAUGHTY_NUMBERS, "x", "", "1/2 in")), place[1]
        words += ["--mark", ",".join(map(str, place))[:3000]]
    if chance.random() < 0.2:
        words += ["--model", chance.choice(("similarity", "axes", "affine", "x"))]
    if chance.random() < 0.2:
        words += ["--limit", chance.choice(("0.01", "5", "nan", "1e9", "-1"))]
    if chance.random() < 0.05:
        words += ["--mark", "12,12"] * 300
    files = {"job.toml": tray(art=[COLOURED])}
    return Case((*words, "-o", "{folder}/out"), files, console=consoles(chance))


def record(chance: Chance) -> Case:
    """Readings of a trial: right ones, too few, odd ones."""
    kind = chance.choice(tuple(READINGS))
    values = chance.sample(READINGS[kind], chance.randint(1, len(READINGS[kind])))
    for index, value in enumerate(values):
        if chance.random() < 0.2:
            name = value.partition("=")[0]
            number = chance.choice((0.2, 3, *NAUGHTY_NUMBERS, *NAUGHTY_TEXTS))
            values[index] = f"{name}={number}"[:2000]
        elif chance.random() < 0.05:
            values[index] = chance.choice(NAUGHTY_TEXTS)
    words = ["trial", "record", kind, "-p", "{folder}/machine.toml"]
    if chance.random() < 0.7:
        words += ["--material", chance.choice(("kraft-270", "white-160", *NAUGHTY_TEXTS))]
    if chance.random() < 0.2:
        words += ["--date", chance.choice(("2026-03-01", "2026-02-30", "9999-12-31", "x"))]
    if chance.random() < 0.2:
        words.append(chance.choice(("--dry-run", "--json")))
    files = {"machine.toml": toml_of(chance.choice(profiles()))}
    return Case((*words, "--", *values), files, "n\n", frozenset(files), console=consoles(chance))


def trial(chance: Chance) -> Case:
    """A trial for an odd card, ladder or sheet."""
    kind = chance.choice(tuple(READINGS))
    machine = chance.choice(("drag-blade-340", "drag-blade-340", "small-laser", "desktop-a4"))
    words = ["trial", kind, "--profile", machine, "-o", "{folder}/out"]
    if chance.random() < 0.8:
        words += ["--material", chance.choice(NAUGHTY_TEXTS)]
    if chance.random() < 0.3:
        words += ["--sheet", chance.choice(("A5", "A3", "20 x 20 mm", *NAUGHTY_TEXTS))]
    if chance.random() < 0.4:
        low, high = (chance.choice((1, 20, *NAUGHTY_NUMBERS)) for _ in range(2))
        words += ["--setting", chance.choice(("force", "passes", "№", "{x}"))]
        words += ["--from", str(low)[:400], "--to", str(high)[:400]]
        words += ["--steps", chance.choice(("4", "2", "1", "1000000", "-1"))]
    return Case(tuple(words), console=consoles(chance))


def command(chance: Chance) -> Case:
    """The words of a command: sizes, options, names, files that are none."""
    style = chance.choice(styles()).name
    text = chance.choice(NAUGHTY_TEXTS)
    number = str(chance.choice((1, 2, 30, 62, *NAUGHTY_NUMBERS, "9" * 5_000)))
    name = chance.choice(("height", "length", "width", "tab", text))
    job, kit = "{folder}/job.toml", str(ROOT / "samples/market-guests.toml")
    words = chance.choice(
        (
            ("size", "for-item", style, "sphere", f"diameter={number}"),
            ("size", "for-item", style, "cuboid", "length=50", "width=30", f"height={text}"),
            ("size", "for-item", style, "sphere", "diameter=50", "--set", f"tab={'[' * 5_000}"),
            ("size", "for-item", style, "sphere", "diameter=50", "--set", f"{name}={number}"),
            ("size", "from-sheet", style, "length=2", "width=1", f"height={number}", *PROFILE),
            ("size", "from-sheet", style, "length=1", "--set", f"{name}={number}", *PROFILE),
            ("size", "from-sheet", "tray", "length=2", "width=1", "--set", f"{name}={number}"),
            ("size", "like", job, "sphere", f"diameter={number}"),
            ("size", "like", job, "cuboid", "length=9", "width=9", "height=9", "--along", text),
            ("styles", text),
            ("explain", text),
            ("new", text),
            ("new", style, "-o", "{folder}/" + text),
            ("new", style, "-o", job),
            ("check", "{folder}/" + text),
            ("check", text),
            ("check", "{folder}"),
            ("make", kit, "-o", job),
            ("make", job, "-o", "{folder}/" + text),
            ("make", job, "-o", "{folder}"),
            ("check", job, "-p", text),
            ("profile", "show", text),
            ("fold", job, "-o", "{folder}/" + text),
            ("fold", job, "-o", job, "--overwrite"),
            ("fold", text, "--open", number),
            ("guide", job, "-o", "{folder}/" + text),
            ("guide", job, "-o", "{folder}/./JOB.toml"),
            ("guide", job, "-o", job, "--overwrite"),
            (text, number),
            (chance.choice(("make", "check", "align", "trial", "size")), text, text),
        )
    )
    return Case(words, {"job.toml": tray()}, console=consoles(chance))


def pipe(chance: Chance) -> Case:
    """A pipe in the place of a file: whoever reads it waits for ever."""
    image = {"panels": "base", "file": chance.choice(("art.png", "art.svg"))}
    letters = {"panel": "base", "text": "soap", "file": "f.ttf"}
    kit = (ROOT / "samples/market-guests.toml").read_bytes()
    name, words, files = chance.choice(
        (
            ("j.toml", ("check", "{folder}/j.toml", *PROFILE), {}),
            ("j.toml", ("make", "{folder}/j.toml", "-o", "{folder}/out"), {}),
            ("j.toml", ("check", "{folder}/j.toml", "--mend", "--yes"), {}),
            ("j.toml", ("guide", "{folder}/j.toml", "--by-hand"), {}),
            ("j.toml", ("fold", "{folder}/j.toml", "-o", "{folder}/j.glb"), {}),
            ("j.toml", ("size", "like", "{folder}/j.toml", "sphere", "diameter=9"), {}),
            (
                "m.toml",
                ("check", "{folder}/job.toml", "-p", "{folder}/m.toml"),
                {"job.toml": tray()},
            ),
            ("m.toml", ("profile", "show", "{folder}/m.toml"), {}),
            ("m.toml", ("profile", "set", "{folder}/m.toml", "title", "x"), {}),
            ("m.toml", ("profile", "copy", "{folder}/m.toml", "mine"), {}),
            ("m.toml", ("profile", "import", "{folder}/m.toml"), {}),
            ("m.toml", ("profile", "diff", "drag-blade-340", "{folder}/m.toml"), {}),
            ("m.toml", ("trial", "record", "pen", "-p", "{folder}/m.toml", "solid=0.3"), {}),
            (
                "m.toml.bak",
                ("profile", "diff", "{folder}/m.toml", "--last"),
                {"m.toml": toml_of(profiles()[0])},
            ),
            (
                "guests.csv",
                ("check", "{folder}/k.toml"),
                {"k.toml": kit},
            ),
            (
                image["file"],
                ("check", "{folder}/job.toml", *PROFILE),
                {"job.toml": tray(art=[image])},
            ),
            ("f.ttf", ("check", "{folder}/job.toml"), {"job.toml": tray(lettering=[letters])}),
            (
                "scan.png",
                (*align_words(chance), "--scan", "{folder}/scan.png"),
                {"job.toml": tray(art=[COLOURED])},
            ),
        )
    )
    return Case(words, files, "y\n", pipes=(name,), console=consoles(chance))

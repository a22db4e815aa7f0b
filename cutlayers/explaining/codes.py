"""All codes of findings: how bad each is, a line on it, and where its page stands.

The page is the docstring of whoever makes the finding, so that it is changed together with what
it describes. Nothing is imported here; `explaining.pages` reads a page when it is asked for.
"""

from __future__ import annotations

from cutlayers.frozen import frozen
from cutlayers.telling.findings import Severity


@frozen
class Code:
    """One code. `place` is a module within the package, and after a colon the function in it
    where that has the page; `severities` are worst first."""

    code: str
    severities: tuple[Severity, ...]
    line: str
    place: str


_ERROR, _WARNING, _NOTE = (Severity.ERROR,), (Severity.WARNING,), (Severity.NOTE,)
_EITHER = (Severity.ERROR, Severity.WARNING)

# fmt: off
_ALL = (
    # The drawing that a box is made from.
    Code("drawing-doubtful", _WARNING, "What lines of a drawing are for is not sure.",
         "checks.drawings:_doubtful"),
    Code("drawing-loose-ends", _WARNING, "Lines of a drawing end at nothing.",
         "checks.drawings:_loose"),
    Code("drawing-not-folded", _WARNING, "A drawn net has folds without an angle.",
         "checks.drawings:_not_folded"),
    Code("drawing-guessed", _WARNING, "Angles of a drawn net's folds are guesses.",
         "checks.drawings:_guessed"),
    Code("drawing-bends", _NOTE, "A drawn net bends along its folds.",
         "checks.drawings:_bends"),
    # The box, folded up.
    Code("closure", _ERROR, "Panels that close a ring miss each other.", "checks.closing"),
    Code("closure-angle", _ERROR, "Panels that close a ring meet at a wrong angle.",
         "checks.closing"),
    Code("collision", _ERROR, "Two panels pass through one another.", "checks.colliding"),
    Code("flat-point", _ERROR, "Creases round a point cannot lie flat.", "checks.flat"),
    Code("tab-misses", _ERROR, "A glue tab does not lie on its panel.", "checks.gluing"),
    Code("tab-overhangs", _WARNING, "A glue tab sticks out beside its panel.", "checks.gluing"),
    Code("tab-small", _WARNING, "A glued strip is too shallow to hold.", "checks.gluing"),
    Code("flaps-meet", _ERROR, "Two flaps or tabs lie over each other.", "checks.meeting"),
    Code("lid-tight", _EITHER, "The lid has too little room over its base.", "checks.lid"),
    Code("lid-loose", _WARNING, "The lid has too much room over its base.", "checks.lid"),
    Code("lock-shallow", _EITHER, "A tongue is not held by its slit.", "checks.locking"),
    Code("lock-tight", _ERROR, "A tongue has no room in its slit.", "checks.locking"),
    Code("bridge-thin", _WARNING, "The card beside a slit is narrow.", "checks.locking"),
    Code("blank-too-large", _ERROR, "A blank is larger than its sheet.", "curing.parting"),
    Code("item-too-large", _EITHER, "The thing to be packed does not go in.", "checks.packed"),
    Code("item-too-tall", _WARNING, "The thing to be packed stands above the rim.",
         "checks.packed"),
    Code("item-pressed", _WARNING, "A flap or tab inside presses on what is packed.",
         "checks.packed"),
    Code("layers", _WARNING, "A hole goes through many layers of card.", "checks.punching"),
    Code("hole-at-edge", _WARNING, "The edge of a layer runs through a hole.", "checks.punching"),
    Code("hole-covered", _WARNING, "A layer without a hole shuts a hole.", "checks.punching"),
    Code("drawn-under-panel", _WARNING, "Lettering is drawn under another panel.",
         "checks.under_panel"),
    Code("lettering-upside-down", _WARNING, "Lettering stands on its head in the box.",
         "checks.upside_down"),
    Code("drawn-across-crease", _WARNING, "Lettering or guides lie across a crease.",
         "checks.across_crease"),
    Code("card-too-thick", _ERROR, "The card is too thick for a fold, a panel or a bend.",
         "checks.calipers"),
    Code("card-too-thick-to-press", _WARNING, "The card is too thick to be glued lying flat.",
         "checks.calipers:_not_flat"),
    Code("card-too-thin", _WARNING, "The card is so thin that a wide panel sags.",
         "checks.calipers:_too_thin"),
    Code("no-finger-inside", _NOTE, "No finger gets in to what is pressed from inside.",
         "checks.reaching"),
    Code("curved", _NOTE, "A net with curved folds is not folded up.", "checks:_not_folded"),
    Code("grain", _WARNING, "The main folds run across the grain.", "checks.grain"),
    Code("grain-of-tube", _WARNING, "The grain runs up a tube and not round it.",
         "checks.grain:_tube"),
    # The lines, as a tool follows them.
    Code("relief", _NOTE, "Thick card got holes and shorter creases against tears.",
         "checks.relief"),
    Code("too-few-bridges", _WARNING, "Fewer bridges find room than were asked for.",
         "toolpaths.bridges:_too_few"),
    Code("score-too-short", _WARNING, "A score is too short to be pulled back.",
         "toolpaths.score:_too_short"),
    Code("narrower-than-kerf", _WARNING, "A gap is narrower than the kerf.",
         "toolpaths.kerf:_narrow"),
    Code("finer-than-kerf", _NOTE, "A detail is finer than the kerf and comes out rounded.",
         "toolpaths.kerf:_fine"),
    Code("kerf-shared", _WARNING, "Pieces that share a border are smaller by the kerf.",
         "toolpaths.working_out:_kerf_shared"),
    Code("too-short-to-perforate", _WARNING, "A line is too short for a row of cuts.",
         "toolpaths.working_out:_unperforated"),
    Code("row-finer-than-kerf", _ERROR, "Cuts or ties of a row are no longer than the kerf.",
         "toolpaths.working_out:_rows_too_fine"),
    Code("second-side", _NOTE, "Some folds are scored from the back of the sheet.",
         "toolpaths.working_out:_turn_note"),
    Code("narrow-gap", _WARNING, "A gap is finer than the tool makes.",
         "toolpaths.small_features:_narrow"),
    Code("narrow-strip", _WARNING, "A strip of card is finer than the tool makes.",
         "toolpaths.small_features:_narrow"),
    Code("sharp-point", _WARNING, "Points of card are so sharp that a blade tears them.",
         "toolpaths.small_features:_sharp_point"),
    Code("no-room-to-straighten", _WARNING, "No waste is left to set the blade straight in.",
         "toolpaths.approach:_no_room"),
    Code("starts-astray", _WARNING, "Lines in any order start in the card, blade askew.",
         "toolpaths.leads:_astray"),
    Code("out-of-reach", _ERROR, "Lines lie where the machine's tools do not get to.",
         "toolpaths.reach:out_of_reach"),
    Code("no-room-for-coupon", _NOTE, "No waste is left for the coupon that is cut first.",
         "sheets.coupon:no_room"),
    Code("nearest-material", _WARNING, "The settings are those of the nearest by weight.",
         "profile.setup_sheet:_nearest"),
    Code("no-settings", _NOTE, "There are no settings for a stock.",
         "profile.setup_sheet:_without_settings"),
    Code("creases-measured", _NOTE, "What creases take up was measured for a stock.",
         "profile.creases"),
    # Art and the sheets.
    Code("art-as-pixels", _NOTE, "A drawing is printed as pixels.",
         "sheets.art_findings:_as_pixels"),
    Code("art-first-frame", _NOTE, "Of several pictures in a file the first is printed.",
         "sheets.art_findings:_first_frame"),
    Code("art-without-room", _ERROR, "A panel has no room for its art.",
         "sheets.art_findings:_room"),
    Code("lettering-reduced", _WARNING, "Letters become smaller than was asked for.",
         "sheets.art_findings:_room"),
    Code("art-coarse", _WARNING, "A picture has too few pixels.", "sheets.art_findings:_coarse"),
    Code("art-covered", _WARNING, "The finished box hides art.", "sheets.art_findings:_hidden"),
    Code("drawn-under-facing", _WARNING, "Lettering or guides are drawn under a facing.",
         "sheets.art_findings:_drawn_under"),
    Code("art-across-crease", _WARNING, "Lettering or a picture is printed across a crease.",
         "sheets.art_findings:_across_creases"),
    Code("art-beyond-print", _WARNING, "Art lies where the printer does not print.",
         "sheets.artwork:_beyond"),
    Code("bleed-trimmed", _NOTE, "Bleed is cut short.", "sheets.artwork:_beyond"),
    Code("mark-beyond-print", _ERROR, "A register mark is not printed whole.",
         "sheets.artwork:_lost_marks"),
    Code("no-room-for-rule", _NOTE, "A check rule found no room.",
         "sheets.notes:_no_room_for_rule"),
    Code("no-room-for-name", _NOTE, "Names of pieces found no room.",
         "sheets.notes:_no_room_for_names"),
    Code("search-stopped", _NOTE, "The search for better sheets was stopped.",
         "sheets.placing:_stopped"),
    Code("search-failed", _WARNING, "The search for better sheets broke down.",
         "sheets.placing:_failed"),
    # The table of a kit.
    Code("column-unused", _NOTE, "The job names a column nowhere.", "kits.checking:_unused"),
    Code("value-missing", _WARNING, "A cell that the job uses is empty.", "kits.checking:_empty"),
    Code("decimal-commas", _NOTE, "Numbers of a column have decimal commas.",
         "kits.checking:_decimal_commas"),
    Code("rows-alike", _WARNING, "Rows make the very same boxes.", "kits.checking:_alike"),
)
# fmt: on

CODES: dict[str, Code] = {each.code: each for each in _ALL}
"""Every code by its name, in the order in which a maker meets them."""

"""Every word that the planner itself writes on a sheet, in one place so that a second language has one thing to do."""

TITLE = "Reflected ceiling plan"
TITLE_NOTE = "Seen from below as in a mirror laid on the floor; not mirrored: same orientation as the floor plan."
SCALE = "Scale"
AT = "at"

LEGEND = "Legend"
MAIN_TEE = "Main tee"
CROSS_TEE = "Cross tee"
WALL_ANGLE = "Wall angle"
WALL = "Wall"
COLUMN = "Column, chase or pipe"
CUT_PANEL = "Panel that is cut, with its id"
START_POINT = "Start point of the grid"
REFERENCE_CORNER = "Reference corner"
FINDING = "Finding, numbered as listed"
START = "start"
ENLARGED = "Small devices are drawn larger than they are."

PANELS = "Cut panels"
PANEL_HEADS = ("class", "cut to", "taper", "no.")
DRILLED = "full, with hole"
WITH_HOLE = "with hole"
MORE_CLASSES = "and {n} more classes"

WALLS = "Walls and borders"
WALL_HEADS = ("wall", "length", "border")
MORE_WALLS = "and {n} more walls"
NO_BORDER = "no grid line"

QUANTITIES = "Main quantities"
AREA = "Ceiling area"
PERIMETER = "Perimeter"
MODULE = "Module"
FULL_PANELS = "Full panels"
CUT_PANELS = "Panels to cut or drill"
SMALLEST_CUT = "Smallest cut"
MAINS = "Main tees run"
MAINS_RUN = {"along": "along base wall", "across": "square to base wall"}
CEILING_HEIGHT = "Ceiling height"

LAYOUT = "Layout"
START_SENTENCE = "The grid starts at a crossing {first} from {first_wall} and {second} from {second_wall}."
START_LONE = "The grid starts at a crossing {away} away from wall {wall} and {along} {way} corner {corner} along it."
PAST = "past"
SHORT_OF = "short of"
HEIGHT_TAG = "CH {height}"
HEIGHT_TAG_MEANING = "Height of the ceiling above the floor"

FINDINGS = "Findings"
SEVERITY = {"stop": "STOP", "warn": "Check", "note": "Note"}
MORE_FINDINGS = "and {n} more: see the report"
CAUTIONS = "Cautions"
MORE_CAUTIONS = "and {n} more: see the report"
CONTINUED = "cont."

SCALE_BAR = "Scale bar"

NOTES = "Notes"
CLASS_LETTERS_ONLY = "Panels bear their class letter only; ids would not be legible at this scale."
MARKS_LEFT_OUT = "Panel marks left out for want of room: {n} of {of}; see the list of cut panels."
SERVICE_MARKS_LEFT_OUT = "Service marks left out for want of room: {n} of {of}."
STRINGS_LEFT_OUT = "A dimension string had no room at this scale; see the list of walls and borders."
LISTS_LEFT_OUT = "The lists of cut panels and of walls find no room on this paper; see the report."
PANELS_LEFT_OUT = "Cut panels not drawn one by one: {n}; their tees are."

CLIENT = "client"
JOB = "title"
DOCUMENT = "document type"
DRAWN_BY = "drawn by"
APPROVED_BY = "approved by"
DATE = "date of issue"
REVISION = "revision"
NUMBER = "document no."
STATUS = "status"
SCALE_LABEL = "scale"
PAPER = "paper"
UNITS = "units"
SHEET = "sheet"
SHEET_OF = "{n} of {m}"
UNIT_NAMES = {
    "ft-in": "feet and inches",
    "in": "inches",
    "mm": "millimetres",
    "cm": "millimetres",
    "m": "millimetres",
}

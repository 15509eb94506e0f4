"""Every word that the planner itself writes on a sheet, in one place so that a second language has one thing to do."""

TITLE = "Reflected ceiling plan"
TITLE_NOTE = "Seen from below as in a mirror laid on the floor; not mirrored: same orientation as the floor plan."
SCALE = "Scale"
AT = "at"
NO_SCALE = "not to scale"
SEE_SHEET = "see sheet {n}"

LEGEND = "Legend"
MEMBERS = {
    "main tee": "Main tee",
    "carrier": "Carrier",
    "cross tee": "Cross tee",
    "cover strip": "Cover strip",
    "wall angle": "Wall angle",
    "track": "Wall track",
    "furring strip": "Furring strip",
}
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

WALLS = "Walls and borders"
WALL_HEADS = ("wall", "length", "border", "")
BOWED = "bowed, along the bow"
NO_BORDER = "no grid line"
BORDER_VARIES = "varies"
BORDER_RANGE = "{least} to {most}"
WALL_WITH_BORDER = "{length}, border {border}"
CHORD_OF = "{wall} (its chord)"
BOWED_WALL = "arc {length}, rise {rise}"
BORDER_ENDS = "{first} at {first_corner}, {second} at {second_corner}"

QUANTITIES = "Main quantities"
AREA = "Ceiling area"
PERIMETER = "Perimeter"
MODULE = "Module"
FULL_PANELS = "Full panels"
CUT_PANELS = "Cut or drilled"
SMALLEST_CUT = "Smallest cut"
IN_CLASSES = "{n} in {classes} classes"
LISTS = "Lists of panels, services, walls, stock: {see}"
MAINS = "Main tees run"
MAINS_RUN = {0.0: "along base wall", 90.0: "square to base wall"}  #: by degrees against the base wall
MAINS_AT = "at {degrees}° to base wall"
CEILING_HEIGHT = "Ceiling height"

LAYOUT = "Layout"
START_SENTENCE = "The grid starts at a crossing {first} from {first_wall} and {second} from {second_wall}."
START_LONE = "The grid starts at a crossing {away} away from wall {wall} and {along} {way} corner {corner} along it."
OUT_OF_SQUARE = "Out of square: corner {corner} {off} {way} over {over}."
OPEN = "open"
CLOSED = "closed"
PAST = "past"
SHORT_OF = "short of"
HEIGHT_TAG = "CH {height}"
HEIGHT_TAG_MEANING = "Height of the ceiling above the floor"

FINDINGS = "Findings"
SEVERITY = {"stop": "STOP", "warn": "Check", "note": "Note"}
MORE_FINDINGS = "and {n} more"
IN_FULL = "All of them in full: {see}."
CAUTIONS = "Cautions"
MORE_CAUTIONS = "and {n} more"
CONTINUED = "cont."

SCALE_BAR = "Scale bar"

NOTES = "Notes"
CLASS_LETTERS_ONLY = "Panels bear their class letter only; ids would not be legible at this scale."
MARKS_LEFT_OUT = "Panel marks left out for want of room: {n} of {of}; the list of cut panels has all."
SERVICE_MARKS_LEFT_OUT = "Service marks left out for want of room: {n} of {of}."
STRINGS_LEFT_OUT = "A dimension string had no room at this scale; lengths are in the list of walls."
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

SCHEDULES = "Schedules"
PAGE = "{title}, page {page}"
JOB_AND_UNITS = "{job}; lengths in {units}"
SERVICES = "Services"
SERVICE_HEADS = ("mark", "kind", "size", "panel", "along", "away", "weight")
SERVICE_PLACES = "Centres, along {wall} and away from it, from corner {corner}."
READINGS = "Survey: what was taped"
READING_HEADS = ("line", "taped", "should be", "differs by", "")
CORNERS = "Survey: corners"
CORNER_HEADS = ("corner", "along", "away", "give or take", "out of square")
ORDER = "What to buy"
ORDER_HEADS = ("item", "net", "spare", "order", "packs", "weight")
PACKS = "{packs} of {size}"
MORE_ROWS = "and {n} more rows: see the files beside this drawing"

ORDER_SHEET = "Order of work and cautions"
ORDER_OF_WORK = "Order of work"
FINDINGS_IN_FULL = "Findings in full"
RULE = "Rule: {rule} ({source})."

FRAMING = "Framing and hanging plan"
FRAMING_DIRECT = "Framing and fixing plan"
FRAMING_NOTE = "Seen from below, same orientation as the floor plan. Lengths of pieces are cut lengths."
JOIST = "Joist overhead"
SPLICE = "Splice of a run"
HANGERS = {
    "wire": "Hanger wire",
    "splice wire": "Hanger wire beside a splice",
    "wall wire": "Hanger wire at a wall",
    "service wire": "Wire of a service",
    "screw": "Screw",
}
BRACE = "Lateral brace"
LOADS = "Loads"
DUTY = "Duty class"
SPACING = "Hangers apart"
CARRIED = "Load on mains"
ALLOWED = "Allowed there"
HEAVIEST = "Heaviest hanger"
AT_HANGER = "{force} at {hanger}"
COUNTED = "{what} ({count})"
MEMBER_TABLE = "Members"
MEMBER_HEADS = ("kind", "lines", "pieces", "total")
WIRE_TABLE = "Hangers"
SCREW_TABLE = "Fixings"
WIRE_HEADS = ("kind", "cut to", "no.")
WIRE_KINDS = {
    "wire": "wire",
    "splice wire": "at splices",
    "wall wire": "at walls",
    "service wire": "of services",
    "screw": "screw",
}
WIRES_TIED = "Wire lengths include the ties."
RUNS = "Runs, piece by piece"
RUNS_FROM = "In order from the left, or from the front of the room."
TO = "{first} to {last}"
MEMBERS_NOT_MARKED = "Marks of runs and tees left out for want of room: {n} of {of}."
HANGERS_LEFT_OUT = "Hangers not drawn one by one: {n}."
JOISTS_NOT_GIVEN = "Joists were not given: find them before anything is hung."

SET_OUT = "Set-out"
SET_OUT_NOTE = (
    "Each mark is measured from the first corner of its wall, with the room on the left, not from the mark before it."
)
WALL_RUN = "{wall}: {length} from {corner}"
SET_OUT_MARK = "Mark, with its length from the corner"
STRING_LINE = "String or chalk line"
DIAGONAL = "Diagonal that proves it square"
DIAGONALS = "Diagonals"
HOW_TO = "How to set out"
HOOK = "Hook the tape at the first corner of a wall ({corner} for {wall}) and mark all of it in one pull."
LASER = "Laser line: {level} above the floor, at the underside of the trim; prove it level in every corner."
PROVE = (
    "Stretch the strings, then tape the diagonals below. If one is off by more than {off}, move a string, not the tape."
)
MARKS = "Set-out marks"
MARK_HEADS = ("wall", "at", "what")
SET_OUT_LEFT_OUT = "Set-out marks left out for want of room: {n} of {of}; the list has all."
HANG_POINTS = "Hang points from the start of each run"
LIKEWISE = "likewise {names}"
MARKS_LISTED = "The same marks as a list: {see}."

CUTTING_BARS = "Cutting sheet: bars"
CUTTING_PANELS = "Cutting sheet: panels"
CUT_ITEM = "{item}, {length}; drawn at {scale}"
AS_DRAWN = "as drawn"
BEST_BARS = "{bought} bought; nobody can cut it from fewer than {least}."
BEST_BARS_OPEN = "{bought} bought; at least {least} are needed: {gap} may still be saved."
KERF_COUNTED = "The saw takes {kerf} a cut."
ENDS_KEPT = "Pieces at the ends of a bar keep its factory ends; what is left over (tinted) lies between them."
LONGEST_FIRST = "The longest first; what is left over is tinted."
CUT_LIKE_THIS = "{n} ×"
LIKE_THIS = "“{n} ×”: cut {n} like this."
NOT_CUT = "not cut"
LEFT_OVER = "left over {length}"
NUMBERED_PIECE = "{n}: {piece}"
IN_ORDER = "From the left: {pieces}"
PIECES_FOR = "{length}: {ids}"
MORE_PATTERNS = "and {n} more ways to cut: see cutting.csv"
MORE_IDS = "and {n} more"
MORE_ROWS_SHORT = "and {n} lines more"
SO_MANY = " ({n} of it)"
SO_MANY_EACH = " ({n} of each)"
CUT_PANEL_SIZE = "Panels {size}; drawn at {scale}"
PANEL_ONE_EACH = "One panel for each cut would take {one_each}; the area of the pieces alone would fill {by_area}."
PANEL_BACKS = "Shown as on the ceiling plan. Waste is tinted; whole and drilled panels are not here."

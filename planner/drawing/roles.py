"""What a shape is. Every shape carries one role; a style turns roles into layers, pens and letter heights."""

from enum import StrEnum


class Role(StrEnum):
    """The vocabulary of the drawings; the values are the words used in style files."""

    # the room
    WALL = "wall"
    COLUMN = "column"
    JOIST = "joist"  #: overhead, as far as it is known
    # the ceiling
    MAIN_TEE = "main tee"
    CROSS_TEE = "cross tee"
    WALL_ANGLE = "wall angle"
    CARRIER = "carrier"  #: of a grid fixed straight to the joists
    COVER_STRIP = "cover strip"
    FURRING = "furring strip"
    SPLICE = "splice"  #: where two pieces of one run meet
    HANGER = "hanger"  #: a wire, or the screw of a direct grid
    MEMBER_MARK = "member mark"  #: the id lettered at a member
    CUT_PANEL = "cut panel"  #: edge of a panel that is cut
    CUT_SHADE = "cut shade"  #: the tint that lies under a cut panel
    PANEL_MARK = "panel mark"  #: the id lettered in a cut panel
    START_POINT = "start point"
    # services
    LIGHT = "light"
    SUPPLY_AIR = "supply air"
    RETURN_AIR = "return air"
    SPRINKLER = "sprinkler"
    DETECTOR = "detector"
    SPEAKER = "speaker"
    EXIT_SIGN = "exit sign"
    ACCESS = "access"
    SERVICE_MARK = "service mark"
    SERVICE_KEY = "service key"  #: its number in the list, where marks have no room
    # findings
    FINDING = "finding"
    # set-out
    SET_OUT = "set-out"  #: a mark to make, with its running length
    STRING_LINE = "string line"  #: a string or chalk line to stretch
    # cutting
    STOCK = "stock"  #: outline of a bar or panel as bought
    CUT_PIECE = "cut piece"  #: outline of a piece on it
    OFFCUT = "off-cut"  #: the tint of what is left over
    PIECE_MARK = "piece mark"  #: id and length lettered on a piece
    # templates
    TEMPLATE_CUT = "template cut"  #: the line to cut by
    TEMPLATE_EDGE = "template edge"  #: an edge that the factory made
    CENTRE_MARK = "centre mark"
    WASTE_HATCH = "waste hatch"
    TRIM_LINE = "trim line"  #: where a page is trimmed, and where its neighbour's edge comes to lie
    REGISTER = "register mark"  #: crosses that neighbouring pages share
    BANNER = "banner"  #: large letters that nobody overlooks
    # drafting
    DIMENSION = "dimension"
    CORNER_MARK = "corner mark"
    NOTE = "note"
    HEADING = "heading"
    LEGEND = "legend"
    CAUTION = "caution"
    SCALE_BAR = "scale bar"
    # plans in parts
    MATCH_LINE = "match line"  #: where a plan goes on on another sheet
    KEY_PLAN = "key plan"
    KEY_SHADE = "key shade"  #: the part of a key plan that its sheet shows
    # paper
    FRAME = "frame"
    ZONE = "zone"  #: fields of the frame, their letters and numbers
    TITLE_BLOCK = "title block"
    TITLE_LABEL = "title label"  #: small words above a title-block field
    TITLE_TEXT = "title text"
    SHEET_TITLE = "sheet title"

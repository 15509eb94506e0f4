"""The kinds of work that a room file may give rates for: each is one thing put up, cut or done.

Rates are the user's own; the planner has none, as no published rate was found that would hold for everybody.
"""

#: Each with what one of it is.
WORK = {
    "room": "setting out and whatever else is done once in a room",
    "wall angle": "a piece of wall angle",
    "track": "a piece of wall track",
    "furring strip": "a piece of furring strip",
    "main tee": "a piece of main tee",
    "carrier": "a piece of carrier",
    "cross tee": "a piece of cross tee",
    "cover strip": "a piece of cover strip",
    "hanger": "a hanger of wire",
    "screw": "a screw that holds the grid",
    "panel": "a panel laid, whole or cut",
    "cut panel": "a panel cut or drilled, beside the laying of it",
}

"""The role that each kind of member is drawn on, in the order in which they are painted."""

from planner.drawing.roles import Role

MEMBER_ROLES = {
    "furring strip": Role.FURRING,
    "carrier": Role.CARRIER,
    "cover strip": Role.COVER_STRIP,  # as it is seen: over the carriers that hold it
    "main tee": Role.MAIN_TEE,
    "cross tee": Role.CROSS_TEE,
    "wall angle": Role.WALL_ANGLE,
    "track": Role.WALL_ANGLE,
}

#: The order in which legends and lists tell of them.
TOLD_KINDS = ("main tee", "carrier", "cross tee", "cover strip", "wall angle", "track", "furring strip")

#: Kinds that stand on the walls and are drawn at the edge of their ledge.
TRIM = ("wall angle", "track")

#: Kinds that carry the others and are put together from pieces with splices.
RUNS = ("main tee", "carrier")

#: Kinds of lines that are put together from pieces, end to end.
JOINTED = (*RUNS, "cover strip")

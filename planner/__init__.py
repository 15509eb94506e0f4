"""Plan a grid ceiling: a room file in; a checked layout, framing, cutting list, take-off and drawings out."""

__version__ = "0.1.0"

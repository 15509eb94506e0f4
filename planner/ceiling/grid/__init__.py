"""Where the grid falls: what the room file asks for, the exact search of the origin, whole and cut modules."""

"""How a taped survey is closed: least squares, what must be assumed, and which reading is wrong."""

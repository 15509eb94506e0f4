"""What the cutting of bars is made of: kinds of pieces, what fits on a bar, pairs, off-cuts."""

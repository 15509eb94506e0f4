"""How an outline is found in somebody else's drawing: entities to strokes, strokes to loops, loops to a floor."""

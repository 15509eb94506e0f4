"""What holds the ceiling up: hangers on real joists, wires of services and at walls, bracing."""

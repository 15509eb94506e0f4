"""What was measured: the room file is read and checked here, and becomes a `Brief`."""

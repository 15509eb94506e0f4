"""Steps of the order of work, each kind in its own module."""

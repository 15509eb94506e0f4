"""Where services sit: whole modules for what lies in, holes for what is cut in, and what is in the way."""

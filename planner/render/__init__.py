"""How it is written: one module for each file format, from shapes and style alone."""

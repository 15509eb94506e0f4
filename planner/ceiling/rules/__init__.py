"""The rules of the trade and of published standards, one small function each, its source in the docstring."""

"""Pieces of which at most two come from one length, and which of several lengths to cut them from.

Knows only numbers, in whole tenths of a millimetre and whole parts of a price: the ceiling asks it which cross tees its
border tees come from.
"""

"""Runs longer than a stock length: where to splice them so that the fewest bars are bought.

Knows only numbers, in whole tenths of a millimetre: the ceiling asks it how to begin its runs, the stock wing what the
cutting of them has proven.
"""

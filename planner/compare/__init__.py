"""Comparing: what changed between two plans, whether they come from room files or from records (plan.json).

In: two files. Out: a `Comparison`. What is compared is the record of each, in its published format; where a number is
only noise (less than a tenth of a millimetre) it has not changed.
"""

from planner.compare.changes import Change, Comparison, compare
from planner.compare.records import PlanRecord, record_from, record_in

__all__ = ["Change", "Comparison", "PlanRecord", "compare", "record_from", "record_in"]

"""Explaining: how every number of a plan came to be, with the rule and its source.

In: a brief and its plan, as a `Job`. Out: `Explanation`s. The facts are those of the wings that decided; what is added
up here is added up from them.
"""

from planner.explain.asking import Topic, explain, named_alike, topics
from planner.explain.model import Explanation, Job, Step

__all__ = ["Explanation", "Job", "Step", "Topic", "explain", "named_alike", "topics"]

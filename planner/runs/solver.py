"""HiGHS, quiet and the same every time: one thread, a fixed seed, nothing on the terminal, and no clock.

A search stops when its effort is spent. In fractions that is counted by simplex iterations. In whole numbers HiGHS
tells nobody how many it has made so far, but it asks now and then, at fixed places of its search, whether it should go
on: so what is counted is how often it asks. (Its own limit of iterations is for one of its many programs at a time.)
"""

import highspy
from highspy.highs import HighsCallbackEvent

from planner.runs.effort import Effort

#: Branchings after which a search for whole numbers gives up; the same on any machine.
MOST_NODES = 20_000

#: Strokes that it takes to begin a program, then for each iteration, and for so many rows one more.
BEGIN, ITERATION, ROWS = 300, 12, 80

#: Strokes from one question whether to go on to the next, before there are branches and after; and in any case.
ENTRY_AT_ROOT, ENTRY_IN_TREE = 1.5, 0.25
AT_ROOT, IN_TREE = 600, 100


class Solver(highspy.Highs):
    """A solver that says nothing on the terminal, not even its name when it is made, and that stops by work alone."""

    def enableCallbacks(self) -> None:
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]

    def fractions(self, effort: Effort) -> bool:
        """Solve in fractions; whether that was done before the effort was spent."""
        each = ITERATION + self.getNumRow() // ROWS
        self.setOptionValue("simplex_iteration_limit", max(effort.left // each, 1))
        self.run()
        effort.spend(BEGIN + self.getNumNz() // 8 + each * self.getInfo().simplex_iteration_count)
        return self.getModelStatus() == highspy.HighsModelStatus.kOptimal

    def whole_numbers(self, effort: Effort) -> None:
        """Solve in whole numbers, as far as the effort goes; what was found stands in the solver."""
        self.setOptionValue("simplex_iteration_limit", highspy.kHighsIInf)
        self.setOptionValue("mip_max_nodes", MOST_NODES)
        self.setOptionValue("mip_rel_gap", 0.0)
        at_root = AT_ROOT + int(ENTRY_AT_ROOT * self.getNumNz())
        in_tree = IN_TREE + int(ENTRY_IN_TREE * self.getNumNz())

        def asked(question: HighsCallbackEvent) -> None:
            if not effort.spent:  # it asks on while it winds up
                effort.spend(in_tree if question.data_out.mip_node_count > 0 else at_root)
            question.interrupt(effort.spent)

        self.cbMipInterrupt += asked
        self.run()
        self.cbMipInterrupt -= asked


def quiet_solver() -> Solver:
    """A solver with nothing to solve yet."""
    solver = Solver()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver

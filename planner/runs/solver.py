"""HiGHS, quiet and the same every time: one thread, a fixed seed, nothing on the terminal."""

import highspy

#: Branchings after which a search for whole numbers gives up; the same on any machine.
MOST_NODES = 20_000


class _Quiet(highspy.Highs):
    """A solver that says nothing on the terminal, not even its name when it is made."""

    def enableCallbacks(self) -> None:
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def quiet_solver() -> highspy.Highs:
    """A solver with nothing to solve yet."""
    solver = _Quiet()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver

"""How near the joints of a run stand to those of its neighbours, worked out once for all that is tried.

In: a job, and ways of cutting its runs. Out: what `Job.near` says, for every way of cutting a run at a time; and which
runs have joints in line, where only some runs are cut in another way than before.
"""

from collections.abc import Iterable, Sequence

from planner.runs.job import Cut, Job
from planner.runs.joints import Joints


class Nearness:
    """Keeps what was worked out, as long as a search lasts."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._ways = [tuple(run.joints(cut, job.bar) for cut in run.cuts) for run in job.runs]
        self._under = [[self._distances(at, joints) for joints in run.under] for at, run in enumerate(job.runs)]
        self._beside: dict[tuple[int, int, float, int], tuple[float, ...]] = {}
        self._pairs: dict[tuple[int, float, int, int, float, int], float] = {}
        self._seen_by: list[list[int]] = [[] for _ in job.runs]  #: runs that must stand clear of a run's joints
        for at, run in enumerate(job.runs):
            for neighbour in run.beside:
                self._seen_by[neighbour].append(at)

    def of_ways(self, at: int, chosen: Sequence[Cut | None]) -> Sequence[float]:
        """What `Job.near` says of each way to cut a run, in the order of its ways."""
        apart = self._job.apart
        beside = [self._from(at, k, cut) for k in self._job.runs[at].beside if (cut := chosen[k]) is not None]
        distances = beside + self._under[at]
        if not distances:
            return (0.0,) * len(self._ways[at])
        least = distances[0] if len(distances) == 1 else map(min, *distances)
        return [round(apart - one, 1) if one < apart else 0.0 for one in least]

    def near(self, at: int, cut: Cut, chosen: Sequence[Cut | None]) -> float:
        """What `Job.near` says."""
        run, least = self._job.runs[at], self._job.apart
        for k in run.beside:
            if (other := chosen[k]) is not None:
                least = min(least, self._apart(at, cut, k, other))
        if run.under:
            mine = run.joints(cut, self._job.bar)
            least = min(least, *map(mine.distance, run.under))
        return round(self._job.apart - least, 1)

    def in_line(self, chosen: Sequence[Cut]) -> list[bool]:
        """Which runs have joints that stand too near to a neighbour's."""
        return [self.near(at, cut, chosen) > 0 for at, cut in enumerate(chosen)]

    def again(self, before: Sequence[bool], chosen: Sequence[Cut], changed: Iterable[int]) -> list[bool]:
        """The same, where it is known how it was before some runs were cut in another way."""
        now = list(before)
        for at in {touched for each in changed for touched in (each, *self._seen_by[each])}:
            now[at] = self.near(at, chosen[at], chosen) > 0
        return now

    def _apart(self, at: int, cut: Cut, neighbour: int, other: Cut) -> float:
        """Distance of the joints of two runs, millimetres."""
        key = (at, cut.begun, cut.count, neighbour, other.begun, other.count)
        if (kept := self._pairs.get(key)) is None:
            runs, bar = self._job.runs, self._job.bar
            kept = runs[at].joints(cut, bar).distance(runs[neighbour].joints(other, bar))
            self._pairs[key] = kept
        return kept

    def _from(self, at: int, neighbour: int, cut: Cut) -> tuple[float, ...]:
        """Distances of a neighbour's joints from those of each way to cut a run, millimetres."""
        key = (at, neighbour, cut.begun, cut.count)
        if (kept := self._beside.get(key)) is None:
            joints = self._job.runs[neighbour].joints(cut, self._job.bar)
            kept = self._beside[key] = self._distances(at, joints)
        return kept

    def _distances(self, at: int, joints: Joints) -> tuple[float, ...]:
        return tuple(mine.distance(joints) for mine in self._ways[at])

"""What the survey states of itself must hold in the long run: seeded noise on known rooms, counted.

Bounds on counts are 3.3 standard deviations of the binomial (one in a thousand by chance), so that a wrong accuracy
or a wrong test fails, and luck does not; the seeds are fixed, so that a pass stays a pass.
"""

import math
from statistics import NormalDist

import numpy as np
import pytest

from planner.room.closing.adjustment import Adjustment, Angles, Floats, Ints, Network, adjust, in_room_frame
from planner.room.closing.blunders import LIMIT, Clues, Verdict, agrees, find_blunder
from planner.room.closing.shape import corner_triples, sight_lines
from planner.room.survey import Clipboard, Reading, tape_accuracy
from planner.room.tape import close_survey

NOTHING_HELD = Angles(np.zeros((0, 3), dtype=np.intp), np.zeros(0), np.zeros(0))
QUAD = in_room_frame(np.array([(0, 0), (5680, 0), (5610, 3450), (-40, 3500)], dtype=float))
L_ROOM = in_room_frame(np.array([(0, 0), (6010, 0), (6000, 3400), (3480, 3430), (3500, 5500), (25, 5510)], dtype=float))
T_ROOM = in_room_frame(
    np.array(
        [(0, 0), (2400, 10), (2410, 2600), (4300, 2580), (4290, 4800), (-1800, 4810), (-1790, 2590), (15, 2600)],
        dtype=float,
    )
)
ROOMS = {"quadrilateral": QUAD, "L": L_ROOM, "T": T_ROOM}
QUAD_ONCE = np.array([(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)], dtype=np.intp)
QUAD_TWICE = np.vstack((QUAD_ONCE, QUAD_ONCE))


def lengths_of(shape: Floats, lines: Ints) -> Floats:
    lengths: Floats = np.hypot(*(shape[lines[:, 1]] - shape[lines[:, 0]]).T)
    return lengths


def taped(room: Floats, lines: Ints, rng: np.random.Generator, s: float | None = None) -> Network:
    """Every line read once, with an error of its accuracy."""
    true = lengths_of(room, lines)
    accuracy = np.array([tape_accuracy(length) for length in true]) if s is None else np.full(len(true), s)
    return Network(lines, true + rng.normal(0, 1, len(true)) * accuracy, accuracy, NOTHING_HELD)


def misread(network: Network, reading: int, by: float) -> Network:
    lengths = network.taped.copy()
    lengths[reading] += by
    return Network(network.lines, lengths, network.accuracy, network.angles)


def judged(network: Network, room: Floats) -> tuple[Adjustment, Verdict]:
    told = Angles(corner_triples(len(room)), np.full(len(room), math.pi / 2), np.full(len(room), 0.005))
    found = adjust(network, room)
    return found, find_blunder(network, found, Clues(room, network.lines, told, "mm"))


def assert_rate(hits: int, trials: int, rate: float) -> None:
    spread = math.sqrt(rate * (1 - rate) * trials)
    assert abs(hits - rate * trials) <= 3.3 * spread + 0.5, f"{hits} of {trials}, expected {rate:.1%}"


def power(by: float, s: float, redundancy: float) -> float:
    """The chance that |w| > 3.29 when a reading is wrong by `by`: w is normal with mean by * sqrt(r) / s."""
    shift, normal = by * math.sqrt(redundancy) / s, NormalDist()
    return normal.cdf(shift - LIMIT) + normal.cdf(-shift - LIMIT)


class TestAccuracyOfCorners:
    @pytest.mark.parametrize("name", ROOMS)
    def test_corners_fall_within_their_stated_accuracy(self, name: str) -> None:
        """Each coordinate within 1.96 standard deviations in 95 % of surveys, within one in 68.3 %."""
        room, trials = ROOMS[name], 500
        rng = np.random.default_rng(7)
        lines = sight_lines(room)
        errors = []
        for _ in range(trials):
            found = adjust(taped(room, lines, rng), room)
            spread = np.sqrt(np.diag(found.covariance)).reshape(-1, 2)
            errors.append(((found.shape - room)[2:] / spread[2:]).ravel())
        counted = np.abs(np.array(errors))
        for column in counted.T:
            assert_rate(int(np.count_nonzero(column <= 1.96)), trials, 0.95)
            assert_rate(int(np.count_nonzero(column <= 1.0)), trials, 0.6827)

    @pytest.mark.parametrize("name", ROOMS)
    def test_all_corners_together_are_as_good_as_stated(self, name: str) -> None:
        """The weighted squared error of the whole shape is chi-squared of its 2 n - 3 free coordinates.

        Summed over 400 surveys its mean is 400 (2 n - 3), its variance twice that: an accuracy stated 5 % wrong fails.
        """
        room, trials = ROOMS[name], 400
        rng, lines = np.random.default_rng(13), sight_lines(room)
        free = np.setdiff1d(np.arange(room.size), (0, 1, 3))
        total = 0.0
        for _ in range(trials):
            found = adjust(taped(room, lines, rng), room)
            off = (found.shape - room).ravel()[free]
            total += float(off @ np.linalg.solve(found.covariance[np.ix_(free, free)], off))
        expected = trials * len(free)
        assert abs(total - expected) < 3.3 * math.sqrt(2 * expected)

    def test_the_ellipse_of_a_corner_holds_it(self) -> None:
        """Both axes together: the weighted squared error of corner C is chi-squared of two, below 5.991 in 95 %."""
        rng, trials, inside = np.random.default_rng(11), 600, 0
        lines = sight_lines(QUAD)
        for _ in range(trials):
            found = adjust(taped(QUAD, lines, rng), QUAD)
            off, spread = (found.shape - QUAD)[2], found.covariance[4:6, 4:6]
            inside += float(off @ np.linalg.solve(spread, off)) <= 5.991
        assert_rate(inside, trials, 0.95)

    def test_from_the_clipboard_to_the_corners(self) -> None:
        """The whole way, as a user goes it: 200 surveys of the T room, mean squared error of each corner as stated.

        The sum over n surveys of (error / spread)^2 has mean n and standard deviation sqrt(2 n).
        """
        rng, trials = np.random.default_rng(3), 200
        names = tuple("ABCDEFGH")
        lines = sight_lines(T_ROOM)
        squares = np.zeros((trials, 8, 2))
        for trial in range(trials):
            network = taped(T_ROOM, lines, rng)
            readings = tuple(
                Reading((names[a], names[b]), float(length))
                for (a, b), length in zip(lines, network.taped, strict=True)
            )
            survey = close_survey(Clipboard(names, readings, outside_corners=("C", "H")))
            if survey.suspect is not None:
                squares[trial] = 1.0  # one in some hundred surveys: what it says of its corners is not what is tested
                continue
            for k, name in enumerate(names):
                spread = survey.accuracy[name]
                x, y = np.array(survey.corners[name]) - T_ROOM[k]
                squares[trial, k] = (x / spread.along) ** 2 if k else 1.0, (y / spread.away) ** 2 if k > 1 else 1.0
        assert np.all(np.abs(squares.sum(axis=0) - trials) < 3.9 * math.sqrt(2 * trials))

    def test_good_surveys_are_seldom_stopped(self) -> None:
        """A quadrilateral braced once: all |w| are one and the same, beyond 3.29 once in 1000."""
        rng, trials = np.random.default_rng(5), 3000
        stopped = sum(not agrees(adjust(taped(QUAD, QUAD_ONCE, rng), QUAD)) for _ in range(trials))
        assert_rate(stopped, trials, 0.001)


class TestBlundersFound:
    @pytest.mark.parametrize("reading", range(6))
    def test_braced_once_blunders_are_seen_as_theory_says_and_never_located(self, reading: int) -> None:
        """An error of 4.13 s / sqrt(r) is seen four times in five (shift 4.13, limit 3.29: 80 %)."""
        rng, trials, s = np.random.default_rng(20 + reading), 250, 1.0
        redundancy = float(adjust(taped(QUAD, QUAD_ONCE, rng, s), QUAD).redundancy[reading])
        by = 4.13 * s / math.sqrt(redundancy)
        assert power(by, s, redundancy) == pytest.approx(0.80, abs=0.001)
        seen = located = 0
        for _ in range(trials):
            _, verdict = judged(misread(taped(QUAD, QUAD_ONCE, rng, s), reading, by), QUAD)
            seen += verdict.beyond
            located += verdict.located is not None
        assert located == 0
        assert_rate(seen, trials, 0.80)

    def test_fifteen_millimetres_in_a_wall_of_a_braced_quadrilateral(self) -> None:
        """Redundancy of this wall about 0.15, s = 1 mm: shift 15 sqrt(r), seen in more than 95 %, located in none."""
        rng, trials = np.random.default_rng(30), 300
        redundancy = float(adjust(taped(QUAD, QUAD_ONCE, rng, 1.0), QUAD).redundancy[0])
        verdicts = [judged(misread(taped(QUAD, QUAD_ONCE, rng, 1.0), 0, 15.0), QUAD)[1] for _ in range(trials)]
        expected = power(15.0, 1.0, redundancy)
        assert expected > 0.95
        assert_rate(sum(verdict.beyond for verdict in verdicts), trials, expected)
        assert not any(verdict.located for verdict in verdicts)
        assert all(len(verdict.suspects) == 6 for verdict in verdicts if verdict.beyond)

    @pytest.mark.parametrize("reading", range(6))
    def test_taped_twice_the_reading_itself_shows_at_the_rate_of_theory(self, reading: int) -> None:
        """Redundancy 7 over 12 readings; an error of 4.13 s / sqrt(r) lifts its own |w| over 3.29 in 80 %."""
        rng, trials, s = np.random.default_rng(40 + reading), 250, 1.0
        redundancy = float(adjust(taped(QUAD, QUAD_TWICE, rng, s), QUAD).redundancy[reading])
        assert 0.5 <= redundancy < 0.8
        by = 4.13 * s / math.sqrt(redundancy)
        over = 0
        for _ in range(trials):
            found = adjust(misread(taped(QUAD, QUAD_TWICE, rng, s), reading, by), QUAD)
            over += abs(float(found.standardised[reading])) > LIMIT
        assert_rate(over, trials, 0.80)

    def test_taped_twice_a_blunder_is_located(self) -> None:
        """25 mm and s = 1 mm, in each of the twelve readings in turn.

        The reading's own repeat is the hardest rival. Leaving out the right one lowers the misfit by its w squared, the
        repeat by its own; with r = 0.54 to 0.63 the two differ by far more than the margin of 9.21 in most surveys.
        """
        rng, trials, s = np.random.default_rng(50), 120, 1.0
        seen = right = wrong = 0
        for trial in range(trials):
            reading = trial % 12
            _, verdict = judged(misread(taped(QUAD, QUAD_TWICE, rng, s), reading, 25.0), QUAD)
            seen += verdict.beyond
            right += verdict.located is not None and verdict.located.reading == reading
            wrong += verdict.located is not None and verdict.located.reading != reading
        assert seen == trials
        assert wrong == 0
        assert right >= 0.9 * trials

    def test_a_reading_named_is_nearly_always_the_wrong_one(self) -> None:
        """The margin is 100 to 1: of 9 s blunders in the L taped twice, one conviction in fifty may be false."""
        rng, named, false = np.random.default_rng(60), 0, 0
        lines = np.vstack((sight_lines(L_ROOM), sight_lines(L_ROOM)))
        for trial in range(240):
            reading = trial % len(lines)
            _, verdict = judged(misread(taped(L_ROOM, lines, rng, 1.0), reading, 9.0), L_ROOM)
            named += verdict.located is not None
            false += verdict.located is not None and verdict.located.reading != reading
        assert named > 60
        assert false <= max(2, named / 50)

"""Our bounded least squares against SciPy's `lsq_linear` (BVLS), on problems like those of a take."""

import random

import pytest

from guidebuild.speech.least_squares import Unknown, solve_least_squares

numpy = pytest.importorskip("numpy")
optimize = pytest.importorskip("scipy.optimize")

LOW, HIGH = [1 / 9, 0.0, 0.0, 0.0, 0.0], [1 / 2, 2.0, 3.0, 5.0, 3.0]


def problem(seed, spread):
    """Rows of counts as a take has them, and times that often ask for a pause below nothing or above its bound."""
    drawn = random.Random(seed)
    rows = [
        [drawn.uniform(5, 40), float(drawn.randint(0, 4)), float(drawn.randint(0, 3)), float(drawn.random() < 0.2), 0.0] for _ in range(60)
    ]
    truth = [drawn.uniform(0.05, 0.6), *(drawn.uniform(-1, 3) for _ in range(4))]
    values = [sum(a * b for a, b in zip(row, truth, strict=True)) + drawn.gauss(0, spread) for row in rows]
    return rows, values


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("prior", [0.0, 2.0])
def test_the_least_is_the_one_that_scipy_finds(seed, prior):
    rows, values = problem(seed, spread=0.3)
    # One unknown is in no row: only its first guess speaks of it.
    unknowns = [Unknown(str(i), LOW[i], HIGH[i], 0.3, prior if i < 4 else 1.0) for i in range(5)]
    ours = solve_least_squares(rows, values, unknowns)
    weights = [unknown.weight**0.5 for unknown in unknowns]
    matrix = numpy.vstack([rows, numpy.diag(weights)])
    right = numpy.concatenate([values, [0.3 * weight for weight in weights]])
    theirs = optimize.lsq_linear(matrix, right, (LOW, HIGH), method="bvls", tol=1e-14).x
    assert ours == pytest.approx(list(theirs), abs=1e-6)


def test_these_problems_do_run_into_their_bounds():
    unknowns = [Unknown(str(i), LOW[i], HIGH[i], 0.3, 1.0) for i in range(5)]
    solved = [solve_least_squares(*problem(seed, spread=0.3), unknowns) for seed in range(12)]
    assert sum(value in (low, high) for found in solved for value, low, high in zip(found, LOW, HIGH, strict=True)) >= 6


def test_weights_are_repeated_rows():
    rows, values = problem(1, spread=0.3)
    unknowns = [Unknown(str(i), LOW[i], HIGH[i], 0.3, 1.0) for i in range(5)]
    twice = solve_least_squares([*rows, *rows[:10]], [*values, *values[:10]], unknowns)
    weighed = solve_least_squares(rows, values, unknowns, [2.0] * 10 + [1.0] * 50)
    assert weighed == pytest.approx(twice)

#!/usr/bin/env python3
"""The line of the strings as one would write it with NumPy and SciPy: something to time Batten against.

88 notes in four sections, read at the section ends, Bs and Es (and, in the second job, one natural more
an octave). A Gaussian process per section under shared hyperparameters found by maximum a posteriori;
curve and standard deviation at every note, and each reading against the others. No weighing of wrong
readings, no choice of the next one: less work than Batten's line does.

Prints times in the form of Google Benchmark's JSON. With --once: one cold run, for timing the process.
"""
import json
import sys
import time

import numpy as np
from scipy.linalg import cho_factor, cho_solve
from scipy.optimize import minimize

SECTIONS = [(1, 20), (21, 45), (46, 68), (69, 88)]
NATURAL = {0, 2, 3, 5, 7, 8, 10}  # of (key - 1) % 12, from A


def read_keys(extra):
    wanted = {2, 7} | ({10} if extra else set())  # B, E, and G
    ends = {k for section in SECTIONS for k in section}
    return [k for k in range(1, 89) if k in ends or (k - 1) % 12 in wanted]


def truth(key, first, last):
    t = 2 * (key - first) / (last - first) - 1
    return 195 + first * 0.01 + 0.3 * t - 0.5 * t * t + 0.1 * t**3 + 0.05 * np.sin(6 * t)


def matern(a, b, s, l):
    z = np.sqrt(5.0) * np.abs(np.subtract.outer(a, b)) / l
    return s * s * (1 + z + z * z / 3) * np.exp(-z)


def prior(a, b, first, last, s, l):
    def basis(k):
        t = 2 * (k - first) / (last - first) - 1
        return np.column_stack([50 * np.ones_like(t), 1.5 * t, 0.7 * (t * t - 1 / 3)])

    return matern(a, b, s, l) + basis(a) @ basis(b).T


def line(job):
    def factored(section, h):
        first, last, x, y, sd = section
        return cho_factor(prior(x, x, first, last, h[0], h[1]) + np.diag((h[2] * sd) ** 2), lower=True)

    def loss(u):
        h = np.exp(np.log([0.5, 15.0, 1.0]) + np.array([0.5, 0.35, 0.25]) * u)
        total = 0.5 * u @ u
        for section in job:
            factor = factored(section, h)
            total += 0.5 * section[3] @ cho_solve(factor, section[3]) + np.log(np.diag(factor[0])).sum()
        return total

    h = np.exp(np.log([0.5, 15.0, 1.0]) + np.array([0.5, 0.35, 0.25]) * minimize(loss, np.zeros(3), method="BFGS").x)
    curves = []
    for section in job:
        first, last, x, y, sd = section
        factor = factored(section, h)
        at = np.arange(first, last + 1.0)
        across = prior(at, x, first, last, h[0], h[1])
        mean = across @ cho_solve(factor, y)
        variance = np.diag(prior(at, at, first, last, h[0], h[1])) - np.einsum(
            "ij,ji->i", across, cho_solve(factor, across.T))
        inverse = cho_solve(factor, np.eye(len(x)))
        left_out = inverse @ y / np.diag(inverse)
        curves.append((mean, np.sqrt(variance), left_out))
    return curves


def make_job(extra):
    rng = np.random.default_rng(11)
    job = []
    for first, last in SECTIONS:
        x = np.array([k for k in read_keys(extra) if first <= k <= last], float)
        y = np.round(truth(x, first, last) + rng.normal(0, 0.1, len(x)), 2)
        job.append((first, last, x, y - np.median(y), np.full(len(x), 0.1)))
    return job


def check(job, extra):
    """The answer, so that no wrong one is timed: RMS error against the truth behind the readings."""
    rng = np.random.default_rng(11)
    squares = []
    for (first, last, x, _, _), (mean, _, _) in zip(job, line(job)):
        y = np.round(truth(x, first, last) + rng.normal(0, 0.1, len(x)), 2)
        squares += list((mean + np.median(y) - truth(np.arange(first, last + 1.0), first, last)) ** 2)
    error = np.sqrt(np.mean(squares))
    assert error < 0.12, error


def main():
    if "--once" in sys.argv:
        line(make_job(False))
        return
    results = []
    for extra in (False, True):
        job = make_job(extra)
        check(job, extra)
        for repetition in range(9):
            start = time.perf_counter()
            line(job)
            results.append({"name": f"ReferenceSciPyLine/{sum(len(s[2]) for s in job)}", "run_type": "iteration",
                            "repetition_index": repetition, "time_unit": "ms",
                            "real_time": 1e3 * (time.perf_counter() - start)})
    json.dump({"benchmarks": results}, sys.stdout)


if __name__ == "__main__":
    main()

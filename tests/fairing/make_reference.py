#!/usr/bin/env python3
"""Writes data/reference/fairing: fair curves computed by general numerical libraries.

Run once by hand (python3 with NumPy and SciPy, Debian 12: 1.24 and 1.10); the tests read what it wrote.
Nothing here is shared with the C++ under test. Each figure is found by two routes that must agree before
anything is written:

  posterior, evidence   Cholesky of the readings' covariance (Rasmussen & Williams, Gaussian Processes for
                        Machine Learning, MIT 2006, algorithm 2.1), against a Kalman filter and a
                        Rauch-Tung-Striebel smoother on the process written as a stochastic differential
                        equation (Hartikainen & Sarkka, MLSP 2010), which forms no covariance of readings
  leave-one-out         from the inverse (R & W eq. 5.12), against leaving each reading out
  spline limit          the process with a very long reach, against the natural quintic smoothing spline
                        from B-splines with a penalty on the third derivative (Matern 5/2 of infinite reach
                        is that spline: Wahba, Spline Models for Observational Data, SIAM 1990, ch. 1)

The model, per section, in millimetres and keys:
  f(k) = centre + b0 + b1 t + b2 (t^2 - 1/3) + g(k),  t = -1 at the section's first key, +1 at its last
  b ~ independent N(0, sd^2), sds in cases.csv
  g ~ Gaussian process, covariance s^2 (1 + z + z^2/3) exp(-z),  z = sqrt(5) |k - k'| / l
  reading = f(key) + N(0, (noise_factor * stated sd)^2)
"""
import csv
import hashlib
import pathlib

import numpy as np
from scipy.interpolate import BSpline, CubicSpline
from scipy.linalg import cho_factor, cho_solve, expm

OUT = pathlib.Path(__file__).resolve().parents[2] / "data" / "reference" / "fairing"
WRONG_SPREAD = 1.5  # mm, how far a wrong reading lies: added in quadrature to its noise


def matern(a, b, s, l):
    z = np.sqrt(5.0) * np.abs(np.subtract.outer(a, b)) / l
    return s * s * (1 + z + z * z / 3) * np.exp(-z)


def basis(keys, first, last):
    t = 2 * (np.asarray(keys, float) - first) / (last - first) - 1
    return np.column_stack([np.ones_like(t), t, t * t - 1 / 3])


def prior(a, b, c):
    B = np.square([c["offset_sd"], c["slope_sd"], c["bow_sd"]])
    return matern(a, b, c["s"], c["l"]) + basis(a, c["first"], c["last"]) * B @ basis(b, c["first"], c["last"]).T


# Route 1: covariance of the readings, Cholesky.
def by_cholesky(c, x, y, noise, at):
    x, y, noise = (np.asarray(v, float) for v in (x, y, noise))
    factor = cho_factor(prior(x, x, c) + np.diag(noise**2), lower=True)
    across = prior(at, x, c)
    mean = across @ cho_solve(factor, y)
    variance = np.diag(prior(at, at, c)) - np.einsum("ij,ji->i", across, cho_solve(factor, across.T))
    evidence = -0.5 * y @ cho_solve(factor, y) - np.log(np.diag(factor[0])).sum() - len(y) / 2 * np.log(2 * np.pi)
    return mean, np.sqrt(variance), evidence, factor


def leave_one_out(factor, y):
    inverse = cho_solve(factor, np.eye(len(y)))
    variance = 1 / np.diag(inverse)
    return inverse @ y * variance, np.sqrt(variance)


# Route 2: (d/dk + a)^3 g = white noise, a = sqrt(5)/l; the mean's coefficients are constant states.
def by_kalman(c, x, y, noise, at):
    a, s2 = np.sqrt(5.0) / c["l"], c["s"] ** 2
    F = np.zeros((6, 6))
    F[:3, :3] = [[0, 1, 0], [0, 0, 1], [-(a**3), -3 * a * a, -3 * a]]
    # Stationary covariance of (g, g', g''): -k''(0) = s^2 a^2 / 3, k''''(0) = s^2 a^4.
    kappa = s2 * a * a / 3
    P0 = np.zeros((6, 6))
    P0[:3, :3] = [[s2, 0, -kappa], [0, kappa, 0], [-kappa, 0, s2 * a**4]]
    P0[3:, 3:] = np.diag(np.square([c["offset_sd"], c["slope_sd"], c["bow_sd"]]))
    stationary = np.zeros((6, 6))
    stationary[:3, :3] = P0[:3, :3]
    order = np.argsort(x, kind="stable")
    x, y, noise = (np.asarray(v, float)[order] for v in (x, y, noise))
    m, P, evidence, past = np.zeros(6), P0.copy(), 0.0, []
    previous = at[0]
    for k in at:
        A = expm(F * (k - previous))
        previous = k
        mp = A @ m
        Pp = A @ (P - stationary) @ A.T + stationary
        m, P = mp.copy(), Pp.copy()
        h = np.concatenate([[1, 0, 0], basis([k], c["first"], c["last"])[0]])
        for yi, ni in zip(y[x == k], noise[x == k]):
            v, S = yi - h @ m, h @ P @ h + ni * ni
            gain = P @ h / S
            keep = np.eye(6) - np.outer(gain, h)
            m, P = m + gain * v, keep @ P @ keep.T + ni * ni * np.outer(gain, gain)  # Joseph form
            evidence -= 0.5 * (np.log(2 * np.pi * S) + v * v / S)
        past.append((A, mp, Pp, m, P, h))
    ms, Ps = past[-1][3], past[-1][4]
    means, sds = [], []
    for i in range(len(past) - 1, -1, -1):
        _, _, _, m, P, h = past[i]
        if i < len(past) - 1:
            A, mp, Pp = past[i + 1][:3]
            G = np.linalg.solve(Pp, A @ P).T
            ms, Ps = m + G @ (ms - mp), P + G @ (Ps - Pp) @ G.T
        means.append(h @ ms)
        sds.append(np.sqrt(h @ Ps @ h))
    return np.array(means[::-1]), np.array(sds[::-1]), evidence


# Average of the posteriors over the hyperparameters' priors, all sections sharing them.
AVERAGE = dict(s=(0.5, 0.5), l=(15.0, 0.35), noise_factor=(1.0, 0.25))  # median, sd of the natural log


def averaged(sections, nodes=33, reach=4.0):
    u = np.linspace(-reach, reach, nodes)
    log_prior = -0.5 * u * u
    at = [np.arange(c["first"], c["last"] + 1.0) for c, *_ in sections]
    best, total = -np.inf, 0.0
    sums = [[np.zeros(len(a)), np.zeros(len(a))] for a in at]
    expected = np.zeros(3)
    for i, us in enumerate(u):
        for j, ul in enumerate(u):
            for m, un in enumerate(u):
                h = [median * np.exp(spread * v) for (median, spread), v in zip(AVERAGE.values(), (us, ul, un))]
                log_weight = log_prior[i] + log_prior[j] + log_prior[m]
                curves = []
                for (c, x, y, sd), a in zip(sections, at):
                    mean, deviation, evidence, _ = by_cholesky(dict(c, s=h[0], l=h[1]), x, y, h[2] * sd, a)
                    log_weight += evidence
                    curves.append((mean, deviation))
                if log_weight > best:  # keep sums relative to the largest weight met
                    scale = np.exp(best - log_weight)
                    total *= scale
                    expected *= scale
                    for one in sums:
                        one[0] *= scale
                        one[1] *= scale
                    best = log_weight
                w = np.exp(log_weight - best)
                total += w
                expected += w * np.array(h)
                for one, (mean, deviation) in zip(sums, curves):
                    one[0] += w * mean
                    one[1] += w * (deviation**2 + mean**2)
    means = [one[0] / total for one in sums]
    return at, means, [np.sqrt(one[1] / total - m * m) for one, m in zip(sums, means)], expected / total


# Spline limit: minimise sum (y-f)^2/noise^2 + (1/q) integral f'''^2 over natural quintic splines.
def quintic_smoothing_spline(x, y, noise, q, at):
    lo, hi = min(at), max(at)
    inner = np.unique(x)[(np.unique(x) > lo) & (np.unique(x) < hi)]
    knots = np.concatenate([[lo] * 6, inner, [hi] * 6])
    count = len(knots) - 6
    design = BSpline.design_matrix(np.asarray(x, float), knots, 5).toarray()
    third = [BSpline(knots, np.eye(count)[i], 5).derivative(3) for i in range(count)]
    nodes, weights = np.polynomial.legendre.leggauss(4)
    penalty = np.zeros((count, count))
    breaks = np.unique(knots)
    for a, b in zip(breaks[:-1], breaks[1:]):
        points = (a + b) / 2 + (b - a) / 2 * nodes
        values = np.array([f(points) for f in third])
        penalty += values * weights * (b - a) / 2 @ values.T
    root = np.linalg.cholesky(penalty + 1e-13 * np.trace(penalty) * np.eye(count)).T / np.sqrt(q)
    stacked = np.vstack([design / np.asarray(noise)[:, None], root])
    target = np.concatenate([np.asarray(y) / noise, np.zeros(count)])
    coefficients = np.linalg.lstsq(stacked, target, rcond=None)[0]
    return BSpline(knots, coefficients, 5)(np.asarray(at, float))


def string_line(rng, first, last):
    """A bowed section of strings: not drawn from the model."""
    t = 2 * (np.arange(first, last + 1) - first) / (last - first) - 1
    return 195 + rng.normal() + 0.4 * rng.normal() * t - 0.5 * t * t + 0.15 * rng.normal() * t**3 \
        + 0.08 * np.sin(7 * t + rng.uniform(0, 6))


# case, first, last, hyperparameters, keys read (repeats allowed), stated sds, wrong: (reading, by mm)
def cases():
    usual = dict(s=0.5, l=15.0, noise_factor=1.0, offset_sd=50.0, slope_sd=1.5, bow_sd=0.7)
    return [
        ("bass", dict(usual, first=1, last=20), [1, 3, 8, 15, 20], [0.1] * 5, None),
        ("tenor", dict(usual, first=21, last=44), [21, 27, 32, 36, 39, 44], [0.1] * 6, None),
        ("treble", dict(usual, first=45, last=68), [45, 51, 56, 56, 60, 63, 68], [0.1, 0.1, 0.1, 0.2, 0.1, 0.05, 0.1],
         None),
        ("top", dict(usual, first=69, last=88), [69, 72, 75, 77, 80, 84, 87, 88], [0.1] * 8, (3, 1.0)),
        ("stiff", dict(usual, s=0.2, l=30.0, noise_factor=1.4, first=21, last=44), [44, 21, 32, 27, 39], [0.1] * 5, None),
        ("supple", dict(usual, s=1.1, l=6.0, noise_factor=0.7, first=45, last=68), list(range(45, 69)), [0.15] * 24,
         (11, -1.0)),
        ("two_readings", dict(usual, first=30, last=52), [34, 47], [0.1, 0.1], None),
        ("one_reading", dict(usual, first=30, last=52), [47], [0.1], None),
        ("wide_offset", dict(usual, offset_sd=5000.0, first=1, last=28), [1, 3, 8, 12, 15, 20, 24, 28], [0.1] * 8, None),
        ("three_keys", dict(usual, first=86, last=88), [86, 87, 88], [0.1] * 3, None),
    ]


def number(value):
    return format(float(value), ".12g")


def write(name, header, rows):
    with open(OUT / name, "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def close(what, a, b, tolerance, worst):
    error = np.max(np.abs(np.asarray(a) - np.asarray(b)))
    worst[what] = max(worst.get(what, 0.0), error)
    assert error <= tolerance, (what, error)


def main():
    OUT.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(1907)
    worst, case_rows, reading_rows, curve_rows, sections = {}, [], [], [], []
    for name, c, keys, stated, wrong in cases():
        line = string_line(rng, c["first"], c["last"])
        y = np.array([line[k - c["first"]] + rng.normal(0, sd) for k, sd in zip(keys, stated)])
        if wrong:
            y[wrong[0]] += wrong[1]
        y = np.round(y, 2)  # as a gauge shows them
        c["centre"] = float(np.median(y))
        y = y - c["centre"]
        noise = c["noise_factor"] * np.array(stated)
        # Rounding grows with the square of the offset's width, which cancels in every result.
        tolerance = 1e-9 * max(1.0, (c["offset_sd"] / 50) ** 2) * 10
        width = f"offset sd {c['offset_sd']:g}"
        x, at = np.array(keys, float), np.arange(c["first"], c["last"] + 1.0)
        mean, sd, evidence, factor = by_cholesky(c, x, y, noise, at)
        mean2, sd2, evidence2 = by_kalman(c, x, y, noise, at)
        close("mean, mm, " + width, mean, mean2, tolerance, worst)
        close("sd, relative, " + width, sd / sd2, 1, tolerance, worst)
        close("log evidence, " + width, evidence, evidence2, tolerance, worst)
        residual, loo_sd = leave_one_out(factor, y)
        for i in range(len(y) if len(y) > 1 else 0):
            rest = np.arange(len(y)) != i
            m, s, *_ = by_cholesky(c, x[rest], y[rest], noise[rest], x[i : i + 1])
            close("left-out residual, mm, " + width, residual[i], y[i] - m[0], tolerance, worst)
            close("left-out sd, relative, " + width, loo_sd[i] / np.hypot(s[0], noise[i]), 1, tolerance, worst)
        for i in range(len(y)):
            doubted = noise.copy()
            doubted[i] = np.hypot(noise[i], WRONG_SPREAD)
            if_wrong = by_cholesky(c, x, y, doubted, at)[2]
            reading_rows.append([name, keys[i], number(y[i] + c["centre"]), number(stated[i]), number(residual[i]), number(loo_sd[i]),
                                 number(if_wrong)])
        case_rows.append([name, c["first"], c["last"]] + [number(c[k]) for k in (
            "centre", "s", "l", "noise_factor", "offset_sd", "slope_sd", "bow_sd")] + [number(evidence)])
        curve_rows += [[name, int(k), number(m + c["centre"]), number(s)] for k, m, s in zip(at, mean, sd)]
        if name in ("bass", "tenor", "treble"):
            sections.append((c, x, y, np.array(stated)))
    write("cases.csv", "case,first,last,centre_mm,s_mm,l_keys,noise_factor,offset_sd_mm,slope_sd_mm,bow_sd_mm,log_evidence".split(","),
          case_rows)
    write("readings.csv",
          "case,key,height_mm,stated_sd_mm,left_out_residual_mm,left_out_sd_mm,log_evidence_if_wrong".split(","),
          reading_rows)
    write("curve.csv", "case,key,mean_mm,sd_mm".split(","), curve_rows)

    at, means, sds, expected = averaged(sections)
    coarse = averaged(sections, nodes=17)
    for m, s, m2, s2 in zip(means, sds, coarse[1], coarse[2]):
        close("average, 33 against 17 nodes: mean, mm", m, m2, 1e-4, worst)
        close("average, 33 against 17 nodes: sd, relative", s / s2, 1, 1e-3, worst)
    write("averaged.csv", "case,key,mean_mm,sd_mm".split(","),
          [[name, int(k), number(m + c["centre"]), number(s)]
           for name, (c, *_), a, ms, ss in zip(("bass", "tenor", "treble"), sections, at, means, sds)
           for k, m, s in zip(a, ms, ss)])
    write("averaged_hyperparameters.csv", "s_mm,l_keys,noise_factor".split(","), [[number(v) for v in expected]])

    # The spline limit. q = (16/3) s^2 (sqrt(5)/l)^5 is the spectral density of the white noise.
    first, last = 21, 44
    x = np.array([21, 24, 27, 29, 32, 36, 39, 41, 44], float)
    line = string_line(rng, first, last)
    y = np.round(line[(x - first).astype(int)] + rng.normal(0, 0.1, len(x)), 2)
    centre = float(np.median(y))
    y = y - centre
    noise, at = np.full(len(x), 0.1), np.arange(first, last + 1.0)
    l, q = 1500.0, 2e-6
    s = np.sqrt(q * 3 / 16 / (np.sqrt(5) / l) ** 5)
    limit = dict(first=first, last=last, s=s, l=l, offset_sd=5000.0, slope_sd=5000.0, bow_sd=5000.0)
    spline = quintic_smoothing_spline(x, y, noise, q, at)
    process = by_kalman(limit, x, y, noise, at)[0]
    close("spline limit, mm", spline, process, 2e-3, worst)
    write("spline_limit.csv", "key,reading_mm,spline_mm".split(","),
          [[int(k), number(y[list(x).index(k)] + centre) if k in x else "", number(v + centre)] for k, v in zip(at, spline)])
    write("spline_limit_hyperparameters.csv", "s_mm,l_keys,noise_mm,mean_sds_mm,q".split(","),
          [[number(v) for v in (s, l, 0.1, 5000.0, q)]])

    # Closed forms: what the readings lie on exactly, at every key.
    keys = np.arange(21, 45)
    knots = np.array([21, 27, 32, 36, 39, 44])
    natural = CubicSpline(knots, [194.2, 194.75, 194.9, 194.8, 194.6, 194.1], bc_type="natural")(keys)
    write("closed_forms.csv", "key,read,constant_mm,straight_mm,natural_cubic_mm".split(","),
          [[k, int(k in knots), "195", number(195 + 0.05 * (k - 21)), number(v)] for k, v in zip(keys, natural)])

    files = sorted(p for p in OUT.glob("*.csv"))
    (OUT / "SHA256SUMS").write_text("".join(f"{hashlib.sha256(p.read_bytes()).hexdigest()}  {p.name}\n" for p in files))
    for what, error in worst.items():
        print(f"{what:55s} {error:.1e}")


if __name__ == "__main__":
    main()

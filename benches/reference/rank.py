#!/usr/bin/env python3
"""rank.py [--serve] OPENING=QUIET.wav,AIR.wav …

The ranking once more, as numpy and scipy would have it: what the program's arithmetic is timed against and its numbers are
held against. From samples to probabilities and hiss levels, step by step as src/spectrum, src/hiss (floors, contrasts) and
src/ranking do it, for clips of one rate with the air off and on, one of each at every opening. Left out: what lowers trust
in a clip (clipping, tones, gain steps, cut-offs), pulsed air, a second microphone, which the program looks for besides.

Work is put into as few and as large numpy calls as it allows: all restlessness scales, openings and hiss spectra are
settled together, and what has settled is not worked on any further.

Prints JSON. With --serve: reads the clips, then ranks them once for every line on stdin and prints the
processor seconds that took.
"""
import json
import sys
import time

import numpy as np
from scipy import fft, io, optimize, signal, special

BANDS, CELLS, FIRST_LEVEL, LOWEST = 17, 4, 4, -4
RESTLESSNESS = [0.35, 0.7, 1.4, 2.8, 5.6, 11.2]
RESIDUE, PLACE = 0.3**2, 1.5**2
CHANGE_FREEDOM = 3.0
PLACES = np.arange(BANDS)
LEVEL_BANDS = slice(FIRST_LEVEL, BANDS)
OCTAVES = (PLACES[:, None] - PLACES[None, :]) / 10 * np.log2(10)
SPILL_STEP = 2.0


def bell(width):
    return np.exp(-0.5 * (OCTAVES / width) ** 2)


def log_sum(terms, axis=-1):
    most = np.max(terms, axis=axis, keepdims=True)
    return np.squeeze(most, axis) + np.log(np.sum(np.exp(terms - most), axis=axis))


class Grid:
    """Third-octave bands from 400 Hz to 16 kHz in four cells each, as weights on the bins of a frame."""

    def __init__(self, rate):
        assert rate == 48000, "the frame is chosen for 48 kHz"
        self.frame, self.rate = 2048, rate
        self.window = signal.get_window("hann", self.frame).astype(np.float32)
        self.scale = np.float32(2 / (0.375 * self.frame**2))
        bin_hz = rate / self.frame
        bins = np.arange(self.frame // 2 + 1)
        edges = 1000 * 10 ** ((LOWEST - 0.5 + np.arange(BANDS * CELLS + 1) / CELLS) / 10)
        inside = np.minimum((bins[:, None] + 0.5) * bin_hz, edges[1:]) - np.maximum((bins[:, None] - 0.5) * bin_hz, edges[:-1])
        self.weights = np.clip(inside / bin_hz, 0, 1).astype(np.float32)
        self.row_seconds = self.frame / rate
        self.steady_db = np.array([self.steady(range(b * CELLS, (b + 1) * CELLS)) for b in range(BANDS)])

    def steady(self, cells):
        """How far the 5 % quantile of steady noise's cells lies from their mean, dB."""
        freedoms = []
        for cell in cells:
            w = self.weights[:, cell].astype(float)
            spread = w @ w + 2 * (4 / 9 * (w[1:] @ w[:-1]) + 1 / 36 * (w[2:] @ w[:-2]))
            freedoms.append(2 * w.sum() ** 2 / spread * 4 / (2 + 2 / 36))
        half = np.array(freedoms) / 2
        below = lambda x: special.gammainc(half, half * np.exp(x)).mean() - 0.05
        return 10 / np.log(10) * optimize.brentq(below, -20, 4, xtol=1e-13)


def rows_of(samples, grid):
    """Mean powers of every cell, a row for two frames."""
    frames = np.lib.stride_tricks.sliding_window_view(samples, grid.frame)[:: grid.frame // 2]
    bins = fft.rfft(frames * grid.window, axis=1)
    power = (bins.real**2 + bins.imag**2) * grid.scale
    power[:, [0, -1]] *= 0.5
    count = len(power) // 2
    pairs = power[: 2 * count].reshape(count, 2, -1).mean(axis=1)
    return pairs @ grid.weights + np.float32(1e-18)


def floor_db(rows):
    pool = rows.reshape(len(rows), BANDS, CELLS).transpose(1, 0, 2).reshape(BANDS, -1)
    return 10 * np.log10(CELLS * np.quantile(pool, 0.05, axis=1).astype(float))


def floors_of(rows, grid):
    """The floor of a clip and of its parts of a second."""
    parts = int(np.clip(np.floor(len(rows) * grid.row_seconds + 0.5), 3, 12))
    size = len(rows) // parts
    return floor_db(rows), np.array([floor_db(rows[k * size : (k + 1) * size]) for k in range(parts)])


def mean_db(rows):
    return 10 * np.log10(rows.sum(axis=0, dtype=float).reshape(BANDS, CELLS).sum(axis=1) / len(rows))


def spread_of(clips):
    """Covariance of a clip's floor about its long-term value, from its parts."""
    off = np.concatenate([parts - parts.mean(axis=0) for _, parts in clips])
    freedom = max(len(off) - len(clips), 1)
    kept = np.where(np.eye(BANDS, dtype=bool), 1.0, 0.7)
    return off.T @ off / freedom * kept / max(len(off) / len(clips), 1)


def grounds(own, air, spread, drift_db=1.0):
    """Quiet references, covariances and evidence of no hiss by scale and opening, and the restlessness that quiet tells."""
    count = len(own)
    others = np.array([np.delete(own, at, axis=0).mean(axis=0) for at in range(count)])
    takes, place = count - 1, PLACE * (1 + 1 / (count - 1))
    smooth, colour, eye = 0.5**2 * bell(1.0), bell(1.5), np.eye(BANDS)
    off_mean = own - own.mean(axis=0)
    scatter = off_mean.T @ off_mean
    floors, covariances, restless = [], [], []
    for at, scale in enumerate(RESTLESSNESS):
        expected = drift_db**2 / 2 + scale**2 * (spread + 0.5 * (0.7**2 + smooth + 0.3**2 * eye))
        moved = (CHANGE_FREEDOM * expected + scatter) / (CHANGE_FREEDOM + count - 1)
        of_own = np.trace(moved) / BANDS
        of_others = of_own / takes + place
        share = of_others / (of_own + of_others)
        floors.append(share * own + (1 - share) * others)
        left = (1 - share) ** 2
        covariances.append((1 + share**2 + left / takes) * moved + place * left * colour)
        pairs = (1 + 1 / takes) * expected + place * colour + RESIDUE * eye
        off = own - others
        each = -0.5 * (np.einsum("oi,oi->o", off, np.linalg.solve(pairs, off.T).T) + np.linalg.slogdet(pairs)[1])
        restless.append(at * np.log(0.8) + each.sum() * (count - 1) / count)
    floors, covariances = np.array(floors), np.array(covariances)
    difference = air - floors
    bare = covariances + RESIDUE * eye
    solved = np.linalg.solve(bare[:, None], difference[..., None])[..., 0]
    without = -0.5 * ((difference * solved).sum(axis=-1) + np.linalg.slogdet(bare)[1][:, None])
    return floors, covariances, difference, without, np.array(restless)


def shapes():
    """Covariances of hiss spectra about equal power in all bands."""
    found, middle = [], (FIRST_LEVEL + BANDS) // 2
    for tilt, hump, octaves, band in [(3.0, 3.0, 1.2, 0.7), (4.0, 6.0, 1.5, 0.5), (3.0, 4.0, 1.2, 2.0)]:
        free = tilt**2 * np.outer(OCTAVES[:, middle], OCTAVES[:, middle]) + hump**2 * bell(octaves) + band**2 * np.eye(BANDS)
        mean = free[:, LEVEL_BANDS].mean(axis=1)
        found.append(free - mean[:, None] - mean[None, :] + mean[LEVEL_BANDS].mean() + (2.0 * 0.6) ** 2)
    return np.array(found), np.log([0.4, 0.2, 0.4])


def settle(difference, over, level, moved, shape):
    """Evidence, hiss level and its variance of many models at once: Gauss–Newton, then Laplace's approximation."""
    count, neper = len(level), np.log(10) / 10
    m, g = np.zeros((count, BANDS)), np.zeros((count, BANDS))
    out = [np.empty(count) for _ in range(3)]
    live = np.arange(count)
    diagonal = np.arange(BANDS)
    for step in range(1, 6):
        d, o, h, a, s = difference[live], over[live], level[live, None], moved[live], shape[live]
        noise, hiss = np.exp(neper * m[live]), np.exp(neper * (h + o + g[live]))
        whole = noise + hiss
        of_noise, of_hiss = noise / whole, hiss / whole
        error = d - np.log(whole) / neper + of_noise * m[live] + of_hiss * g[live]
        matrix = of_noise[:, :, None] * a * of_noise[:, None, :] + of_hiss[:, :, None] * s * of_hiss[:, None, :]
        matrix[:, diagonal, diagonal] += RESIDUE
        pull = np.linalg.solve(matrix, error[..., None])[..., 0]
        on_noise, on_hiss = of_noise * pull, of_hiss * pull
        to_m = np.matmul(a, on_noise[..., None])[..., 0]
        to_g = np.matmul(s, on_hiss[..., None])[..., 0]
        change = np.maximum(np.abs(to_m - m[live]).max(axis=1), np.abs(to_g - g[live]).max(axis=1))
        done = (change < 0.02) | (step == 5)
        at = live[done]
        m1, g1 = to_m[done], to_g[done]
        whole = np.exp(neper * m1) + np.exp(neper * (h[done] + o[done] + g1))
        misfit = ((d[done] - np.log(whole) / neper) ** 2).sum(axis=1) / RESIDUE
        cost = (on_noise[done] * m1).sum(axis=1) + (on_hiss[done] * g1).sum(axis=1)
        out[0][at] = -0.5 * (cost + misfit + np.linalg.slogdet(matrix[done])[1])
        power = np.exp(neper * g1[:, LEVEL_BANDS])
        gradient = np.zeros((len(at), BANDS))
        gradient[:, LEVEL_BANDS] = power / power.sum(axis=1, keepdims=True)
        spread = np.matmul(s[done], gradient[..., None])[..., 0]
        seen = of_hiss[done] * spread
        known = (np.linalg.solve(matrix[done], seen[..., None])[..., 0] * seen).sum(axis=1)
        out[1][at] = level[at] + 10 * np.log10(power.mean(axis=1))
        out[2][at] = np.maximum((gradient * spread).sum(axis=1) - known, 0)
        live = live[~done]
        m[live], g[live] = np.clip(to_m[~done], -40, 40), np.clip(to_g[~done], -40, 40)
    return np.stack(out)


def fits(floors, covariances, difference, steady_db, levels):
    """Evidence, level and variance by scale, opening and level: coarse to fine, hiss spectra mixed."""
    shape, likely = shapes()
    scales, count, _ = floors.shape
    over = steady_db - 10 * np.log10(BANDS - FIRST_LEVEL) - floors
    models = [(r, o, s) for r in range(scales) for o in range(count) for s in range(len(shape))]
    r, o, s = (np.array(x) for x in zip(*models))
    whole_db = (difference - over)[..., LEVEL_BANDS].max(axis=-1)[r, o]
    found = np.full((3, len(models), len(levels)), np.nan)

    def settle_at(models, places):
        rr, oo = r[models], o[models]
        return settle(difference[rr, oo], over[rr, oo], levels[places], covariances[rr], shape[s[models]])

    even = np.arange(0, len(levels), 2)
    reach = np.full(len(models), len(levels))
    most = np.full(len(models), -np.inf)
    for places in np.split(even, range(4, len(even), 4)):
        live = np.flatnonzero(reach == len(levels))
        at, k = np.repeat(live, len(places)), np.tile(places, len(live))
        found[:, at, k] = settle_at(at, k)
        for k in places:
            now = np.flatnonzero(reach == len(levels))
            most[now] = np.maximum(most[now], found[0, now, k])
            reach[now[(found[0, now, k] < most[now] - 40) & (levels[k] > whole_db[now])]] = k
    for k in range(len(levels)):
        past = reach < k
        last = found[:, past, reach[past]]
        found[:, past, k] = last[0], np.full(past.sum(), levels[k]), last[2]
    odd = np.arange(1, len(levels), 2)
    below, above = found[:, :, odd - 1], found[:, :, np.minimum(odd + 1, odd - 1 + 2 * (odd + 1 < len(levels)))]
    within = odd < reach[:, None]
    matters = within & (np.maximum(below[0], above[0]) > most[:, None] - 14) & (np.abs(below[0] - above[0]) > 0.05)
    found[:, :, odd] = np.where(within & ~matters, 0.5 * (below + above), found[:, :, odd])
    at, k = np.nonzero(matters)
    found[:, at, odd[k]] = settle_at(at, odd[k])
    by = found.reshape(3, scales, count, len(shape), len(levels))
    log = by[0] + likely[:, None]
    evidence = log_sum(log, axis=2)
    share = np.exp(log - evidence[:, :, None])
    mean = (share * by[1]).sum(axis=2)
    variance = (share * (by[2] + (by[1] - mean[:, :, None]) ** 2)).sum(axis=2)
    return evidence, mean, variance


def mixed(values):
    """Each opening may have been somewhat calmer or more restless than the shop."""
    out = []
    for at in range(len(values)):
        shares = [(at, 1.0)] + [(at + k, w) for k, w in [(-1, 0.1), (1, 0.005)] if 0 <= at + k < len(values)]
        whole = sum(w for _, w in shares)
        out.append(log_sum(np.stack([values[k] + np.log(w / whole) for k, w in shares]), axis=0))
    return np.array(out)


def log_spill(under):
    return -0.5 * (np.maximum(np.maximum(10 - under, under - 25), 0) / 2.8) ** 2


def accounts(with_, without, restless, levels):
    """Probabilities: each opening the louder leak, elsewhere, two leaks."""
    count, flat = without.shape[1], -np.log(len(levels))
    reach = log_spill(levels[:, None] - levels[None, :])
    below = log_sum(log_spill(levels[:, None] - (levels[0] - SPILL_STEP * np.arange(1, 21))))
    whole = log_sum(np.concatenate([reach, below[:, None]], axis=1))
    under = np.subtract.outer(np.arange(len(levels)), np.arange(len(levels)))
    pair = np.where(under >= 0, -0.5 * (under * SPILL_STEP / 3.0) ** 2 + np.where(under == 0, np.log(0.5), 0), -np.inf)
    least = (below + without[:, :, None])[..., None]
    heard = log_sum(np.concatenate([reach + with_[:, :, None, :], least], axis=-1)) - whole
    spill = np.logaddexp(np.log(0.8) + heard, np.log(0.2) + without[:, :, None])
    second = log_sum(pair + with_[:, :, None, :]) - log_sum(pair)
    all_spill = spill.sum(axis=1)
    usual = 0.005
    terms = [("nowhere", 0.25, without.sum(axis=1)), ("elsewhere", usual, flat + log_sum(all_spill))]
    for j in range(count):
        alone = with_[:, j] + all_spill - spill[:, j]
        terms.append((j, (1 - 0.25 - usual - 0.05) / count, flat + log_sum(alone)))
        for k in range(count):
            if k != j:
                both = alone - spill[:, k] + second[:, k]
                terms.append(((j, k), 2 * 0.05 / (count * (count - 1)), flat + log_sum(both)))
    log = np.array([np.log(before) + log_sum(restless + term) for _, before, term in terms])
    p = np.exp(log - log_sum(log))
    names = [name for name, _, _ in terms]
    louder = np.array([sum(q for n, q in zip(names, p) if n == j or (isinstance(n, tuple) and n[0] == j)) for j in range(count)])
    two = sum(q for n, q in zip(names, p) if isinstance(n, tuple))
    return louder, p[0] + p[1], two


def weights_of(with_, without, mean, variance, restless, o):
    """Hiss levels of an opening with their variances and weights."""
    flat = -np.log(with_.shape[2])
    others = [k for k in range(with_.shape[1]) if k != o]
    shop = restless + sum(np.logaddexp(without[:, k], flat + log_sum(with_[:, k])) for k in others)
    each = (shop[:, None] + flat + with_[:, o]).ravel()
    weight = np.exp(each - log_sum(each))
    kept = weight > 1e-9
    return mean[:, o].ravel()[kept], variance[:, o].ravel()[kept], weight[kept]


def level_at(level, variance, weight, probability):
    spread = np.sqrt(variance + 1.8**2)
    share = lambda x: (weight * special.ndtr((x - level) / spread)).sum() / weight.sum() - probability
    return optimize.brentq(share, (level - 6 * spread).min(), (level + 6 * spread).max(), xtol=1e-10)


def unsteadiness(air, own, mean_air, mean_quiet, steady):
    """How far an unsteady hiss's mean lies over what its floor tells, dB."""
    power = lambda db: (10 ** (db[LEVEL_BANDS] / 10)).sum()
    of_mean = power(mean_air) - power(mean_quiet)
    trust = np.clip((10 * np.log10(power(mean_air) / power(mean_quiet)) - 3) / 7, 0, 1)
    over = 10 ** ((air - steady) / 10) - 10 ** ((own - steady) / 10)
    of_floor = np.maximum(over[LEVEL_BANDS], 0).sum()
    return trust * max(10 * np.log10(of_mean / of_floor), 0) if of_floor > 0 and of_mean > 0 else 0.0


def rank(clips, rate):
    """From samples (quiet and air of each opening) to probabilities and hiss levels."""
    grid = Grid(rate)
    rows = [[rows_of(samples, grid) for samples in pair] for pair in clips]
    floors = [[floors_of(r, grid) for r in pair] for pair in rows]
    means = [[mean_db(r) for r in pair] for pair in rows]
    own, air = (np.array([pair[k][0] for pair in floors]) for k in (0, 1))
    spread = spread_of([pair[0] for pair in floors] + [pair[1] for pair in floors])
    reference, covariances, difference, without, restless = grounds(own, air, spread)
    shop = 10 * np.log10(np.mean([(10 ** (quiet[LEVEL_BANDS] / 10)).sum() for quiet, _ in means]))
    levels = shop - 34 + 2.0 * np.arange(36)
    evidence, mean, variance = fits(reference, covariances, difference, grid.steady_db, levels)
    with_, without = mixed(evidence), mixed(without)
    louder, elsewhere, two = accounts(with_, without, restless, levels)
    weights = [weights_of(with_, without, mean, variance, restless, o) for o in range(len(clips))]
    unsteady = [unsteadiness(air[o], own[o], means[o][1], means[o][0], grid.steady_db) for o in range(len(clips))]
    leak = next((o for o in range(len(clips)) if louder[o] >= 0.95 and two < 0.37), None)
    leak_db = None if leak is None else level_at(*weights[leak], 0.5)
    at_most = []
    for o, (level, spread, weight) in enumerate(weights):
        if leak is not None and o != leak:
            narrowed = weight * np.exp(log_spill(leak_db - level))
            weight = narrowed if narrowed.sum() >= 1e-6 else weight
        off = unsteady[o] if leak is None else min(unsteady[o], unsteady[leak])
        at_most.append(level_at(level, spread, weight, 0.975) + off)
    return {
        "floors_db": [[quiet.tolist(), loud.tolist()] for quiet, loud in zip(own, air)],
        "probabilities": louder.tolist(),
        "elsewhere": float(elsewhere),
        "at_most_db": [float(x) for x in at_most],
    }


def read(path):
    rate, samples = io.wavfile.read(path)
    return rate, samples.astype(np.float32) / np.float32(32768)


def main():
    words = sys.argv[1:]
    serve = "--serve" in words
    named = [word.split("=", 1) for word in words if word != "--serve"]
    pairs = [[read(path) for path in paths.split(",")] for _, paths in named]
    rate = pairs[0][0][0]
    clips = [[samples for _, samples in pair] for pair in pairs]
    if not serve:
        print(json.dumps({"openings": [name for name, _ in named], **rank(clips, rate)}))
        return
    print("ready", flush=True)
    for _ in sys.stdin:
        begin = time.process_time()
        rank(clips, rate)
        print(time.process_time() - begin, flush=True)


if __name__ == "__main__":
    main()

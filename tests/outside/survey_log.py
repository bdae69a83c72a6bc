"""A log of volts surveyed a second way: all rows in memory, times by datetime, percentiles by sorting, dips by masks.

Reads a log (time,ab,bc,ca) from standard input. Arguments: reference volts, then pairs of band edges. Prints "name value".
Definitions: unbalance NEMA MG 1 14.36.2; dips and interruptions IEC 61000-4-30 5.4 and 5.5 (from memory).
"""
import csv
import sys
from datetime import datetime, timezone

import numpy as np

reference = float(sys.argv[1])
edges = [float(a) for a in sys.argv[2:]]
rows = list(csv.DictReader(line for line in sys.stdin if not line.startswith("#")))
clock = np.array([datetime.fromisoformat(r["time"]).replace(tzinfo=timezone.utc).timestamp() for r in rows])
volts = np.array([[float(r[p]) for p in ("ab", "bc", "ca")] for r in rows])

steps = np.diff(clock)
usual = float(np.median(steps[clock[1:] <= clock[0] + 3600]))
stands = np.append(steps, usual)
gap = stands > 3 * usual
stands[gap] = usual
total = stands.sum()


def say(name, value):
    print(name, repr(float(value)))


def quantile(values, weights, share):
    order = np.argsort(values, kind="stable")
    reached = np.cumsum(weights[order])
    return values[order][np.searchsorted(reached, share * reached[-1])]


say("recorded", total)
say("gaps", gap.sum())
average = volts.mean(axis=1)
for name, v in zip(("ab", "bc", "ca", "average"), (*volts.T, average)):
    say(name + "_mean", np.average(v, weights=stands))
    say(name + "_lowest", v.min())
    say(name + "_highest", v.max())
    for share in (1, 50, 95, 99):
        say(f"{name}_{share}", quantile(v, stands, share / 100))

for i, (low, high) in enumerate(zip(edges[::2], edges[1::2])):
    out = (average < low) | (average > high)
    say(f"band{i}_inside", stands[~out].sum() / total)
    say(f"band{i}_above", stands[average > high].sum() / total)
    # spells: cut where the mask changes and behind a gap
    cuts = np.flatnonzero((np.diff(out.astype(int)) != 0) | gap[:-1]) + 1
    spells = [(out[part[0]], stands[part].sum()) for part in np.split(np.arange(len(out)), cuts)]
    lengths = np.array([length for outside, length in spells if outside])
    say(f"band{i}_sustained", lengths[lengths > 60].sum() / total if len(lengths) else 0)
    say(f"band{i}_longest", lengths.max() if len(lengths) else 0)

least = volts.min(axis=1)
inside = np.zeros(len(rows), dtype=bool)  # of a dip
for i in range(len(rows)):
    before = inside[i - 1] if i else False
    inside[i] = least[i] < (0.92 if before else 0.90) * reference
starts = np.flatnonzero(inside & ~np.append(False, inside[:-1]))
say("dips", len(starts))
for n, start in enumerate(starts):
    stop = start + int(np.argmin(inside[start:]))
    gone = volts[start:stop].max(axis=1) < 0.05 * reference
    say(f"dip{n}_start", clock[start] - clock[0])
    say(f"dip{n}_seconds", stands[start:stop].sum())
    say(f"dip{n}_residual", least[start:stop].min())
    say(f"dip{n}_gone", stands[start:stop][gone].sum())

calm = ~inside
unbalance = np.abs(volts[calm] - average[calm, None]).max(axis=1) / average[calm]
say("unbalance_mean", np.average(unbalance, weights=stands[calm]))
say("unbalance_highest", unbalance.max())
for share in (95, 99):
    say(f"unbalance_{share}", quantile(unbalance, stands[calm], share / 100))
say("unbalance_over_1", stands[calm][unbalance > 0.01].sum() / stands[calm].sum())

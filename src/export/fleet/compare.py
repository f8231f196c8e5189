"""Whether two engines gave the same rows: numbers to a tenth of a percent point, all else to the letter."""

import json
import sys


def rows(path):
    lines = [json.loads(line) for line in open(path, encoding="utf-8")]
    return [(name, value) for line in lines for name, value in line.items()]


def same(one, other):
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    try:
        return abs(float(one) - float(other)) <= 0.1001
    except (TypeError, ValueError):
        return one == other


first, second = (rows(path) for path in sys.argv[1:3])
different = [pair for pair in zip(first, second) if pair[0][0] != pair[1][0] or not same(pair[0][1], pair[1][1])]
if len(first) != len(second) or different or len(first) < 10:
    sys.exit(f"{len(first)} rows against {len(second)}; different: {different[:5]}")
print(f"{len(first)} rows are the same in both", file=sys.stderr)

"""Compares fresh answers (in the folder REFERENCE_OUT) with the committed ones.

Both are made by the same scripts and versions: what differs is another machine's rounding,
so the tolerances are those to which the answers are known, not wider.
"""

import json
import sys

import shared

# File, and how far a number may differ: mm, degrees, per cent, slopes, rates (far centres
# less: see `shared.scaled`); N.
TOLERANCES = {"corners.json": 0.0, "scipy.json": 2e-9, "casadi.json": 2e-10, "exudyn.json": 1e-7,
              "statics.json": 1e-7}
# What the scripts say of their own accuracy is noise: a fresh one may be this many times larger.
NOISE = 10.0
ACCURACIES = ("accuracy", "closure", "moved_under_load")


def main():
    failed = False
    for name, tolerance in TOLERANCES.items():
        fresh, committed = (json.loads((folder / name).read_text()) for folder in (shared.OUT, shared.HERE))
        for key in ACCURACIES:
            if key in committed:
                pairs = zip(shared.numbers(fresh.pop(key)), shared.numbers(committed.pop(key)), strict=True)
                failed |= any(now > NOISE * was + 1e-12 for now, was in pairs)
        path, largest = max(shared.differences(fresh, committed), key=lambda pair: pair[1])
        print(f"{name}: differs by at most {largest:.1e} ({path}), allowed {tolerance:.0e}")
        failed |= largest > tolerance
    if failed:
        sys.exit("the fresh answers are not the committed ones")


if __name__ == "__main__":
    main()

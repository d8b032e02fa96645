"""Reading and writing the data files, and comparing two of them."""

import json
import math
import os
import pathlib

# The committed files; fresh ones may go to another folder to be compared.
HERE = pathlib.Path(__file__).parent
OUT = pathlib.Path(os.environ.get("REFERENCE_OUT", HERE))


def write(name, value):
    OUT.mkdir(parents=True, exist_ok=True)
    (OUT / name).write_text(rendered(value) + "\n")


def rendered(value, depth=0):
    """JSON with one short thing a line: rows of numbers stay together."""
    flat = json.dumps(value)
    if len(flat) + depth <= 108 or not isinstance(value, (dict, list)) or not value:
        return flat
    inner = " " * (depth + 1)
    if isinstance(value, dict):
        items = [f"{inner}{json.dumps(key)}: {rendered(item, depth + 1)}" for key, item in value.items()]
        return "{\n" + ",\n".join(items) + "\n" + " " * depth + "}"
    return "[\n" + ",\n".join(inner + rendered(item, depth + 1) for item in value) + "\n" + " " * depth + "]"


def cases():
    """The cases, each with its one corner beside it."""
    found = json.loads((HERE / "corners.json").read_text())["cases"]
    return [(case, case["setup"][case["axle"]]) for case in found]


def rounded(value, digits=13):
    """Numbers to a count of significant digits: below that there is only noise."""
    if isinstance(value, dict):
        return {key: rounded(item, digits) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(item, digits) for item in value]
    if hasattr(value, "tolist"):
        return rounded(value.tolist(), digits)
    if isinstance(value, float):
        if not math.isfinite(value):
            return None
        return float(f"{value:.{digits - 1}e}") + 0.0
    return value


def differences(one, other, path=""):
    """Pairs of a number's path and its difference, places of a list under one path. Far
    centres are known less well: see `scaled`."""
    if isinstance(one, dict):
        assert one.keys() == other.keys(), f"{path}: {one.keys()} and {other.keys()}"
        for key in one:
            yield from differences(one[key], other[key], f"{path}.{key}" if path else key)
    elif isinstance(one, list):
        assert len(one) == len(other), path
        far = max((abs(x) for x in one if isinstance(x, float)), default=0.0)
        for a, b in zip(one, other):
            if path.endswith("_view_centre"):
                yield path, abs(a - b) / scaled(far)
            else:
                yield from differences(a, b, path)
    elif isinstance(one, (int, float)) and not isinstance(one, bool):
        yield path, abs(one - other)
    else:
        assert one == other, f"{path}: {one} and {other}"


def scaled(far):
    """A centre is a quotient by a rate of turning that falls with its distance: its error
    grows with the distance's square. One metre counts as near."""
    return max(1.0, (far / 1000.0) ** 2)


def numbers(value):
    """Every number in it, in order."""
    if isinstance(value, dict):
        return [number for inner in value.values() for number in numbers(inner)]
    return [value]

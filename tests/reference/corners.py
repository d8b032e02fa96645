"""Writes corners.json: two invented corners of every layout, and the states they are asked at.

The places are those of a plausible car moved by up to 12 mm by a small generator of
numbers written out below, so that no library's random numbers matter. Each case is one
setup document (one axle) with its states. `corners.json` is the only input of the other
scripts and of the Rust test.
"""

import shared


class Moves:
    """Numbers between -1 and 1: a linear congruence (Numerical Recipes' constants)."""

    def __init__(self, seed):
        self.state = seed

    def number(self):
        self.state = (1664525 * self.state + 1013904223) % 2**32
        return self.state / 2**31 - 1.0

    def point(self, base, by=12.0):
        return [round(x + by * self.number(), 1) for x in base]


def lower_arm(m):
    return {"id": "lower-arm", "front_pivot": m.point([150, 360, 190]), "rear_pivot": m.point([-170, 355, 178]),
            "ball_joint": m.point([6, 735, 172])}


def upper_arm(m):
    return {"id": "upper-arm", "front_pivot": m.point([115, 450, 470]), "rear_pivot": m.point([-125, 455, 452]),
            "ball_joint": m.point([-18, 705, 482])}


def link(m, name, inboard, outboard, steers=False):
    found = {"id": name, "inboard": m.point(inboard), "outboard": m.point(outboard)}
    return {**found, "steers": True} if steers else found


def tie_rod(m, steers=True):
    return link(m, "tie-rod", [-130, 385, 222], [-140, 712, 216], steers)


def lower_links(m):
    return [link(m, "lower-lateral", [-40, 370, 192], [0, 722, 180]),
            link(m, "lower-forward", [345, 430, 186], [70, 726, 178])]


def upper_links(m):
    return [link(m, "upper-front", [150, 440, 480], [14, 700, 486]),
            link(m, "upper-rear", [-185, 446, 462], [-50, 694, 478])]


def strut(m):
    return {"id": "strut", "top_mount": m.point([-34, 566, 830]), "lower_end": m.point([-4, 650, 330])}


def hinge(m, inner):
    return {"id": "hinge", "pivots": [m.point([390, 680, 312]), m.point(inner)]}


LAYOUTS = {
    "two arms": lambda m: {"arms": [lower_arm(m), upper_arm(m)], "links": [tie_rod(m)]},
    "arm and split links": lambda m: {"arms": [upper_arm(m)], "links": [*lower_links(m), tie_rod(m)]},
    "four links and tie rod": lambda m: {"links": [*lower_links(m), *upper_links(m), tie_rod(m)]},
    "five links": lambda m: {"links": [*lower_links(m), *upper_links(m), tie_rod(m, False)]},
    "strut and arm": lambda m: {"strut": strut(m), "arms": [lower_arm(m)], "links": [tie_rod(m)]},
    "strut and links": lambda m: {"strut": strut(m), "links": [*lower_links(m), tie_rod(m)]},
    "semi-trailing": lambda m: {"hinge": hinge(m, [240, 260, 330])},
    "trailing": lambda m: {"hinge": hinge(m, [390, 330, 318])},
}

# What carries spring and damper in the two corners of a layout. A spring "along" the strut
# stands about the strut's own axis.
CARRIERS = {
    "two arms": [("lower-arm", "upper-arm"), ("knuckle", "tie-rod")],
    "arm and split links": [("lower-lateral", "knuckle"), ("upper-arm", "lower-forward")],
    "four links and tie rod": [("lower-lateral", "upper-rear"), ("knuckle", "tie-rod")],
    "five links": [("lower-forward", "knuckle"), ("knuckle", "lower-lateral")],
    "strut and arm": [("along strut", "along strut"), ("lower-arm", "strut")],
    "strut and links": [("strut", "along strut"), ("lower-lateral", "knuckle")],
    "semi-trailing": [("hinge", "knuckle"), ("knuckle", "hinge")],
    "trailing": [("knuckle", "hinge"), ("hinge", "hinge")],
}

REAR = {"five links", "semi-trailing", "trailing"}


def mix(a, b, share):
    return [(1 - share) * x + share * y for x, y in zip(a, b)]


def telescope(m, corner, on):
    """Body end, moving end and carrier of a spring or damper."""
    if on == "along strut":
        top, low = corner["strut"]["top_mount"], corner["strut"]["lower_end"]
        return {"body": top, "carried": [round(x, 3) for x in mix(top, low, 0.6)], "on": "strut"}
    carried = [corner["wheel"]["centre"][0], 690.0, 260.0]
    for arm in corner.get("arms", []):
        if arm["id"] == on:
            carried = mix(mix(arm["front_pivot"], arm["rear_pivot"], 0.5), arm["ball_joint"], 0.65)
    for rod in corner.get("links", []):
        if rod["id"] == on:
            carried = mix(rod["inboard"], rod["outboard"], 0.65)
    carried = m.point(carried)
    return {"body": m.point([carried[0], carried[1] - 50, carried[2] + 330], 25.0), "carried": carried, "on": on}


def moved_back(value, by):
    """The same corner behind by the wheelbase."""
    if isinstance(value, dict):
        return {key: moved_back(inner, by) if key != "rack_direction" else inner for key, inner in value.items()}
    if isinstance(value, list) and len(value) == 3 and all(isinstance(x, (int, float)) for x in value):
        return [round(value[0] - by, 6), *value[1:]]
    if isinstance(value, list):
        return [moved_back(inner, by) for inner in value]
    return value


def case(layout, variant, seed):
    m = Moves(seed)
    corner = LAYOUTS[layout](m)
    corner["wheel"] = {"centre": m.point([0, 790, 312], 6.0), "loaded_radius": round(308 + 4 * m.number(), 1),
                       "camber": round(-0.9 + 1.5 * m.number(), 3), "toe": round(0.6 * m.number(), 3)}
    corner["rack_direction"] = [round(0.08 * m.number(), 3), 1.0, round(0.08 * m.number(), 3)]
    spring, damper = CARRIERS[layout][variant]
    corner["spring"] = {**telescope(m, corner, spring), "rate": 55.0}
    corner["damper"] = telescope(m, corner, damper)
    axle, wheelbase = "front", 2640.0
    if layout in REAR:
        axle, corner = "rear", moved_back(corner, wheelbase)
    steers = any(rod.get("steers") for rod in corner.get("links", []))
    states = [(0, 0), (35, 0), (-60, 0), (20, 15), (-30, -20)] if steers else [(0, 0), (25, 0), (60, 0), (-30, 0), (-60, 0)]
    return {
        "name": f"{layout}, {'second' if variant else 'first'}",
        "axle": axle,
        "states": [{"travel": float(t), "rack": float(r)} for t, r in states],
        "setup": {
            "cornerwise": 1,
            "title": f"Invented corner: {layout}",
            "vehicle": {"wheelbase": wheelbase, "mass": 1480.0, "front_mass_share": 0.52, "cg_height": 505.0,
                        "brake_front_share": 0.66, "drive_front_share": 0.35},
            axle: corner,
        },
    }


def main():
    cases = [case(layout, variant, 1000 + 2 * i + variant)
             for i, layout in enumerate(LAYOUTS) for variant in (0, 1)]
    shared.write("corners.json", {"cases": cases})


if __name__ == "__main__":
    main()

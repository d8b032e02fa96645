"""Forces in every case under loads at the wheel: free bodies and nothing else, by numpy.

Knuckle, arms and links are rigid bodies, each in equilibrium: six equations. The unknowns
are the forces in the joints and the spring's force, which alone holds the wheel up:

- ball joint of an arm: three components; front pivot three; rear pivot the two across the
  pivots' line (what goes along it is shared between the pivots in no definite way; the
  front one is given it all, which changes nothing elsewhere);
- a link: three components at either joint, and a torque that the body gives, since nothing
  else keeps a link from spinning about its length. The torque is about the link's own line.
  Where the spring stands on a link there is a second answer, "smallest_turn": a link
  that goes from its old direction to its new one by the smallest turn cannot spin about the
  line midway between the two, and a torque about that line does no work. Both are the same
  where the link has its old direction, and where the spring stands on the link's line;
- strut: the top mount gives the two components across it; the sliding is free;
- hinge: three components at the first pivot, the two across at the second.

No weights, no friction, no torque in joints or spring ends; the damper gives no force. The
positions are those of `solve_scipy.py`.

Load cases: a force at the contact with the torque reacted by the knuckle ("contact"), the same
at the wheel centre ("centre": all torque leaves through the shaft), and a wheel that rolls
freely ("rolling": the force at the contact without its torque about the spin axis).
"""

import numpy as np

import shared
from solve_scipy import Solver

LOADS = [("contact", [-2300.0, 1400.0, 4100.0]), ("centre", [-2300.0, 1400.0, 4100.0]),
         ("rolling", [-150.0, 2600.0, 3900.0])]
# Which of a case's states.
STATES = (0, 1, 3)
LEVER = 500.0  # mm: moments are divided by this, so that all equations are of one size


def unit(v):
    return v / np.linalg.norm(v)


def across(axis):
    helper = np.eye(3)[np.argmin(np.abs(axis))]
    first = unit(np.cross(axis, helper))
    return [first, np.cross(axis, first)]


class Bodies:
    """Equilibrium of bodies, gathered: a column an unknown, six rows a body."""

    def __init__(self, names):
        self.rows = {name: 6 * i for i, name in enumerate(names)}
        self.columns, self.names = [], []

    def wrench(self, body, place, force, torque=(0.0, 0.0, 0.0)):
        found = np.zeros(6 * len(self.rows))
        if body is not None:
            at = self.rows[body]
            found[at:at + 3] = force
            found[at + 3:at + 6] = (np.cross(place, force) + torque) / LEVER
        return found

    def joint(self, name, place, on, against, ways=np.eye(3)):
        """A force on a body along each way, and its opposite on another (None: the car's body)."""
        for i, way in enumerate(ways):
            self.columns.append(self.wrench(on, place, way) - self.wrench(against, place, way))
            self.names.append((name, i))

    def torque(self, name, on, way):
        self.columns.append(self.wrench(on, np.zeros(3), np.zeros(3), way))
        self.names.append((name, 0))

    def solved(self, load):
        matrix = np.column_stack(self.columns)
        assert matrix.shape[0] == matrix.shape[1], matrix.shape
        sizes = np.linalg.solve(matrix, -load)
        residual = np.abs(matrix @ sizes + load).max()
        return dict(zip(self.names, sizes)), residual, np.linalg.cond(matrix)


def forces(corner, solver, u, rack, load_kind, force, held="own line"):
    arms, links = corner.get("arms", []), corner.get("links", [])
    bodies = Bodies(["knuckle", *(m["id"] for m in [*arms, *links])])
    ways = {}
    # About the wheel centre, or the rear axle's distance would be in every moment.
    origin = solver.place(u, solver.centre)
    def at(point):
        return np.array(point) - origin
    for arm in arms:
        name, axis = arm["id"], unit(np.array(arm["front_pivot"]) - arm["rear_pivot"])
        bodies.joint((name, "ball joint"), solver.place(u, arm["ball_joint"]) - origin, "knuckle", name)
        bodies.joint((name, "front pivot"), at(arm["front_pivot"]), name, None)
        bodies.joint((name, "rear pivot"), at(arm["rear_pivot"]), name, None, across(axis))
    for link in links:
        name, inboard = link["id"], solver.inboard(link, rack) - origin
        outboard = solver.place(u, link["outboard"]) - origin
        ways[name] = unit(outboard - inboard)
        bodies.joint((name, "outboard"), outboard, "knuckle", name)
        bodies.joint((name, "inboard"), inboard, name, None)
        old = unit(np.array(link["outboard"]) - link["inboard"])
        bodies.torque((name, "spin"), name, ways[name] if held == "own line" else unit(old + ways[name]))
    if "strut" in corner:
        top = np.array(corner["strut"]["top_mount"])
        ways["strut"] = across(unit(top - solver.place(u, corner["strut"]["lower_end"])))
        bodies.joint(("strut", "top mount"), top - origin, "knuckle", None, ways["strut"])
    if "hinge" in corner:
        one, two = map(np.array, corner["hinge"]["pivots"])
        ways["hinge"] = across(unit(two - one))
        bodies.joint(("hinge", "first"), one - origin, "knuckle", None)
        bodies.joint(("hinge", "second"), two - origin, "knuckle", None, ways["hinge"])
    spring = corner["spring"]
    carried = solver.carried(u, rack, spring["on"], np.array(spring["carried"]))
    carrier = spring["on"] if spring["on"] in bodies.rows else "knuckle"
    bodies.joint(("spring",), carried - origin, carrier, None, [unit(carried - spring["body"])])

    force, spin, contact = np.array(force), solver.spin(u), solver.contact(u) - origin
    moment = np.cross(contact, force)
    load = {
        "contact": bodies.wrench("knuckle", contact, force),
        "centre": bodies.wrench("knuckle", np.zeros(3), force),
        "rolling": bodies.wrench("knuckle", np.zeros(3), force, moment - (moment @ spin) * spin),
    }[load_kind]
    sizes, residual, condition = bodies.solved(load)

    def three(name, along=np.eye(3)):
        return sum(sizes[name, i] * way for i, way in enumerate(along))
    found = {"spring": sizes[("spring",), 0]}
    if arms:
        found["arms"] = {arm["id"]: three((arm["id"], "ball joint")) for arm in arms}
    if links:
        # A stretched link pulls the knuckle inboard.
        found["links"] = {link["id"]: {
            "tension": -three((link["id"], "outboard")) @ ways[link["id"]],
            "on_knuckle": three((link["id"], "outboard")),
            "on_body": -three((link["id"], "inboard"))} for link in links}
    for link in links:
        if link.get("steers"):
            found["rack_force"] = found["links"][link["id"]]["on_body"] @ solver.rack
    if "strut" in corner:
        found["strut"] = three(("strut", "top mount"), ways["strut"])
    if "hinge" in corner:
        found["hinge"] = [three(("hinge", "first")), three(("hinge", "second"), ways["hinge"])]
    return found, residual, condition


def main():
    results, worst, conditions = [], 0.0, 0.0
    for case, corner in shared.cases():
        solver = Solver(corner)
        for state in (case["states"][i] for i in STATES):
            u = solver.at(state["travel"], state["rack"])
            for kind, force in LOADS:
                found, residual, condition = forces(corner, solver, u, state["rack"], kind, force)
                if corner["spring"]["on"] in [link["id"] for link in corner.get("links", [])]:
                    turned = forces(corner, solver, u, state["rack"], kind, force, held="midway")
                    found["smallest_turn"] = turned[0]
                    residual = max(residual, turned[1])
                worst, conditions = max(worst, residual), max(conditions, condition)
                results.append(shared.rounded(
                    {"case": case["name"], **state, "load": {"at": kind, "force": force}, **found}, 12))
    accuracy = {"equilibrium": shared.rounded(float(worst), 1), "condition": shared.rounded(float(conditions), 2)}
    shared.write("statics.json", {"accuracy": accuracy, "results": results})


if __name__ == "__main__":
    main()

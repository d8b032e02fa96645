"""Poses and forces by a general multibody engine: exudyn, statics with Lagrange multipliers.

Knuckle and arms are the engine's rigid bodies (Euler parameters), ball joints its spherical
joints, pivots and strut its generic joints, links its distance constraints. No equation of a
linkage is written here. Two models a state:

1. Poses: the knuckle's height is prescribed; the answer is where the knuckle is.
2. Forces: assembled where the first model came to rest, with the spring as a distance
   constraint in place of the prescribed height, and loads at the wheel. Multipliers are the
   forces.

Cases whose spring stands on a two-ended link are asked for poses only: there the link would
have to be a body whose spin about its length is held, which the engine has no joint for.
"""

import exudyn as exu
import exudyn.utilities as utilities
import numpy as np

import shared

LOADS = [("contact", [-2300.0, 1400.0, 4100.0]), ("centre", [-2300.0, 1400.0, 4100.0])]
FORCE_STATES = (0, 1, 3)
ZERO = np.zeros(3)


def across(axis):
    """A rotation matrix whose first column is an axis."""
    helper = np.eye(3)[np.argmin(np.abs(axis))]
    first = axis / np.linalg.norm(axis)
    second = np.cross(first, helper)
    second /= np.linalg.norm(second)
    return np.column_stack([first, second, np.cross(first, second)])


def sign_of_tension():
    """The engine's signs, asked of bodies that are pulled down with 10 N: that of tension in
    a distance constraint is returned; the force of a joint must be that on its second item."""
    mbs = exu.SystemContainer().AddSystem()
    ground = mbs.CreateGround()
    inertia = utilities.InertiaCuboid(density=1e-6, sideLengths=[100.0, 100.0, 100.0])
    bodies = []
    for x in (0.0, 1000.0, 2000.0):
        bodies.append(mbs.CreateRigidBody(referencePosition=[x, 0.0, 0.0], inertia=inertia))
        mbs.CreateForce(itemNumber=bodies[-1], loadVector=[0.0, 0.0, -10.0])
    # The first may fall but for the constraint from which it hangs, the others only not turn.
    for body, kept in zip(bodies, ([1, 1, 0, 1, 1, 1], [0, 0, 0, 1, 1, 1], [0, 0, 0, 1, 1, 1])):
        mbs.CreateGenericJoint(itemNumbers=[ground, body], position=[0.0, 0.0, 0.0], constrainedAxes=kept)
    rod = mbs.CreateDistanceConstraint(itemNumbers=[ground, bodies[0]], localPosition0=[0.0, 0.0, 100.0])
    ball = mbs.CreateSphericalJoint(itemNumbers=[ground, bodies[1]], position=[1000.0, 0.0, 0.0])
    generic = mbs.CreateGenericJoint(itemNumbers=[bodies[2], ground], position=[2000.0, 0.0, 0.0],
                                     constrainedAxes=[1, 1, 1, 0, 0, 0])
    solved(mbs, 1)
    rod, ball, generic = (np.array(mbs.GetObjectOutput(joint, kind)) for joint, kind in (
        (rod, exu.OutputVariableType.Force), (ball, exu.OutputVariableType.Force),
        (generic, exu.OutputVariableType.ForceLocal)))
    assert np.allclose(abs(rod), 10.0, atol=1e-9), rod
    assert np.allclose(ball, [0.0, 0.0, 10.0], atol=1e-9), ball
    assert np.allclose(generic, [0.0, 0.0, -10.0], atol=1e-9), generic
    return float(np.sign(rod))


def solved(mbs, steps):
    mbs.Assemble()
    settings = exu.SimulationSettings()
    static = settings.staticSolver
    static.numberOfLoadSteps = steps
    static.verboseMode = 0
    static.newton.relativeTolerance = 1e-14
    static.newton.absoluteTolerance = 1e-9
    static.newton.maxIterations = 60
    settings.solution.file.write = False
    assert mbs.SolveStatic(settings), "the engine has no solution"


class Model:
    """One corner in the engine; points are moved by `place` (name of the body, point)."""

    def __init__(self, corner, rack, place):
        self.mbs = exu.SystemContainer().AddSystem()
        self.ground = self.mbs.CreateGround()
        inertia = utilities.InertiaCuboid(density=1e-6, sideLengths=[100.0, 100.0, 100.0])
        self.reference, self.bodies, self.joints = {}, {}, {}

        def body(name, point):
            self.reference[name] = np.array(point)
            self.bodies[name] = self.mbs.CreateRigidBody(referencePosition=list(point), inertia=inertia)

        centre = place("knuckle", corner["wheel"]["centre"])
        body("knuckle", centre)
        for arm in corner.get("arms", []):
            name, joint = arm["id"], place("knuckle", arm["ball_joint"])
            front, rear = np.array(arm["front_pivot"]), np.array(arm["rear_pivot"])
            body(name, (front + rear + joint) / 3)
            turn = across(front - rear)
            # All three at the front, the two across the line of the pivots at the rear.
            for point, kept in ((front, [1, 1, 1, 0, 0, 0]), (rear, [0, 1, 1, 0, 0, 0])):
                self.mbs.CreateGenericJoint(itemNumbers=[self.ground, self.bodies[name]], position=list(point),
                                            rotationMatrixAxes=turn, constrainedAxes=kept)
            self.joints[name] = self.mbs.CreateSphericalJoint(
                itemNumbers=[self.bodies[name], self.bodies["knuckle"]], position=list(joint))
        rack_way = np.array(corner["rack_direction"]) / np.linalg.norm(corner["rack_direction"])
        for link in corner.get("links", []):
            inboard = np.array(link["inboard"]) + (rack * rack_way if link.get("steers") else 0.0)
            length = np.linalg.norm(np.array(link["outboard"]) - link["inboard"])
            self.joints[link["id"]] = self.distance(inboard, "knuckle", place("knuckle", link["outboard"]), length)
        if "strut" in corner:
            top = np.array(corner["strut"]["top_mount"])
            turn = across(top - place("knuckle", corner["strut"]["lower_end"]))
            # The knuckle's own line slides through the mount.
            self.strut_turn = turn
            self.joints["strut"] = self.mbs.CreateGenericJoint(
                itemNumbers=[self.bodies["knuckle"], self.ground], position=list(top), rotationMatrixAxes=turn,
                constrainedAxes=[0, 1, 1, 0, 0, 0])
        if "hinge" in corner:
            one, two = map(np.array, corner["hinge"]["pivots"])
            for point, kept in ((one, [1, 1, 1, 0, 0, 0]), (two, [0, 1, 1, 0, 0, 0])):
                self.mbs.CreateGenericJoint(itemNumbers=[self.ground, self.bodies["knuckle"]], position=list(point),
                                            rotationMatrixAxes=across(two - one), constrainedAxes=kept)

    def distance(self, from_point, body, to_point, length=None):
        return self.mbs.CreateDistanceConstraint(
            itemNumbers=[self.ground, self.bodies[body]], localPosition0=list(from_point),
            localPosition1=list(to_point - self.reference[body]), distance=length)

    def turned(self, name):
        output = self.mbs.GetObjectOutputBody(self.bodies[name], exu.OutputVariableType.RotationMatrix)
        return np.array(output).reshape(3, 3)

    def at(self, name, offset=ZERO):
        return np.array(self.mbs.GetObjectOutputBody(self.bodies[name], exu.OutputVariableType.Position, list(offset)))


def pose(corner, travel, rack):
    model = Model(corner, rack, lambda _, point: np.array(point))
    node = model.mbs.GetObject(model.bodies["knuckle"])["nodeNumber"]
    model.mbs.CreateCoordinateConstraint(
        itemNumbers=[model.ground, node], coordinates=[None, 2],
        offsetUserFunction=lambda mbs, t, item, offset: t * travel)
    solved(model.mbs, steps=8)
    return model


def forces(corner, posed, rack, contact, kind, force):
    """The corner assembled as it came to rest, on its spring, with a load."""
    def place(name, point):
        return posed.at(name, np.array(point) - posed.reference[name])
    model = Model(corner, rack, place)
    spring = corner["spring"]
    carrier = spring["on"] if spring["on"] in posed.bodies else "knuckle"
    body = np.array(spring["body"])
    carried = place(carrier, spring["carried"])
    held = model.distance(body, carrier, carried)
    at = contact - model.reference["knuckle"] if kind == "contact" else ZERO
    model.mbs.CreateForce(itemNumber=model.bodies["knuckle"], loadVector=force, localPosition=list(at))
    solved(model.mbs, steps=1)

    def output(joint, kind_of=exu.OutputVariableType.Force):
        return np.array(model.mbs.GetObjectOutput(joint, kind_of))
    tension = sign_of_tension()
    found = {"spring": -tension * float(output(held))}
    if corner.get("arms"):
        found["arms"] = {arm["id"]: output(model.joints[arm["id"]]) for arm in corner["arms"]}
    if corner.get("links"):
        found["links"] = {link["id"]: tension * float(output(model.joints[link["id"]])) for link in corner["links"]}
    if "strut" in corner:
        # The knuckle is the joint's first item.
        found["strut"] = -model.strut_turn @ output(model.joints["strut"], exu.OutputVariableType.ForceLocal)
    moved = np.abs(model.at("knuckle") - model.reference["knuckle"]).max()
    return found, moved


def contact_of(corner, centre, turn):
    """The lowest point of the loaded disc."""
    camber, toe = np.radians([corner["wheel"]["camber"], corner["wheel"]["toe"]])
    spin = turn @ [np.cos(camber) * np.sin(toe), np.cos(camber) * np.cos(toe), -np.sin(camber)]
    down = spin[2] * spin - [0, 0, 1]
    return centre + corner["wheel"]["loaded_radius"] * down / np.linalg.norm(down)


def main():
    results, largest = [], 0.0
    for case, corner in shared.cases():
        for index, state in enumerate(case["states"]):
            posed = pose(corner, state["travel"], state["rack"])
            centre, turn = posed.at("knuckle"), posed.turned("knuckle")
            result = {"case": case["name"], **state, "wheel_centre": centre, "rotation": turn}
            on_a_link = corner["spring"]["on"] in [link["id"] for link in corner.get("links", [])]
            if index in FORCE_STATES and not on_a_link:
                result["forces"] = []
                for kind, force in LOADS:
                    found, moved = forces(corner, posed, state["rack"], contact_of(corner, centre, turn), kind, force)
                    largest = max(largest, moved)
                    result["forces"].append({"load": {"at": kind, "force": force}, **found})
            results.append(shared.rounded(result, 14))
    shared.write("exudyn.json", {"moved_under_load": shared.rounded(float(largest), 1), "results": results})


if __name__ == "__main__":
    main()

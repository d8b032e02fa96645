"""Every reading of every case by automatic differentiation with casadi.

The knuckle's pose is a quaternion and a displacement; the constraints are squares of
lengths, dot products and kept points, derived by casadi; how the pose changes with travel and rack is one
linear solve of the constraints' Jacobian (the implicit function theorem). Everything
read off a position is a casadi expression of pose, travel and rack, so that its rate is
derived, not programmed. Written from the definitions of the readings, not from the program.

Beside the readings stand the twists of both motions, as rates of turning [rad/mm] and the
velocity [mm/mm] of the knuckle point at the origin. Accuracy: that of double precision;
the largest closure error in mm is written beside the answers.
"""

import casadi as ca
import numpy as np

import shared

DEGREES = 180 / np.pi


def vector(values):
    return ca.DM(list(map(float, values)))


def square(v):
    return ca.dot(v, v)


def unit(v):
    return v / ca.norm_2(v)


def turned(q, v):
    """A vector turned by a unit quaternion (scalar first)."""
    return v + 2 * ca.cross(q[1:], ca.cross(q[1:], v) + q[0] * v)


def any_square(axis):
    helper = np.eye(3)[np.argmin(np.abs(axis))]
    first = np.cross(axis, helper)
    first /= np.linalg.norm(first)
    return first, np.cross(axis, first)


class Model:
    def __init__(self, case, corner):
        self.steers = any(link.get("steers") for link in corner.get("links", []))
        wheel = corner["wheel"]
        centre = vector(wheel["centre"])
        rack_way = unit(vector(corner.get("rack_direction", [0, 1, 0])))
        pose, state = ca.SX.sym("pose", 7), ca.SX.sym("state", 2)
        q, travel, rack = pose[:4], state[0], state[1]
        now = centre + pose[4:]

        def carry(point):
            return now + turned(q, vector(point) - centre)

        def inboard(link):
            return vector(link["inboard"]) + (rack * rack_way if link.get("steers") else 0)

        kept = [square(q) - 1]
        for arm in corner.get("arms", []):
            for pivot in (vector(arm["front_pivot"]), vector(arm["rear_pivot"])):
                kept.append((square(carry(arm["ball_joint"]) - pivot) - square(vector(arm["ball_joint"]) - pivot)) / 500)
        for link in corner.get("links", []):
            kept.append((square(carry(link["outboard"]) - inboard(link))
                         - square(vector(link["outboard"]) - vector(link["inboard"]))) / 500)
        if "strut" in corner:
            top, low = vector(corner["strut"]["top_mount"]), vector(corner["strut"]["lower_end"])
            for normal in any_square(np.array(unit(top - low)).ravel()):
                kept.append(ca.dot(turned(q, vector(normal)), top - carry(corner["strut"]["lower_end"])))
        if "hinge" in corner:
            one, two = map(vector, corner["hinge"]["pivots"])
            moved = carry(corner["hinge"]["pivots"][0]) - one
            kept += [moved[0], moved[1], moved[2]]
            for normal in any_square(np.array(unit(two - one)).ravel()):
                kept.append(ca.dot(vector(normal), carry(corner["hinge"]["pivots"][1]) - two))
        kept.append(pose[6] - travel)
        kept = ca.vertcat(*kept)
        assert kept.shape == (7, 1), kept.shape

        gamma, delta = wheel["camber"] / DEGREES, wheel["toe"] / DEGREES
        spin = turned(q, ca.DM([np.sin(delta) * np.cos(gamma), np.cos(delta) * np.cos(gamma), -np.sin(gamma)]))
        contact = now + wheel["loaded_radius"] * unit(ca.cross(spin, ca.cross(ca.DM([0, 0, 1]), spin)) * -1)

        def carried(unit_):
            on, point = unit_["on"], vector(unit_["carried"])
            for arm in corner.get("arms", []):
                if arm["id"] == on:
                    front, rear, joint = (vector(arm[k]) for k in ("front_pivot", "rear_pivot", "ball_joint"))
                    axis = unit(rear - front)
                    foot = front + ca.dot(joint - front, axis) * axis
                    # Turned about the axis by what turns the ball joint.
                    old, new = joint - foot, carry(arm["ball_joint"]) - foot
                    old, new = old / ca.norm_2(old), new / ca.norm_2(joint - foot)
                    cosine, sine = ca.dot(old, new), ca.dot(axis, ca.cross(old, new))
                    v = point - foot
                    return (foot + cosine * v + sine * ca.cross(axis, v)
                            + (1 - cosine) * ca.dot(axis, v) * axis)
            for link in corner.get("links", []):
                if link["id"] == on:
                    old = unit(vector(link["outboard"]) - vector(link["inboard"]))
                    new = unit(carry(link["outboard"]) - inboard(link))
                    # Two half turns, about the old direction and the bisector, are the smallest turn.
                    v, middle = point - vector(link["inboard"]), unit(old + new)
                    half = 2 * ca.dot(old, v) * old - v
                    return inboard(link) + 2 * ca.dot(middle, half) * middle - half
            return carry(unit_["carried"])

        lengths = [ca.norm_2(carried(corner[which]) - vector(corner[which]["body"])) for which in ("spring", "damper")]
        angles = [-ca.asin(spin[2]) * DEGREES, ca.atan2(spin[0], spin[1]) * DEGREES]
        rotation = ca.horzcat(*[turned(q, ca.DM(e)) for e in np.eye(3).tolist()])
        told = ca.vertcat(*angles, *lengths, now, contact, spin, ca.vec(rotation))

        solved = -ca.solve(ca.jacobian(kept, pose), ca.jacobian(kept, state))
        along = ca.jacobian(told, pose) @ solved + ca.jacobian(told, state)
        self.equations = ca.Function("kept", [pose, state], [kept, ca.jacobian(kept, pose)])
        self.told = ca.Function("told", [pose, state], [told, along])
        self.case, self.corner = case, corner
        self.design = np.array([1.0, 0, 0, 0, 0, 0, 0])

    def solved(self, travel, rack):
        pose = self.design
        for share in np.linspace(0, 1, 9)[1:]:
            state = [share * travel, share * rack]
            for _ in range(8):
                kept, jacobian = self.equations(pose, state)
                pose = pose - np.linalg.solve(np.array(jacobian), np.array(kept).ravel())
        return pose, float(np.abs(np.array(self.equations(pose, state)[0])).max())

    def readings(self, travel, rack):
        pose, error = self.solved(travel, rack)
        told, along = (np.array(found) for found in self.told(pose, [travel, rack]))
        told = told.ravel()
        centre, contact, spin = told[4:7], told[7:10], told[10:13]
        rotation = told[13:22].reshape(3, 3, order="F")

        def twist(column):
            rate = along[13:22, column].reshape(3, 3, order="F") @ rotation.T
            turning = np.array([rate[2, 1] - rate[1, 2], rate[0, 2] - rate[2, 0], rate[1, 0] - rate[0, 1]]) / 2
            return turning, along[4:7, column] - np.cross(turning, centre)

        w, v = twist(0)
        at_contact, at_hub = v + np.cross(w, contact), v + np.cross(w, centre)
        slope_x, slope_y, hub_x = at_contact[0] / at_contact[2], at_contact[1] / at_contact[2], at_hub[0] / at_hub[2]
        vehicle = self.case["setup"]["vehicle"]
        rear = self.case["axle"] == "rear"
        lever = 100 * vehicle["wheelbase"] / vehicle["cg_height"] * (-1 if rear else 1)
        brake, drive = ((1 - s if rear else s) for s in (vehicle["brake_front_share"], vehicle["drive_front_share"]))
        at_design = np.array(self.told(self.design, [0, 0])[0]).ravel()
        found = {
            "camber": told[0], "toe": told[1], "wheel_centre": centre, "contact": contact,
            "half_track_change": contact[1] - at_design[8], "wheelbase_change": centre[0] - at_design[4],
            "camber_gain": along[0, 0], "bump_steer": along[1, 0],
            # v + w × p has neither y nor z: solved for the two coordinates.
            "front_view_centre": [(w[1] * centre[0] - v[2]) / w[0], (v[1] + w[2] * centre[0]) / w[0]],
            "side_view_centre": [(v[2] + w[0] * centre[1]) / w[1], (w[2] * centre[1] - v[0]) / w[1]],
            "contact_slope_x": slope_x, "contact_slope_y": slope_y, "hub_slope_x": hub_x,
            "roll_centre_height": contact[1] * slope_y,
            "spring_length": told[2], "spring_motion_ratio": -along[2, 0],
            "damper_length": told[3], "damper_motion_ratio": -along[3, 0],
            "anti": {"braking_friction": lever * brake * slope_x, "braking_shaft": lever * brake * hub_x,
                     "driving_shaft": lever * drive * hub_x, "driving_hub": lever * drive * slope_x},
            **dict.fromkeys(["kingpin_inclination", "caster", "scrub_radius", "mechanical_trail", "hub_offset",
                             "hub_trail", "steering_axis", "screw_pitch"]),
        }
        if self.steers:
            # Rack and as much travel as keeps the spring's length.
            share = -along[2, 1] / along[2, 0]
            turning, moving = (a + share * b for a, b in zip(twist(1), twist(0)))
            size = turning @ turning
            axis = turning / np.sqrt(size) * np.sign(turning[2])
            nearest = np.cross(turning, moving) / size
            ground, hub = (nearest + (z - nearest[2]) / axis[2] * axis for z in (contact[2], centre[2]))
            outward = np.array([spin[0], spin[1], 0.0]) / np.hypot(spin[0], spin[1])
            heading = np.array([outward[1], -outward[0], 0.0])
            found |= {
                "kingpin_inclination": np.arctan2(-axis[1], axis[2]) * DEGREES,
                "caster": np.arctan2(-axis[0], axis[2]) * DEGREES,
                "scrub_radius": outward @ (contact - ground), "mechanical_trail": heading @ (ground - contact),
                "hub_offset": outward @ (centre - hub), "hub_trail": heading @ (hub - centre),
                "steering_axis": {"point": ground, "direction": axis}, "screw_pitch": turning @ moving / size,
            }
        twists = {name: dict(zip(("angular", "linear"), twist(i))) for i, name in enumerate(("travel", "rack"))}
        return found, twists, error


def main():
    results, closure = [], 0.0
    for case, corner in shared.cases():
        model = Model(case, corner)
        for state in case["states"]:
            readings, twists, error = model.readings(state["travel"], state["rack"])
            closure = max(closure, error)
            results.append(shared.rounded({"case": case["name"], **state, "readings": readings, "twists": twists}, 17))
    shared.write("casadi.json", {"closure": shared.rounded(closure, 1), "results": results})


if __name__ == "__main__":
    main()

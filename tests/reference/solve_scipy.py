"""Every reading of every case from positions alone, by scipy's least squares.

Nothing here knows of twists, rows or derivatives of constraints: positions are solved from
lengths (rotation vector, displacement, slide of a strut), rates are central differences of
solved positions, extrapolated to no step (Richardson), and the steering axis is the screw
of a finite displacement with the spring at its length, extrapolated likewise. Written from
the definitions of the readings, not from the program.

Accuracy: each reading is made twice, from the last two columns of the extrapolation; their
largest difference per reading is written beside the answers.
"""

import sys

import numpy as np
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

import shared

SCALE = 256.0  # mm: turns the rotation vector into numbers of the size of the others
STEPS = (2.0, 1.0, 0.5)  # mm of travel or rack
UP = np.array([0.0, 0.0, 1.0])


class Solver:
    def __init__(self, corner):
        self.corner = corner
        self.centre = np.array(corner["wheel"]["centre"])
        rack = np.array(corner.get("rack_direction", [0.0, 1.0, 0.0]))
        self.rack = rack / np.linalg.norm(rack)
        camber, toe = corner["wheel"]["camber"], corner["wheel"]["toe"]
        # Top outward is a turn back about x, front inward one back about z.
        self.wheel = Rotation.from_euler("z", -toe, degrees=True) * Rotation.from_euler("x", -camber, degrees=True)
        self.strut = corner.get("strut")
        self.unknowns = 7 if self.strut else 6
        self.start = np.zeros(self.unknowns)
        if self.strut:
            top, low = np.array(self.strut["top_mount"]), np.array(self.strut["lower_end"])
            self.along_strut = (top - low) / np.linalg.norm(top - low)
            self.start[6] = np.linalg.norm(top - low)

    def place(self, u, point):
        """Where a knuckle point is."""
        return self.centre + u[3:6] + Rotation.from_rotvec(u[:3] / SCALE).apply(np.array(point) - self.centre)

    def inboard(self, link, rack):
        return np.array(link["inboard"]) + (rack * self.rack if link.get("steers") else 0.0)

    def residuals(self, u, rack):
        """Lengths kept, mm."""
        found = []
        for arm in self.corner.get("arms", []):
            joint, joint_now = np.array(arm["ball_joint"]), self.place(u, arm["ball_joint"])
            for pivot in (arm["front_pivot"], arm["rear_pivot"]):
                found.append(np.linalg.norm(joint_now - pivot) - np.linalg.norm(joint - pivot))
        for link in self.corner.get("links", []):
            length = np.linalg.norm(np.array(link["outboard"]) - np.array(link["inboard"]))
            found.append(np.linalg.norm(self.place(u, link["outboard"]) - self.inboard(link, rack)) - length)
        if self.strut:
            along = Rotation.from_rotvec(u[:3] / SCALE).apply(self.along_strut)
            found.extend(self.place(u, self.strut["lower_end"]) + u[6] * along - self.strut["top_mount"])
        if "hinge" in self.corner:
            for pivot in self.corner["hinge"]["pivots"]:
                found.extend(self.place(u, pivot) - pivot)
        return found

    def solved(self, start, rack, last):
        """The unknowns at a rack, where `last(u)`, a length, vanishes too."""
        def function(u):
            return np.array([*self.residuals(u, rack), last(u)])
        u = least_squares(function, start, jac="3-point", method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15).x
        # The last digits: Newton with a Jacobian that is good to eight.
        jacobian = np.empty((len(function(u)), len(u)))
        for i in range(len(u)):
            step = np.zeros(len(u))
            step[i] = 0.01
            jacobian[:, i] = (function(u + step) - function(u - step)) / 0.02
        for _ in range(3):
            u = u - np.linalg.lstsq(jacobian, function(u), rcond=None)[0]
        error = np.abs(function(u)).max()
        assert error < 2e-12, f"closed to {error} mm only"
        return u

    def at(self, travel, rack, start=None):
        if start is None:
            u = self.start
            for share in np.linspace(0, 1, 6)[1:]:
                u = self.at(share * travel, share * rack, u)
            return u
        return self.solved(start, rack, lambda u: u[5] - travel)

    # What is read off one position.

    def spin(self, u):
        return (Rotation.from_rotvec(u[:3] / SCALE) * self.wheel).apply([0.0, 1.0, 0.0])

    def up_the_wheel(self, u):
        """The steepest line in the wheel plane."""
        spin = self.spin(u)
        line = UP - (UP @ spin) * spin
        return line / np.linalg.norm(line)

    def camber(self, u):
        line, spin = self.up_the_wheel(u), self.spin(u)
        outward = np.array([spin[0], spin[1], 0.0])
        return np.degrees(np.arctan2(line @ outward / np.linalg.norm(outward), line[2]))

    def toe(self, u):
        heading = np.cross(self.spin(u), UP)
        return np.degrees(np.arctan2(-heading[1], heading[0]))

    def contact(self, u):
        return self.place(u, self.centre) - self.corner["wheel"]["loaded_radius"] * self.up_the_wheel(u)

    def length(self, u, rack, which):
        unit = self.corner[which]
        return np.linalg.norm(self.carried(u, rack, unit["on"], np.array(unit["carried"])) - unit["body"])

    def carried(self, u, rack, on, point):
        for arm in self.corner.get("arms", []):
            if arm["id"] == on:
                front, rear = np.array(arm["front_pivot"]), np.array(arm["rear_pivot"])

                def frame(joint):
                    first = (rear - front) / np.linalg.norm(rear - front)
                    third = np.cross(first, joint - front)
                    third /= np.linalg.norm(third)
                    return np.column_stack([first, np.cross(third, first), third])
                turn = frame(self.place(u, arm["ball_joint"])) @ frame(np.array(arm["ball_joint"])).T
                return front + turn @ (point - front)
        for link in self.corner.get("links", []):
            if link["id"] == on:
                old = np.array(link["outboard"]) - link["inboard"]
                inboard = self.inboard(link, rack)
                new = self.place(u, link["outboard"]) - inboard
                axis = np.cross(old, new)
                size = np.linalg.norm(axis)
                # The smallest turn is about the normal of both directions.
                angle = np.arctan2(size, old @ new)
                turn = Rotation.from_rotvec(angle / size * axis) if size > 0 else Rotation.identity()
                return inboard + turn.apply(point - link["inboard"])
        return self.place(u, point)


def extrapolated(function):
    """The limit of an even function of the step: the last column of Richardson's table for
    three halved steps, and the last but one."""
    coarse, middle, fine = (np.array(function(step)) for step in STEPS)
    first, second = (4 * middle - coarse) / 3, (4 * fine - middle) / 3
    return (16 * second - first) / 15, second


def rates(pair_of):
    """Derivatives of what `pair_of(step)` gives at plus and minus a step."""
    def difference(step):
        plus, minus = pair_of(step)
        return (np.array(plus) - np.array(minus)) / (2 * step)
    return extrapolated(difference)


def finite_screw(solver, before, after, heights):
    """Direction, pitch and points at two heights of the screw between two positions."""
    turn = Rotation.from_rotvec(after[:3] / SCALE) * Rotation.from_rotvec(before[:3] / SCALE).inv()
    vector = turn.as_rotvec()
    angle = np.linalg.norm(vector)
    axis = vector / angle * np.sign(vector[2])
    # Displacement of the space point that the knuckle carries through the origin.
    from_origin = after[3:6] + solver.centre - turn.apply(before[3:6] + solver.centre)
    advance = from_origin @ (vector / angle)
    # A point of the axis only advances: (1 - turn) p = displacement across the axis.
    matrix = np.vstack([np.eye(3) - turn.as_matrix(), axis])
    right = np.append(from_origin - advance * vector / angle, 0.0)
    point = np.linalg.lstsq(matrix, right, rcond=None)[0]
    at_heights = [point + (z - point[2]) / axis[2] * axis for z in heights]
    return np.concatenate([axis, [advance / angle], *at_heights])


def across(velocity_of, origin, directions, rows):
    """The point of a plane, in its coordinates, at which two components of velocity vanish."""
    base = velocity_of(origin)[rows]
    columns = [(velocity_of(origin + 100.0 * d)[rows] - base) / 100.0 for d in directions]
    return np.linalg.solve(np.column_stack(columns), -base)


def answers(case, corner, solver, state, design):
    travel, rack = state["travel"], state["rack"]
    u = solver.at(travel, rack)
    centre, contact, spin = solver.place(u, solver.centre), solver.contact(u), solver.spin(u)

    # A material point of the knuckle is named by where it was in the design position.
    rotation = Rotation.from_rotvec(u[:3] / SCALE)
    def was(point):
        return solver.centre + rotation.inv().apply(point - centre)
    def all_of(v, rack_there=rack):
        return np.concatenate([
            Rotation.from_rotvec(v[:3] / SCALE).as_matrix().ravel(), v[3:6],
            [solver.camber(v), solver.toe(v), solver.length(v, rack_there, "spring"),
             solver.length(v, rack_there, "damper")]])
    in_travel = rates(lambda h: [all_of(solver.at(travel + s * h, rack, u)) for s in (1, -1)])

    steering = (None, None)
    if any(link.get("steers") for link in corner.get("links", [])):
        kept = solver.length(u, rack, "spring")
        def steered(by):
            return solver.solved(u, rack + by, lambda v: solver.length(v, rack + by, "spring") - kept)
        steering = extrapolated(
            lambda h: finite_screw(solver, steered(-h), steered(h), (contact[2], centre[2])))

    def told(rate, screw):
        turning, moving = rate[:9].reshape(3, 3), rate[9:12]
        def velocity_of(point):
            return moving + turning @ (was(point) - solver.centre)
        at_contact, at_hub = velocity_of(contact), velocity_of(centre)
        x, y, z = np.eye(3)
        slope_x, slope_y, hub_x = at_contact[0] / at_contact[2], at_contact[1] / at_contact[2], at_hub[0] / at_hub[2]
        vehicle = case["setup"]["vehicle"]
        def anti(slope, share_in_front):
            share, sign = (share_in_front, 1) if case["axle"] == "front" else (1 - share_in_front, -1)
            return sign * 100 * share * vehicle["wheelbase"] / vehicle["cg_height"] * slope
        brake, drive = vehicle["brake_front_share"], vehicle["drive_front_share"]
        # The line through the contact square to its velocity in front view, at y = 0.
        to_middle = at_contact[1] / at_contact[2] * contact[1]
        found = {
            "camber": solver.camber(u), "toe": solver.toe(u), "wheel_centre": centre, "contact": contact,
            "half_track_change": contact[1] - design["contact"][1],
            "wheelbase_change": centre[0] - design["centre"][0],
            "camber_gain": rate[12], "bump_steer": rate[13],
            "front_view_centre": across(velocity_of, x * centre[0], [y, z], [1, 2]),
            "side_view_centre": across(velocity_of, y * centre[1], [x, z], [0, 2]),
            "contact_slope_x": slope_x, "contact_slope_y": slope_y, "hub_slope_x": hub_x,
            "roll_centre_height": to_middle,
            "spring_length": solver.length(u, rack, "spring"), "spring_motion_ratio": -rate[14],
            "damper_length": solver.length(u, rack, "damper"), "damper_motion_ratio": -rate[15],
            "anti": {"braking_friction": anti(slope_x, brake), "braking_shaft": anti(hub_x, brake),
                     "driving_shaft": anti(hub_x, drive), "driving_hub": anti(slope_x, drive)},
        }
        names = ["kingpin_inclination", "caster", "scrub_radius", "mechanical_trail", "hub_offset", "hub_trail",
                 "steering_axis", "screw_pitch"]
        if screw is None:
            return {**found, **dict.fromkeys(names)}
        axis, pitch, ground, hub = screw[:3], screw[3], screw[4:7], screw[7:10]
        outward = np.array([spin[0], spin[1], 0.0]) / np.hypot(spin[0], spin[1])
        heading = np.cross(outward, UP)
        steering_values = [
            np.degrees(np.arctan2(-axis[1], axis[2])), np.degrees(np.arctan2(-axis[0], axis[2])),
            (contact - ground) @ outward, (ground - contact) @ heading,
            (centre - hub) @ outward, (hub - centre) @ heading,
            {"point": ground, "direction": axis}, pitch]
        return {**found, **dict(zip(names, steering_values))}

    return told(in_travel[0], steering[0]), told(in_travel[1], steering[1])


def main():
    results, accuracy = [], {}
    for case, corner in shared.cases():
        solver = Solver(corner)
        at_design = solver.at(0.0, 0.0, solver.start)
        design = {"contact": solver.contact(at_design), "centre": solver.place(at_design, solver.centre)}
        for state in case["states"]:
            readings, coarser = (shared.rounded(found, 16) for found in answers(case, corner, solver, state, design))
            for name, difference in shared.differences(readings, coarser):
                accuracy[name] = max(accuracy.get(name, 0.0), difference)
            results.append({"case": case["name"], **state, "readings": shared.rounded(readings)})
        print(case["name"], file=sys.stderr)
    shared.write("scipy.json", {"accuracy": shared.rounded(accuracy, 2), "results": results})


if __name__ == "__main__":
    main()

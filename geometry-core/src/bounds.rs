//! Every range and every tolerance, with its unit and its wording, declared once.
//!
//! A number from outside is checked against one of the [`Bound`]s, at the edge, and
//! the error says the field, the value and what is allowed. A tolerance is a constant
//! here, with its unit in its documentation, or it does not exist.

use alloc::string::String;
use core::fmt;

/// A closed range that a number from outside must lie in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// Least allowed value.
    pub least: f64,
    /// Greatest allowed value.
    pub most: f64,
    /// Unit, as a person writes it; empty for a share.
    pub unit: &'static str,
}

impl Bound {
    const fn new(least: f64, most: f64, unit: &'static str) -> Self {
        Self { least, most, unit }
    }

    /// Whether the value lies in the range; never for NaN.
    #[must_use]
    pub fn allows(&self, value: f64) -> bool {
        self.least <= value && value <= self.most
    }

    /// Checks a value from outside.
    ///
    /// # Errors
    /// [`OutOfBounds`] with the field, the value and this range.
    pub fn check(&self, field: &str, value: f64) -> Result<f64, OutOfBounds> {
        if self.allows(value) {
            Ok(value)
        } else {
            Err(OutOfBounds { field: field.into(), value, bound: *self })
        }
    }
}

/// A coordinate of a point. Twenty metres reach over any road vehicle from any origin.
pub const COORDINATE: Bound = Bound::new(-20_000.0, 20_000.0, "mm");
/// Radius of the loaded wheel, hub to ground.
pub const LOADED_RADIUS: Bound = Bound::new(50.0, 2_000.0, "mm");
/// Camber and toe as set.
pub const WHEEL_ANGLE: Bound = Bound::new(-45.0, 45.0, "°");
/// A component of the rack's direction.
pub const DIRECTION: Bound = Bound::new(-1e6, 1e6, "");
/// Spring rate.
pub const SPRING_RATE: Bound = Bound::new(0.01, 10_000.0, "N/mm");
/// Length of a spring without load.
pub const FREE_LENGTH: Bound = Bound::new(1.0, 20_000.0, "mm");
/// Rate of an anti-roll bar or a torsion bar.
pub const TWIST_RATE: Bound = Bound::new(0.01, 100_000.0, "N·m/°");
/// Width of a rim between its flanges.
pub const RIM_WIDTH: Bound = Bound::new(40.0, 800.0, "mm");
/// A distance along the hub axis.
pub const RIM_OFFSET: Bound = Bound::new(-300.0, 300.0, "mm");
/// Diameter of a brake disc.
pub const DISC_DIAMETER: Bound = Bound::new(50.0, 1_000.0, "mm");
/// Thickness of a brake disc.
pub const DISC_THICKNESS: Bound = Bound::new(1.0, 200.0, "mm");
/// Mass of one part that moves with the wheel.
pub const PART_MASS: Bound = Bound::new(0.0, 2_000.0, "kg");
/// Modulus of shear of a spring's material.
pub const SHEAR_MODULUS: Bound = Bound::new(100.0, 1e6, "N/mm²");
/// Diameter of a spring's wire or of a bar.
pub const WIRE: Bound = Bound::new(0.1, 200.0, "mm");
/// Mean diameter of a spring's coils.
pub const COIL_DIAMETER: Bound = Bound::new(1.0, 1_000.0, "mm");
/// Coils of a spring that give way.
pub const ACTIVE_COILS: Bound = Bound::new(0.1, 1_000.0, "");
/// Length of a bar that is twisted.
pub const BAR_LENGTH: Bound = Bound::new(1.0, 10_000.0, "mm");
/// Distance from straight ahead to a lock.
pub const LOCK: Bound = Bound::new(1.0, 1_000.0, "mm");
/// Distance from travel 0 to a stop.
pub const WHEEL_LIMIT: Bound = Bound::new(1.0, 2_000.0, "mm");
/// Distance between the axles.
pub const WHEELBASE: Bound = Bound::new(200.0, 20_000.0, "mm");
/// Mass of the car.
pub const MASS: Bound = Bound::new(10.0, 100_000.0, "kg");
/// Height of the centre of gravity above the ground.
pub const CG_HEIGHT: Bound = Bound::new(10.0, 5_000.0, "mm");
/// A share of a whole.
pub const SHARE: Bound = Bound::new(0.0, 1.0, "");
/// Vertical displacement of the wheel centre against the body.
pub const TRAVEL: Bound = Bound::new(-2_000.0, 2_000.0, "mm");
/// Displacement of the rack.
pub const RACK: Bound = Bound::new(-1_000.0, 1_000.0, "mm");
/// How far the body leans.
pub const ROLL: Bound = Bound::new(-30.0, 30.0, "°");
/// Lateral acceleration.
pub const LATERAL_ACCELERATION: Bound = Bound::new(-10.0, 10.0, "g");
/// Rate of a wheel against the body.
pub const WHEEL_RATE: Bound = Bound::new(1e-3, 100_000.0, "N/mm");
/// Rate of an axle against the body's roll.
pub const ROLL_RATE: Bound = Bound::new(0.0, 1e6, "N·m/°");
/// An adjustment or another change of a length that is applied to a corner.
pub const LENGTH_CHANGE: Bound = Bound::new(-200.0, 200.0, "mm");
/// How far off a measured length may be.
pub const LENGTH_DOUBT: Bound = Bound::new(0.0, 100.0, "mm");
/// How far off a measured angle of the wheel may be.
pub const ANGLE_DOUBT: Bound = Bound::new(0.0, 10.0, "°");
/// How far off a measured height of the centre of gravity may be.
pub const HEIGHT_DOUBT: Bound = Bound::new(0.0, 500.0, "mm");
/// How far off a mass or a rate may be.
pub const PROPORTION_DOUBT: Bound = Bound::new(0.0, 50.0, "%");
/// A component of a force at the wheel, or a damper's force.
pub const FORCE: Bound = Bound::new(-1e7, 1e7, "N");
/// Moment of a bar.
pub const MOMENT: Bound = Bound::new(-1e6, 1e6, "N·m");
/// An acceleration of the car over that of gravity.
pub const ACCELERATION: Bound = Bound::new(-10.0, 10.0, "g");
/// A wheel load over the one at rest.
pub const TIMES_STATIC: Bound = Bound::new(-20.0, 20.0, "");
/// The most members of one kind that a document may hold; a corner needs at most five.
pub const MOST_MEMBERS: usize = 12;
/// The longest identifier, in characters.
pub const LONGEST_ID: usize = 48;
/// The longest title, in characters.
pub const LONGEST_TITLE: usize = 200;
/// The longest note, in characters.
pub const LONGEST_NOTE: usize = 4_000;

/// mm: two points nearer than this are one place.
pub const SAME_PLACE: f64 = 1e-3;
/// Ratio: a ball joint nearer than this share of the pivots' distance to their line is on it.
pub const ON_THE_AXIS: f64 = 1e-6;
/// Ratio: a rod with less leverage than this on what it is to turn stands at dead centre.
pub const ROD_AT_DEAD_CENTRE: f64 = 1e-6;
/// mm: how far below the ground the loaded wheel may reach before the setup is refused.
/// A corner measured with a tape is not exact to a millimetre; one below by five
/// centimetres has a wrong number in it.
pub const BELOW_GROUND: f64 = 50.0;
/// Ratio of the least to the greatest singular value of the rows (moments over
/// [`MOMENT_SCALE`]) under which the constraints count as dependent.
pub const DEPENDENT_ROWS: f64 = 1e-9;
/// mm: moments are divided by this so that rows are of order one; a power of two, so
/// that the division is exact.
pub const MOMENT_SCALE: f64 = 256.0;
/// Scaled pivot under which the elimination exchanges rows.
pub const SMALL_PIVOT: f64 = 1.0 / 32.0;
/// Scaled pivot under which a position counts as a dead point.
pub const DEAD_PIVOT: f64 = 1e-10;
/// mm (rotations times [`MOMENT_SCALE`]): in the search for the nearest pose beyond reach a shorter step
/// ends a part of the way.
pub const STILL: f64 = 1e-9;

/// mm: a member whose own joint is nearer than this to a joint of the knuckle holds it there.
pub const HOLDS: f64 = 1e-6;

/// mm (rotations times [`MOMENT_SCALE`]): after a Newton correction no larger than this the
/// pose is exact to rounding, and the motions found beside it, which belong to the pose
/// before the correction, are those of the corrected pose to twelve digits.
pub const SETTLED: f64 = 1e-10;
/// mm: a closure error this small is none; links are some hundred millimetres long and a
/// double holds sixteen digits.
pub const CLOSED: f64 = 1e-9;
/// mm (rotations times [`MOMENT_SCALE`]): the largest correction that can be rounding alone,
/// that of a closure error within [`CLOSED`] near a dead point.
pub const LARGEST_ROUNDING: f64 = 1e-7;
/// mm: how far beyond a position that is not reached the branch is looked for, to tell a
/// dead point from the end.
pub const STEP_OVER: f64 = 0.01;
/// Evaluations allowed for one step of Newton.
pub const MOST_EVALUATIONS: u32 = 12;
/// mm of travel and rack together: the longest step that is predicted in one go.
pub const LONGEST_STEP: f64 = 12.0;
/// mm: the shortest step before the linkage counts as ended.
pub const SHORTEST_STEP: f64 = 1e-6;
/// mm (rotations times [`MOMENT_SCALE`]): the largest first correction that still counts
/// as following the same branch.
pub const LARGEST_CORRECTION: f64 = 16.0;
/// mm: a centre farther off than this is at infinity. Lines that meet at a hundred kilometres are parallel to some
/// micrometres over a car's width.
pub const INFINITELY_FAR: f64 = 1e8;
/// Sine of an angle: lines and planes nearer to parallel than this do not meet; lines a tenth of a millimetre apart
/// would at [`INFINITELY_FAR`], and what is found farther off is dropped by that.
pub const PARALLEL_SINE: f64 = 1e-9;
/// Ratio: links are read as pairs when any other way to pair them has at least this many
/// times the sum of the squares of their ends' distances.
pub const CLEARLY_NEARER: f64 = 1.5;
/// Cosine of an angle: an axis leaning further from vertical than this (89.9°) is not called a steering axis, since
/// its intersection with a horizontal plane runs away.
pub const LYING_AXIS_COSINE: f64 = 1.745e-3;
/// Horizontal length of the unit vector along the spin axis below which a wheel lies flat and
/// heads nowhere (cambered by 89.9°).
pub const LEAST_HEADING: f64 = 1.745e-3;
/// mm per mm: a wheel travel that moves the spring by less than this leaves "the
/// spring's length held" without a meaning.
pub const SPRING_AT_REST: f64 = 1e-6;
/// rad per mm: the same of a torsion bar's twist. An arm of a metre makes of a millimetre a thousandth of a radian.
pub const BAR_AT_REST: f64 = SPRING_AT_REST / 1000.0;
/// mm: the change of a length by which effects are compared; about what a tape measures to,
/// and a common shim (common practice, no source).
pub const TYPICAL_LENGTH: f64 = 1.0;
/// °: the change of camber or toe by which effects are compared; about what a workshop's gauge
/// reads to (common practice, no source).
pub const TYPICAL_ANGLE: f64 = 0.1;
/// mm or °: the widest step from which derivatives are extrapolated.
pub const WIDEST_DIFFERENCE: f64 = 1.0;
/// Ratio: the widest step is at most this share of the shortest member.
pub const DIFFERENCE_SHARE: f64 = 0.01;
/// Ratio: a derivative is found when what is left of the extrapolation is under this share of it.
pub const DERIVATIVE_FOUND: f64 = 1e-8;
/// mm of travel: the step of the differences by which a motion ratio's change is found.
pub const RATIO_STEP: f64 = 0.125;
/// mm of travel: the shortest such step, near an end of the travel.
pub const LEAST_RATIO_STEP: f64 = 1e-3;

/// mm: a wheel this near the ground stands on it.
pub const GROUND_REACHED: f64 = 1e-10;
/// mm per mm: a travel that lifts the contact by less than this does not bring it to the ground.
pub const LEAST_CONTACT_RISE: f64 = 1e-3;
/// mm of travel: the longest step that a wheel makes towards the ground.
pub const LONGEST_CONTACT_STEP: f64 = 40.0;
/// rad: the step in which the body is leant about the roll centre, half a degree.
pub const ROLL_STEP: f64 = core::f64::consts::PI / 360.0;
/// mm: how far a step of the lean and its two halves may differ in the heave.
pub const HEAVE_STEP_ERROR: f64 = 1e-7;
/// mm: a roll centre farther than this from the centre plane, several widths of a car, is
/// nothing that a body turns about.
pub const ROLL_CENTRE_AWAY: f64 = 10_000.0;
/// kg: the least sprung mass on an axle of which anything is said.
pub const LEAST_SPRUNG_MASS: f64 = 1.0;
/// Sine of the angle between two lines that count as parallel.
pub const PARALLEL_LINES: f64 = 1e-11;
/// mm: two parallel lines nearer than this are one.
pub const SAME_LINE: f64 = 1e-7;
/// mm: a rack nearer to straight ahead than this leaves angles of which differences lose
/// their digits; what is made of them is continued from there to straight ahead.
pub const STRAIGHT_AHEAD: f64 = 1.0;

/// Scaled pivot of a corner's equilibrium under which the members hardly hold the wheel:
/// their forces would be some thousand times the load, which no part bears.
pub const HARDLY_HELD: f64 = 1e-3;
/// Ratio: remainder of a free body's balance, over the largest force, above which the forces
/// are not told. Rounding leaves some 1e-15; rods near dead centre lose digits.
pub const BALANCED: f64 = 1e-9;

/// A number from outside its [`Bound`].
#[derive(Debug, Clone, PartialEq)]
pub struct OutOfBounds {
    /// Path of the field, as in `front.wheel.loaded_radius`.
    pub field: String,
    /// What stood there.
    pub value: f64,
    /// What is allowed.
    pub bound: Bound,
}

impl fmt::Display for OutOfBounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { field, value, bound } = self;
        write!(f, "{field} must lie between {} and {}", Plain(bound.least), Plain(bound.most))?;
        if !bound.unit.is_empty() {
            write!(f, " {}", bound.unit)?;
        }
        write!(f, "; it is {}", Plain(*value))
    }
}

impl core::error::Error for OutOfBounds {}

/// A number as a person reads it: a true minus, no hundred zeros.
#[derive(Debug, Clone, Copy)]
pub struct Plain(pub f64);

impl fmt::Display for Plain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(value) = *self;
        if value.is_nan() {
            return f.write_str("not a number");
        }
        if value < 0.0 {
            f.write_str("−")?;
        }
        let size = value.abs();
        if size.is_infinite() {
            f.write_str("infinite")
        } else if size != 0.0 && !(1e-4..1e7).contains(&size) {
            write!(f, "{size:e}")
        } else {
            write!(f, "{size}")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use alloc::string::ToString;

    #[test]
    fn an_error_names_field_value_and_range() {
        let error = LOADED_RADIUS.check("front.wheel.loaded_radius", -5.0).unwrap_err();
        assert_eq!(error.to_string(), "front.wheel.loaded_radius must lie between 50 and 2000 mm; it is −5");
        let error = SHARE.check("vehicle.front_mass_share", 1e300).unwrap_err();
        assert_eq!(error.to_string(), "vehicle.front_mass_share must lie between 0 and 1; it is 1e300");
    }

    #[test]
    fn what_is_no_number_is_out_of_bounds() {
        assert!(COORDINATE.check("x", f64::NAN).is_err());
        assert!(COORDINATE.check("x", f64::INFINITY).is_err());
        assert!(COORDINATE.check("x", f64::NEG_INFINITY).is_err());
    }
}

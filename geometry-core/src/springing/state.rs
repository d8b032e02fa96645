//! The parts of a corner's springing in one position: lengths, angles, ratios, forces.

use crate::setup::Point;

/// A spring's or damper's length and how the wheel moves it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stroke {
    /// End on the body, mm.
    pub body: Point,
    /// Moving end, mm.
    pub carried: Point,
    /// Length, mm.
    pub length: f64,
    /// Shortening since travel and rack 0, mm, + shorter.
    pub shortening: f64,
    /// Motion ratio: shortening per mm of wheel-centre travel.
    pub motion_ratio: f64,
    /// Change of the motion ratio per mm of travel, 1/mm; `None` at the very end of the travel.
    pub ratio_change: Option<f64>,
}

/// A turning part's angle and how the wheel turns it, + the way bump turns it at travel 0.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Turn {
    /// Turned since travel and rack 0, °.
    pub angle: f64,
    /// ° per mm of wheel-centre travel.
    pub per_travel: f64,
    /// Change of that per mm of travel, °/mm²; `None` at the very end of the travel.
    pub change: Option<f64>,
}

/// What a spring or torsion bar does at the wheel centre.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AtWheel {
    /// Force downward at the wheel centre, N, by virtual work: spring force times motion ratio.
    pub force: Option<f64>,
    /// The part of the wheel rate that is the spring's own, N/mm: k r².
    pub rate_of_spring: Option<f64>,
    /// The part that comes from the changing ratio under load, N/mm: F dr/dz.
    pub rate_of_ratio: Option<f64>,
}

/// The spring.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct SpringState {
    /// Length and ratio.
    pub stroke: Stroke,
    /// Rate, N/mm.
    pub rate: Option<f64>,
    /// Force, N, + it pushes its ends apart. Below 0 a spring that is not held at both ends is
    /// loose and gives neither force nor rate.
    pub force: Option<f64>,
    /// Length without load, mm: the document's, or what the force and rate at travel 0 make it.
    pub free_length: Option<f64>,
    /// At the wheel centre.
    pub at_wheel: AtWheel,
}

/// The torsion bar.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct TorsionBarState {
    /// Angle of the part that twists it.
    pub turn: Turn,
    /// Rate, N·m/°.
    pub rate: Option<f64>,
    /// Moment, N·m, + against what bump twists.
    pub moment: Option<f64>,
    /// Twist under that moment, °.
    pub twist: Option<f64>,
    /// At the wheel centre.
    pub at_wheel: AtWheel,
}

/// The rocker.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RockerState {
    /// Its angle.
    pub turn: Turn,
    /// Its rod's joint on it, mm.
    pub rod_end: Point,
    /// The rod's other joint, mm.
    pub carried: Point,
    /// Way of the rod's joint on the rocker per mm of wheel-centre travel, mm/mm, without sign.
    pub rod_ratio: f64,
    /// Axial force in the rod, N, + tension: a pushrod's is below zero. Of spring and torsion
    /// bar where they stand on the rocker; the anti-roll bar's force, with both wheels level
    /// none, is not in it.
    pub rod_force: Option<f64>,
}

/// This side's half of the anti-roll bar.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct BarState {
    /// Its arm's angle.
    pub turn: Turn,
    /// Drop link's joint on the bar's arm, mm.
    pub arm_end: Point,
    /// Drop link's other joint, mm.
    pub carried: Point,
    /// Drop-link ratio: way of the arm's end per mm of wheel-centre travel, mm/mm, without sign.
    pub arm_end_ratio: f64,
    /// Rate, N·m per ° of twist between the two ends.
    pub rate: Option<f64>,
    /// Rate at each wheel when the wheels of the axle move opposite ways, N/mm: 2 k r², since
    /// both ends twist the bar.
    pub wheel_rate_opposite: Option<f64>,
    /// Rate at the wheel when it moves by itself, N/mm: k r².
    pub wheel_rate_single: Option<f64>,
    /// Force along the drop link per mm by which each wheel moves, one up and one down, N/mm,
    /// without sign.
    pub drop_link_force: Option<f64>,
}

/// Roll rates of the axle when the other corner is the mirror image, N·m/°: moment about the
/// car's axis over the body's roll against the ground.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RollRates {
    /// Of the springs and torsion bars.
    pub springs: Option<f64>,
    /// Of the anti-roll bar; 0 where the corner has none.
    pub bar: Option<f64>,
    /// Of both.
    pub suspension: Option<f64>,
    /// Of both on the tyres.
    pub with_tyres: Option<f64>,
}

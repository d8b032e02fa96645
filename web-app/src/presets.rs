//! Layouts to start from.
//!
//! Every geometry is invented: a left corner of an imagined road or club car of middling
//! size, placed so that its readings lie in ranges that are common practice (no source):
//! kingpin inclination 6 to 14°, caster 3 to 8°, scrub radius −15 to +30 mm, roll centre
//! 20 to 140 mm above the ground, top of the wheel leaning in by 0.005 to 0.05° per mm of
//! bump, toe changing by less than 0.01° per mm, spring ratio 0.5 to 1. The tests hold
//! them to it. They are places to begin, not recommendations.

use geometry_core::setup::{Arm, Axle, Corner, Damper, Hinge, KNUCKLE, Link, Point, Spring, Strut, Wheel};

/// A layout to start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Preset {
    /// Two triangular arms and a tie rod.
    TwoArms,
    /// A triangular upper arm over two separate lower links.
    SplitLowerLinks,
    /// Two separate links above and two below.
    TwoPartUpperAndLower,
    /// Five links, each in its own direction.
    FiveLinks,
    /// A strut over a triangular lower arm.
    Strut,
    /// A strut over two separate lower links.
    StrutSplitLowerLinks,
    /// A semi-trailing arm.
    SemiTrailing,
}

impl Preset {
    /// All layouts, in the order of a menu.
    pub const ALL: [Self; 7] = [
        Self::TwoArms,
        Self::SplitLowerLinks,
        Self::TwoPartUpperAndLower,
        Self::FiveLinks,
        Self::Strut,
        Self::StrutSplitLowerLinks,
        Self::SemiTrailing,
    ];

    /// What a workshop calls it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::TwoArms => "Double wishbone",
            Self::SplitLowerLinks => "Upper wishbone, split lower links",
            Self::TwoPartUpperAndLower => "Split links above and below",
            Self::FiveLinks => "Five-link",
            Self::Strut => "Strut and lower wishbone",
            Self::StrutSplitLowerLinks => "Strut and split lower links",
            Self::SemiTrailing => "Semi-trailing arm",
        }
    }

    /// What it is, in one sentence.
    #[must_use]
    pub fn description(self) -> &'static str {
        match self {
            Self::TwoArms => {
                "Two triangular arms hold the knuckle at two ball joints, and a tie rod holds its direction."
            }
            Self::SplitLowerLinks => {
                "A triangular arm above; below, two separate links whose lines cross beyond the knuckle, so that the wheel steers about a point where there is no joint: choose Kingpin inclination to see it."
            }
            Self::TwoPartUpperAndLower => {
                "Both wishbones are split into two links each, so that the steering axis stands nearer the wheel than any joint could."
            }
            Self::FiveLinks => {
                "Five links, each taking one freedom from the knuckle, place height, camber, toe and fore-and-aft motion almost one by one."
            }
            Self::Strut => {
                "A telescopic strut, rigid with the knuckle, slides through its top mount; a triangular arm guides the foot."
            }
            Self::StrutSplitLowerLinks => {
                "A strut as above, its foot guided by two separate links, so that the steering axis moves outboard of the joints."
            }
            Self::SemiTrailing => {
                "The wheel carrier is one arm that turns on two body pivots ahead of it, set askew so that the wheel leans in as it rises."
            }
        }
    }

    /// The left corner of an axle. `wheelbase` in mm; the front axle stands at x = 0, the
    /// rear one at −wheelbase, where no link steers.
    #[must_use]
    pub fn corner(self, axle: Axle, wheelbase: f64) -> Corner {
        let mut corner = match self {
            Self::TwoArms => two_arms(),
            Self::SplitLowerLinks => split_lower_links(),
            Self::TwoPartUpperAndLower => two_part_upper_and_lower(),
            Self::FiveLinks => five_links(),
            Self::Strut => strut(),
            Self::StrutSplitLowerLinks => strut_split_lower_links(),
            Self::SemiTrailing => semi_trailing(),
        };
        if axle == Axle::Rear {
            corner.change_points(|_, [x, _, _]| *x -= wheelbase);
            for link in &mut corner.links {
                link.steers = false;
                if link.id == TIE_ROD {
                    link.id = TOE_LINK.into();
                }
            }
        }
        corner
    }
}

// The inboard end of each tie rod was found by least squares on the change of toe over
// ±60 mm of travel, then rounded to a tenth of a millimetre.
const TIE_ROD: &str = "tie-rod";
/// What the same link is called where it does not steer.
const TOE_LINK: &str = "toe-link";

/// A corner with a wheel, a spring with its damper inside, and no member yet.
fn corner(wheel_centre: Point, camber: f64, body: Point, carried: Point, on: &str, rate: f64) -> Corner {
    // The wheel stands on the ground.
    let wheel = Wheel { camber, toe: 0.05, ..Wheel::new(wheel_centre, wheel_centre[2]) };
    Corner {
        spring: Some(Spring { body, carried, on: on.into(), rate: Some(rate), free_length: None }),
        damper: Some(Damper { body, carried, on: on.into() }),
        ..Corner::new(wheel)
    }
}

fn arm(id: &str, front_pivot: Point, rear_pivot: Point, ball_joint: Point) -> Arm {
    Arm { id: id.into(), front_pivot, rear_pivot, ball_joint }
}

fn link(id: &str, inboard: Point, outboard: Point) -> Link {
    Link { id: id.into(), inboard, outboard, steers: id == TIE_ROD }
}

fn two_arms() -> Corner {
    Corner {
        arms: vec![
            arm("upper-arm", [100.0, 430.0, 452.0], [-140.0, 430.0, 440.0], [-16.0, 668.0, 472.0]),
            arm("lower-arm", [130.0, 370.0, 188.0], [-170.0, 370.0, 198.0], [8.0, 710.0, 182.0]),
        ],
        links: vec![link(TIE_ROD, [-120.0, 403.5, 234.0], [-125.0, 700.0, 232.0])],
        ..corner([0.0, 740.0, 305.0], -0.6, [-6.0, 520.0, 620.0], [-4.0, 606.0, 205.0], "lower-arm", 48.0)
    }
}

fn split_lower_links() -> Corner {
    Corner {
        arms: vec![arm("upper-arm", [110.0, 440.0, 470.0], [-130.0, 446.0, 455.0], [-14.0, 712.0, 486.0])],
        links: vec![
            link("lower-lateral", [-28.0, 372.0, 194.0], [8.0, 706.0, 184.0]),
            link("lower-forward", [340.0, 430.0, 188.0], [64.0, 712.0, 182.0]),
            link(TIE_ROD, [-118.0, 402.7, 231.5], [-120.0, 702.0, 228.0]),
        ],
        ..corner(
            [0.0, 780.0, 315.0],
            -0.7,
            [-14.0, 565.0, 610.0],
            [-3.0, 612.0, 190.0],
            "lower-lateral",
            58.0,
        )
    }
}

fn two_part_upper_and_lower() -> Corner {
    Corner {
        links: vec![
            link("upper-forward", [150.0, 400.0, 472.0], [20.0, 640.0, 490.0]),
            link("upper-rearward", [-190.0, 405.0, 464.0], [-66.0, 642.0, 488.0]),
            link("lower-lateral", [-36.0, 368.0, 196.0], [4.0, 708.0, 184.0]),
            link("lower-forward", [330.0, 420.0, 190.0], [60.0, 712.0, 182.0]),
            link(TIE_ROD, [-120.0, 392.7, 234.9], [-122.0, 702.0, 230.0]),
        ],
        ..corner(
            [0.0, 785.0, 320.0],
            -0.7,
            [-20.0, 560.0, 620.0],
            [-8.0, 606.0, 190.0],
            "lower-lateral",
            60.0,
        )
    }
}

fn five_links() -> Corner {
    Corner {
        links: vec![
            link("upper-forward", [184.0, 385.0, 462.0], [14.0, 640.0, 480.0]),
            link("upper-lateral", [-46.0, 380.0, 472.0], [-36.0, 640.0, 488.0]),
            link("lower-forward", [320.0, 440.0, 206.0], [50.0, 699.0, 195.0]),
            link("lower-lateral", [-30.0, 330.0, 200.0], [-10.0, 694.0, 185.0]),
            link(TIE_ROD, [-150.0, 351.0, 231.6], [-150.0, 705.0, 222.0]),
        ],
        ..corner(
            [0.0, 775.0, 318.0],
            -1.0,
            [-24.0, 540.0, 560.0],
            [-18.0, 580.0, 215.0],
            "lower-lateral",
            70.0,
        )
    }
}

fn strut() -> Corner {
    Corner {
        arms: vec![arm("lower-arm", [60.0, 370.0, 205.0], [-240.0, 380.0, 208.0], [6.0, 700.0, 188.0])],
        strut: Some(Strut {
            id: "strut".into(),
            top_mount: [-50.0, 570.0, 830.0],
            lower_end: [-8.0, 640.0, 380.0],
        }),
        links: vec![link(TIE_ROD, [-120.0, 355.2, 252.9], [-130.0, 690.0, 240.0])],
        ..corner([0.0, 740.0, 305.0], -0.5, [-50.0, 570.0, 830.0], [-21.0, 618.0, 520.0], KNUCKLE, 26.0)
    }
}

fn strut_split_lower_links() -> Corner {
    Corner {
        strut: Some(Strut {
            id: "strut".into(),
            top_mount: [-56.0, 608.0, 850.0],
            lower_end: [-10.0, 672.0, 390.0],
        }),
        links: vec![
            link("lower-lateral", [-20.0, 370.0, 206.0], [-4.0, 690.0, 188.0]),
            link("lower-forward", [310.0, 420.0, 200.0], [48.0, 694.0, 186.0]),
            link(TIE_ROD, [-120.0, 368.3, 251.8], [-128.0, 694.0, 238.0]),
        ],
        ..corner([0.0, 770.0, 312.0], -0.6, [-56.0, 608.0, 850.0], [-25.0, 651.0, 540.0], KNUCKLE, 30.0)
    }
}

fn semi_trailing() -> Corner {
    Corner {
        hinge: Some(Hinge {
            id: "trailing-arm".into(),
            pivots: [[400.0, 640.0, 258.0], [310.0, 230.0, 264.0]],
        }),
        ..corner([0.0, 730.0, 300.0], -1.2, [60.0, 560.0, 560.0], [60.0, 590.0, 260.0], KNUCKLE, 55.0)
    }
}

#[cfg(test)]
mod tests;

//! Random plausible corners of every layout.
//!
//! Each layout is a sound corner of an invented car whose points are moved by a few
//! centimetres. What is drawn is a row of numbers between −1 and 1, so a failing case
//! shrinks towards the layout's own corner.

use std::slice::Iter;

use geometry_core::{
    setup::{Arm, Corner, Damper, Hinge, KNUCKLE, Link, Point, Spring, Strut, Wheel},
    solve::State,
};
use proptest::{collection::vec, prelude::*, sample::select};

/// A way to hold a knuckle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layout {
    TwoArms,
    ArmAndSplitLinks,
    FourLinksAndTieRod,
    FiveLinks,
    StrutAndArm,
    StrutAndLinks,
    SemiTrailing,
    Trailing,
}

/// Every layout.
pub(crate) const ALL: [Layout; 8] = [
    Layout::TwoArms,
    Layout::ArmAndSplitLinks,
    Layout::FourLinksAndTieRod,
    Layout::FiveLinks,
    Layout::StrutAndArm,
    Layout::StrutAndLinks,
    Layout::SemiTrailing,
    Layout::Trailing,
];

/// A corner and a state in its working range.
#[derive(Debug, Clone)]
pub(crate) struct Drawn {
    pub(crate) corner: Corner,
    pub(crate) state: State,
}

/// Corners of some layouts, with states of up to 60 mm of travel and 25 mm of rack.
pub(crate) fn drawn(layouts: &'static [Layout]) -> impl Strategy<Value = Drawn> {
    (select(layouts), vec(-1.0..1.0_f64, NUMBERS), any::<[u8; 2]>(), -60.0..60.0_f64, -25.0..25.0_f64)
        .prop_map(|(layout, numbers, carriers, travel, rack)| Drawn {
            corner: corner(layout, &numbers, carriers),
            state: State { travel, rack },
        })
}

/// A layout's own corner, with its spring on its first member.
pub(crate) fn plain(layout: Layout) -> Corner {
    corner(layout, &[0.0; NUMBERS], [0, 0])
}

/// How many numbers a corner takes: 17 points, two springs and four single values at most.
const NUMBERS: usize = 72;

/// The numbers drawn, taken one after the other.
struct Dice<'a>(Iter<'a, f64>);

impl Dice<'_> {
    /// `base` moved by at most `by` to either side.
    fn number(&mut self, base: f64, by: f64) -> f64 {
        base + by * self.0.next().expect("enough numbers are drawn")
    }

    fn point(&mut self, base: Point, by: f64) -> Point {
        base.map(|coordinate| self.number(coordinate, by))
    }

    fn arm(&mut self, id: &str, front_pivot: Point, rear_pivot: Point, ball_joint: Point) -> Arm {
        Arm {
            id: id.into(),
            front_pivot: self.point(front_pivot, 25.0),
            rear_pivot: self.point(rear_pivot, 25.0),
            ball_joint: self.point(ball_joint, 15.0),
        }
    }

    fn link(&mut self, id: &str, inboard: Point, outboard: Point) -> Link {
        Link {
            id: id.into(),
            inboard: self.point(inboard, 25.0),
            outboard: self.point(outboard, 15.0),
            steers: false,
        }
    }

    fn tie_rod(&mut self) -> Link {
        let link = self.link("tie-rod", [-130.0, 385.0, 222.0], [-140.0, 712.0, 216.0]);
        Link { steers: true, ..link }
    }

    fn lower_arm(&mut self) -> Arm {
        self.arm("lower-arm", [150.0, 360.0, 190.0], [-170.0, 355.0, 178.0], [6.0, 735.0, 172.0])
    }

    fn upper_arm(&mut self) -> Arm {
        self.arm("upper-arm", [115.0, 450.0, 470.0], [-125.0, 455.0, 452.0], [-18.0, 705.0, 482.0])
    }

    fn lower_links(&mut self) -> [Link; 2] {
        [
            self.link("lower-lateral", [-40.0, 370.0, 192.0], [0.0, 722.0, 180.0]),
            self.link("lower-forward", [345.0, 430.0, 186.0], [70.0, 726.0, 178.0]),
        ]
    }

    fn upper_links(&mut self) -> [Link; 2] {
        [
            self.link("upper-front", [150.0, 440.0, 480.0], [14.0, 700.0, 486.0]),
            self.link("upper-rear", [-185.0, 446.0, 462.0], [-50.0, 694.0, 478.0]),
        ]
    }

    fn strut(&mut self) -> Strut {
        Strut {
            id: "strut".into(),
            top_mount: self.point([-34.0, 566.0, 830.0], 25.0),
            lower_end: self.point([-4.0, 650.0, 330.0], 15.0),
        }
    }
}

/// The corner of a layout that a row of numbers and two choices of a carrier stand for.
fn corner(layout: Layout, numbers: &[f64], carriers: [u8; 2]) -> Corner {
    let mut dice = Dice(numbers.iter());
    let centre = dice.point([0.0, 790.0, 312.0], 10.0);
    let mut corner = Corner::new(Wheel {
        loaded_radius: dice.number(310.0, 10.0),
        camber: dice.number(-1.0, 2.0),
        toe: dice.number(0.0, 1.0),
        ..Wheel::new(centre, 310.0)
    });
    corner.rack_direction = Some(dice.point([0.0, 1.0, 0.0], 0.1));
    match layout {
        Layout::TwoArms => {
            corner.arms = vec![dice.lower_arm(), dice.upper_arm()];
            corner.links = vec![dice.tie_rod()];
        }
        Layout::ArmAndSplitLinks => {
            corner.arms = vec![dice.upper_arm()];
            corner.links = dice.lower_links().into();
            corner.links.push(dice.tie_rod());
        }
        Layout::FourLinksAndTieRod | Layout::FiveLinks => {
            corner.links = dice.lower_links().into();
            corner.links.extend(dice.upper_links());
            corner.links.push(Link { steers: layout == Layout::FourLinksAndTieRod, ..dice.tie_rod() });
        }
        Layout::StrutAndArm => {
            corner.strut = Some(dice.strut());
            corner.arms = vec![dice.lower_arm()];
            corner.links = vec![dice.tie_rod()];
        }
        Layout::StrutAndLinks => {
            corner.strut = Some(dice.strut());
            corner.links = dice.lower_links().into();
            corner.links.push(dice.tie_rod());
        }
        Layout::SemiTrailing | Layout::Trailing => {
            let inner =
                if layout == Layout::Trailing { [390.0, 330.0, 318.0] } else { [240.0, 260.0, 330.0] };
            corner.hinge = Some(Hinge {
                id: "hinge".into(),
                pivots: [dice.point([390.0, 680.0, 312.0], 25.0), dice.point(inner, 25.0)],
            });
        }
    }
    let [of_spring, of_damper] = carriers;
    let (on, carried) = carrier(&corner, of_spring, &mut dice);
    let body = over(carried, &mut dice);
    corner.spring = Some(Spring { body, carried, on, rate: Some(60.0), free_length: None });
    let (on, carried) = carrier(&corner, of_damper, &mut dice);
    let body = over(carried, &mut dice);
    corner.damper = Some(Damper { body, carried, on });
    if matches!(layout, Layout::FiveLinks | Layout::SemiTrailing | Layout::Trailing) {
        // Behind, as in a document with both axles.
        corner.change_points(|_, point| point[0] -= 2640.0);
    }
    corner
}

/// One of the corner's members or the knuckle, and a point on it; seldom on its axis.
fn carrier(corner: &Corner, choice: u8, dice: &mut Dice<'_>) -> (String, Point) {
    let ids: Vec<&str> = corner.ids().chain([KNUCKLE]).collect();
    let id = ids[usize::from(choice) % ids.len()];
    let outward =
        |from: Point, to: Point| -> Point { std::array::from_fn(|i| 0.35 * from[i] + 0.65 * to[i]) };
    let point = if let Some(arm) = corner.arms.iter().find(|arm| arm.id == id) {
        let inner = std::array::from_fn(|i| 0.5 * (arm.front_pivot[i] + arm.rear_pivot[i]));
        outward(inner, arm.ball_joint)
    } else if let Some(link) = corner.links.iter().find(|link| link.id == id) {
        outward(link.inboard, link.outboard)
    } else {
        [corner.wheel.centre[0], 690.0, 260.0]
    };
    (id.into(), dice.point(point, 15.0))
}

/// A body point from which a spring stands on `carried`.
fn over(carried: Point, dice: &mut Dice<'_>) -> Point {
    let [x, y, z] = carried;
    dice.point([x, y - 50.0, z + 330.0], 40.0)
}

//! Numbers of a description that a tape, a sign or a unit has more often made than a car: worth a second look.
//!
//! None of them is wrong for that, and nothing is refused: every corner that can be solved is. The limits are common
//! practice, no source; they are wide, so that none of the layouts and demonstrations meets one.

use geometry_core::setup::{Corner, Point};

use crate::{
    describe,
    edit::{MemberPath, PointPath},
    numbers::format_number,
    scene::placed::Holder,
};

/// A knuckle reaches so many loaded radii from the wheel's centre, and no farther.
const KNUCKLE_REACH: f64 = 1.6;
/// mm: no link is so long that its body end stands farther from the wheel.
const BODY_REACH: f64 = 1_600.0;
/// mm: what stands on the car's middle may lie so far beyond it.
const MIDDLE: f64 = 20.0;
/// mm: anything lower would drag.
const CLEARANCE: f64 = 40.0;
/// mm: a wheel stands so far from the car's middle, or farther.
const HALF_TRACK: f64 = 350.0;
/// mm: height of the wheel's centre and loaded radius may differ by so much, measured apart.
const STANDS: f64 = 15.0;
/// °: wheels are set within this.
const CAMBER: f64 = 8.0;
/// °: as well.
const TOE: f64 = 3.0;

/// A number that is unlikely; lengths in mm, angles in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Oddity {
    /// A point of the knuckle is farther from the wheel's centre than a knuckle reaches.
    FarFromWheel(PointPath, f64),
    /// A point of body or members is farther from it than any link is long.
    FarAway(PointPath, f64),
    /// A point lies across the car's middle by so much.
    AcrossTheMiddle(PointPath, f64),
    /// A point lies so high, which is hardly over the ground, or under it where below zero.
    Low(PointPath, f64),
    /// A member's end at the wheel is farther from the wheel than its ends at the body.
    EndsExchanged(MemberPath),
    /// The strut's lower end is above its top mount.
    UpsideDown,
    /// The wheel's centre is so near the car's middle.
    Narrow(f64),
    /// The tyre would hang so far above the ground, or be in it where below zero.
    OffTheGround(f64),
    /// Camber.
    Camber(f64),
    /// Toe.
    Toe(f64),
}

/// Where an odd number can be changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the table of pivots.
    Point(PointPath),
    /// Among the wheel's numbers: the field's name below `wheel.`.
    Wheel(&'static str),
}

impl Oddity {
    /// All that is odd about a left corner, or a right one in its mirror image.
    #[must_use]
    pub fn of(corner: &Corner) -> Vec<Self> {
        let wheel = &corner.wheel;
        let mut found = of_wheel(corner);
        for path in PointPath::all(corner).into_iter().filter(|path| *path != PointPath::WheelCentre) {
            let Some(point) = path.get(corner) else { continue };
            let away = distance(point, wheel.centre);
            // One cause is told once, the nearest to what was measured first.
            found.extend(if path.holder() == Holder::Knuckle && away > KNUCKLE_REACH * wheel.loaded_radius {
                Some(Self::FarFromWheel(path, away))
            } else if point[1] < -MIDDLE {
                Some(Self::AcrossTheMiddle(path, -point[1]))
            } else if point[2] < CLEARANCE {
                Some(Self::Low(path, point[2]))
            } else if away > BODY_REACH {
                Some(Self::FarAway(path, away))
            } else {
                None
            });
        }
        let told = |found: &[Self], member: MemberPath| {
            let points = member.points();
            found.iter().any(|oddity| matches!(oddity.place(), Place::Point(path) if points.contains(&path)))
        };
        for member in MemberPath::all(corner) {
            if !told(&found, member) && ends_exchanged(member, corner) {
                let upside_down = member == MemberPath::Strut;
                found.push(if upside_down { Self::UpsideDown } else { Self::EndsExchanged(member) });
            }
        }
        found
    }

    /// Where it can be changed.
    #[must_use]
    pub fn place(self) -> Place {
        match self {
            Self::FarFromWheel(path, _)
            | Self::FarAway(path, _)
            | Self::AcrossTheMiddle(path, _)
            | Self::Low(path, _) => Place::Point(path),
            // The last point of a member is the one at the wheel.
            Self::EndsExchanged(member) => {
                Place::Point(member.points().last().copied().unwrap_or(PointPath::WheelCentre))
            }
            Self::UpsideDown => Place::Point(PointPath::StrutLowerEnd),
            Self::Narrow(_) => Place::Point(PointPath::WheelCentre),
            Self::OffTheGround(_) => Place::Wheel("loaded_radius"),
            Self::Camber(_) => Place::Wheel("camber"),
            Self::Toe(_) => Place::Wheel("toe"),
        }
    }

    /// Whether both speak of the same thing, whatever the numbers are.
    #[must_use]
    pub fn is_like(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other) && self.place() == other.place()
    }

    /// What is odd, in a sentence and a question.
    #[must_use]
    pub fn words(self, corner: &Corner) -> String {
        let name = |path| format!("“{}”", describe::point_name(path, corner));
        let member = |member: MemberPath| format!("“{}”", member.id(corner).unwrap_or_default());
        let mm = |value: f64| format!("{} mm", format_number(value, 0));
        match self {
            Self::FarFromWheel(path, away) => format!(
                "{} is {} from the wheel’s centre, at a loaded radius of {}: a sign, or a unit?",
                name(path),
                mm(away),
                mm(corner.wheel.loaded_radius)
            ),
            Self::FarAway(path, away) => {
                format!("{} is {} from the wheel’s centre: a sign, or a digit?", name(path), mm(away))
            }
            Self::AcrossTheMiddle(path, by) => {
                format!("{} lies {} beyond the car’s middle: a sign?", name(path), mm(by))
            }
            Self::Low(path, height) if height < 0.0 => {
                format!("{} lies {} under the ground: is height counted from there?", name(path), mm(-height))
            }
            Self::Low(path, height) => {
                format!("{} lies only {} above the ground: a unit?", name(path), mm(height))
            }
            Self::EndsExchanged(path) => format!(
                "{} has its end at the wheel farther from the wheel than its body end: exchanged?",
                member(path)
            ),
            Self::UpsideDown => {
                format!("{} has its lower end above its top mount: exchanged?", member(MemberPath::Strut))
            }
            Self::Narrow(half) => {
                format!("The wheel’s centre is {} from the car’s middle: a sign, or a unit?", mm(half))
            }
            Self::OffTheGround(gap) => format!(
                "The wheel’s centre is {} up and the loaded radius {}: the tyre would {}.",
                mm(corner.wheel.centre[2]),
                mm(corner.wheel.loaded_radius),
                if gap > 0.0 {
                    format!("hang {} above the ground", mm(gap))
                } else {
                    format!("be {} in the ground", mm(-gap))
                }
            ),
            Self::Camber(angle) => format!("Camber is {}°: a digit?", format_number(angle, 1)),
            Self::Toe(angle) => format!(
                "Toe is {}°: degrees are meant, of one wheel; 2 mm at the rim are about a quarter of one.",
                format_number(angle, 1)
            ),
        }
    }
}

/// What is odd about where the wheel stands and how.
fn of_wheel(corner: &Corner) -> Vec<Oddity> {
    let wheel = &corner.wheel;
    let mut found = Vec::new();
    if wheel.centre[1] < HALF_TRACK {
        found.push(Oddity::Narrow(wheel.centre[1]));
    }
    if wheel.camber.abs() > CAMBER {
        found.push(Oddity::Camber(wheel.camber));
    }
    if wheel.toe.abs() > TOE {
        found.push(Oddity::Toe(wheel.toe));
    }
    let gap = wheel.centre[2] - wheel.loaded_radius * wheel.camber.to_radians().cos();
    if gap.abs() > STANDS {
        found.push(Oddity::OffTheGround(gap));
    }
    found
}

/// Whether the end at the wheel is farther from the wheel than every end at the body; a strut's, whether it is above.
fn ends_exchanged(member: MemberPath, corner: &Corner) -> bool {
    let centre = corner.wheel.centre;
    match member {
        MemberPath::Arm(i) => corner.arms.get(i).is_some_and(|arm| {
            let outer = distance(arm.ball_joint, centre);
            [arm.front_pivot, arm.rear_pivot].into_iter().all(|pivot| distance(pivot, centre) < outer)
        }),
        MemberPath::Link(i) => corner
            .links
            .get(i)
            .is_some_and(|link| distance(link.inboard, centre) < distance(link.outboard, centre)),
        MemberPath::Strut => {
            corner.strut.as_ref().is_some_and(|strut| strut.top_mount[2] < strut.lower_end[2])
        }
        MemberPath::Hinge | MemberPath::Rocker => false,
    }
}

fn distance(a: Point, b: Point) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use geometry_core::setup::{Axle, example};

    use super::*;
    use crate::{
        edit::{Edit, mirror_image},
        presets::Preset,
    };

    fn front() -> Corner {
        example().front.expect("a front corner")
    }

    /// What is odd about the front corner, changed.
    fn odd(change: impl FnOnce(&mut Corner)) -> Vec<Oddity> {
        let mut corner = front();
        change(&mut corner);
        Oddity::of(&corner)
    }

    #[test]
    fn nothing_is_odd_about_demonstrations_and_layouts() {
        let example = example();
        let of_example = [example.front, example.rear].into_iter().flatten();
        let layouts = Preset::ALL
            .into_iter()
            .flat_map(|layout| [Axle::Front, Axle::Rear].map(|axle| layout.corner(axle, 2640.0)));
        for corner in of_example.chain(layouts) {
            assert_eq!(Oddity::of(&corner), [], "{:?}", describe::setup::layout(&corner));
        }
    }

    #[test]
    fn a_lost_sign_is_found() {
        let joint = PointPath::ArmBallJoint(0);
        let found = odd(|corner| corner.arms[0].ball_joint[1] = -722.0);
        assert!(
            matches!(found[..], [Oddity::FarFromWheel(path, away)] if path == joint && away > 1500.0),
            "{found:?}"
        );
        assert_eq!(
            found[0].words(&front()),
            "“upper-arm, ball joint” is 1522 mm from the wheel’s centre, at a loaded radius of 312 mm: a sign, or a unit?"
        );
        let found = odd(|corner| corner.links[0].inboard[1] = -372.0);
        assert_eq!(found, [Oddity::AcrossTheMiddle(PointPath::LinkInboard(0), 372.0)]);
        let found = odd(|corner| corner.links[0].inboard[0] = 2030.0);
        assert!(matches!(found[..], [Oddity::FarAway(PointPath::LinkInboard(0), _)]), "{found:?}");
        let found = odd(|corner| corner.links[0].inboard[2] = -192.0);
        assert_eq!(found, [Oddity::Low(PointPath::LinkInboard(0), -192.0)]);
        assert!(found[0].words(&front()).contains("192 mm under the ground"));
    }

    #[test]
    fn inches_taken_for_millimetres_are_found() {
        let inches = |point: &mut Point| *point = point.map(|c| c / 25.4);
        let found = odd(|corner| inches(&mut corner.links[1].outboard));
        assert!(matches!(found[..], [Oddity::FarFromWheel(PointPath::LinkOutboard(1), _)]), "{found:?}");
        let found = odd(|corner| inches(&mut corner.links[1].inboard));
        assert!(matches!(found[..], [Oddity::Low(PointPath::LinkInboard(1), _)]), "{found:?}");
        let found = odd(|corner| {
            for (_, point) in corner.points_mut() {
                inches(point);
            }
        });
        assert!(matches!(found[..2], [Oddity::Narrow(_), Oddity::OffTheGround(_)]), "{found:?}");
    }

    #[test]
    fn exchanged_ends_are_found_once() {
        let found = odd(|corner| {
            let link = &mut corner.links[2];
            std::mem::swap(&mut link.inboard, &mut link.outboard);
        });
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].place(), Place::Point(PointPath::LinkOutboard(2)));
        let mut corner = Preset::Strut.corner(Axle::Front, 2640.0);
        let strut = corner.strut.as_mut().expect("a strut");
        // Not so low that its distance would be the first thing to say.
        strut.top_mount[2] = strut.lower_end[2] - 50.0;
        assert_eq!(Oddity::of(&corner), [Oddity::UpsideDown]);
    }

    #[test]
    fn a_wheel_that_does_not_stand_on_the_ground_is_found() {
        let found = odd(|corner| corner.wheel.loaded_radius = 280.0);
        assert!(matches!(found[..], [Oddity::OffTheGround(gap)] if (gap - 32.0).abs() < 0.1), "{found:?}");
        assert!(
            found[0].words(&front()).contains("hang 32 mm above the ground"),
            "{}",
            found[0].words(&front())
        );
        assert_eq!(odd(|corner| corner.wheel.toe = 4.0), [Oddity::Toe(4.0)]);
        assert_eq!(odd(|corner| corner.wheel.camber = -9.0), [Oddity::Camber(-9.0)]);
    }

    /// The right corner is looked at as the page shows it: in its mirror image.
    #[test]
    fn a_right_corner_is_no_odder_than_its_mirror_image() {
        let right = mirror_image(&front());
        assert_eq!(Oddity::of(&mirror_image(&right)), []);
        let edit = Edit::SetPoint {
            axle: Axle::Front,
            path: PointPath::LinkInboard(0),
            point: [1.0, -300.0, 200.0],
        };
        let changed = edit.apply(&example()).expect("allowed").front.expect("a front corner");
        let oddity = Oddity::of(&changed)[0];
        assert!(oddity.is_like(Oddity::AcrossTheMiddle(PointPath::LinkInboard(0), 1.0)));
        assert!(!oddity.is_like(Oddity::Low(PointPath::LinkInboard(0), 1.0)));
    }
}

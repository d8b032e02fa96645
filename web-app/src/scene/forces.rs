//! The forces under a load → arrows at the joints, in three views.
//!
//! An arrow shows what a member does to what it is joined to, on the member's own side of
//! the joint: from the joint into a member that pulls, out of a member that pushes and up to
//! the joint, as statics books draw a framework. A pulling arrow has a solid shaft and a
//! filled head, a pushing one a dashed shaft and an open head, and words say it beside, so
//! that colour is never needed.

use geometry_core::{
    Vec3,
    setup::{Corner, Point},
    statics::{Forces, LoadPoint, PivotForces},
};

use super::{Anchor, Pen, Placed, Shape, labels};
use crate::{
    describe::forces::{DROP_LINK, newtons, rod_of},
    edit::PointPath,
    units::Unit,
    view::View,
};

/// mm: the longest arrow, on the corner's own scale.
const LONGEST: f64 = 180.0;
/// Share of a member's length that an arrow along it may take, so that those of its two ends
/// do not meet.
const OF_MEMBER: f64 = 0.45;
/// N: a smaller force has no arrow.
const LEAST: f64 = 0.5;
/// Cosine of 10°: a force farther off its member's line is not along it.
const ALONG: f64 = 0.985;
/// Pixels: a shorter arrow is seen end on and not drawn.
const SHORTEST: f64 = 4.0;
/// Pixels: in a narrower pane the labels are numbers alone.
const ROOM_FOR_WORDS: f64 = 300.0;
/// Pixels: in a narrower one they have no names.
const ROOM_FOR_NAMES: f64 = 400.0;

/// What an arrow stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sense {
    /// A member that pulls at the joint.
    Pulled,
    /// A member that pushes the joint.
    Pushed,
    /// What pushes otherwise than along its member, or along an axis that two pivots share.
    Across,
    /// A load on the wheel.
    Load,
}

impl Sense {
    fn classes(self) -> [&'static str; 2] {
        match self {
            Self::Pulled => ["force pulled", "force-head pulled"],
            Self::Pushed => ["force pushed", "force-head pushed"],
            Self::Across => ["force across", "force-head across"],
            Self::Load => ["force load", "force-head load"],
        }
    }

    fn word(self) -> &'static str {
        match self {
            Self::Pulled => " pulled",
            Self::Pushed => " pushed",
            Self::Across => " at the joint",
            Self::Load => " load",
        }
    }
}

/// An arrow.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrow {
    /// Where it begins, mm.
    pub foot: Vec3,
    /// Where its head is, mm.
    pub tip: Vec3,
    /// What it stands for.
    pub sense: Sense,
    /// Whose force it is and its size, N, where they are written beside; a load has no name.
    pub label: Option<(String, f64)>,
}

/// All arrows of a corner under a load.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrows {
    /// The arrows.
    pub list: Vec<Arrow>,
    /// Their scale: N per mm of the corner.
    pub newtons_per_mm: f64,
}

/// A force that is to be drawn.
struct Raw {
    at: Vec3,
    force: Vec3,
    sense: Sense,
    label: Option<(String, f64)>,
    /// mm: what a force along a member may take.
    room: f64,
}

/// The arrows of a corner's forces. `contact` is where the wheel stands on the ground; `loads`
/// are in N along the vehicle's axes.
#[must_use]
pub fn arrows(
    corner: &Corner,
    placed: &Placed,
    contact: &Vec3,
    loads: &[(LoadPoint, Point)],
    forces: &Forces,
) -> Arrows {
    let mut raw = Vec::new();
    members(&mut raw, corner, placed, forces);
    for point in [LoadPoint::Contact, LoadPoint::WheelCentre] {
        let at = match point {
            LoadPoint::Contact => Some(*contact),
            LoadPoint::WheelCentre => placed.at(PointPath::WheelCentre),
        };
        // What acts at one point is one arrow.
        let here = loads.iter().filter(|(place, _)| *place == point);
        let force = here.fold(Vec3::zeros(), |sum, (_, force)| sum + Vec3::from(*force));
        raw.extend(at.map(|at| of_load(at, force)));
    }
    if let (Some(force), Some(at)) = (forces.held_at_wheel_centre, placed.at(PointPath::WheelCentre)) {
        raw.push(of_load(at, Vec3::new(0.0, 0.0, force)));
    }
    raw.retain(|one| one.force.norm() >= LEAST);
    let needed = raw.iter().map(|one| one.force.norm() / one.room.min(LONGEST)).fold(0.0, f64::max);
    // Round in the reader's units.
    let one = Unit::NewtonPerMillimetre.here().one;
    let newtons_per_mm = round_scale(needed / one) * one;
    let list = raw.into_iter().map(|one| {
        let arrow = one.force / newtons_per_mm;
        // What pushes comes out of the member, up to the joint.
        let (foot, tip) =
            if one.sense == Sense::Pushed { (one.at - arrow, one.at) } else { (one.at, one.at + arrow) };
        Arrow { foot, tip, sense: one.sense, label: one.label }
    });
    Arrows { list: list.collect(), newtons_per_mm }
}

/// The next round number: 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 15 and so on.
fn round_scale(needed: f64) -> f64 {
    if !needed.is_finite() || needed <= 0.0 {
        return 1.0;
    }
    let decade = 10_f64.powf(needed.log10().floor());
    [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0]
        .map(|step| step * decade)
        .into_iter()
        .find(|scale| *scale >= needed)
        .unwrap_or(10.0 * decade)
}

fn of_load(at: Vec3, force: Vec3) -> Raw {
    Raw { at, force, sense: Sense::Load, label: Some((String::new(), force.norm())), room: LONGEST }
}

/// A force at a joint by a member that lies towards a point.
fn by_member(at: Vec3, force: Vec3, towards: &Vec3, label: Option<(String, f64)>) -> Raw {
    let length = (towards - at).norm();
    let along = force.dot(&(towards - at)) / (length * force.norm());
    // Only what is loaded at its two ends alone is pulled or pushed; what carries a spring is bent as well.
    let sense = if along >= ALONG {
        Sense::Pulled
    } else if along <= -ALONG {
        Sense::Pushed
    } else {
        Sense::Across
    };
    Raw { at, force, sense, label, room: OF_MEMBER * length }
}

/// Both ends of what pulls with `tension`.
fn two_ended(raw: &mut Vec<Raw>, name: &str, ends: Option<(Vec3, Vec3)>, tension: f64) {
    let Some((a, b)) = ends.filter(|(a, b)| (b - a).norm() > 0.0) else { return };
    let pull = tension * (b - a).normalize();
    raw.push(Raw { room: LONGEST, ..by_member(a, pull, &b, None) });
    raw.push(Raw { room: LONGEST, ..by_member(b, -pull, &a, Some((name.to_owned(), tension.abs()))) });
}

fn members(raw: &mut Vec<Raw>, corner: &Corner, placed: &Placed, forces: &Forces) {
    let at = |path| placed.at(path);
    let vector = |force: Point| Vec3::from(force);
    let between = |a, b| at(a).zip(at(b));
    for (i, arm) in forces.arms.iter().enumerate() {
        let ends = [PointPath::ArmFrontPivot(i), PointPath::ArmRearPivot(i), PointPath::ArmBallJoint(i)];
        let [Some(front), Some(rear), Some(joint)] = ends.map(at) else { continue };
        let (middle, force) = (0.5 * (front + rear), vector(arm.on_knuckle));
        raw.push(by_member(joint, force, &middle, Some((arm.id.clone(), force.norm()))));
        pivots(raw, [front, rear], &joint, &arm.on_body);
    }
    for (i, link) in forces.links.iter().enumerate() {
        let Some((inboard, outboard)) = between(PointPath::LinkInboard(i), PointPath::LinkOutboard(i)) else {
            continue;
        };
        let force = vector(link.on_knuckle);
        raw.push(by_member(outboard, force, &inboard, Some((link.id.clone(), force.norm()))));
        raw.push(by_member(inboard, vector(link.on_body), &outboard, None));
    }
    if let (Some(strut), Some(top)) = (&forces.strut, at(PointPath::StrutTopMount)) {
        let force = vector(strut.across);
        let label = Some((strut.id.clone(), force.norm()));
        raw.push(Raw { at: top, force, sense: Sense::Across, label, room: LONGEST });
    }
    if let Some(hinge) = &forces.hinge
        && let Some((first, second)) = between(PointPath::HingePivot(0), PointPath::HingePivot(1))
        && let Some(centre) = at(PointPath::WheelCentre)
    {
        pivots(raw, [first, second], &centre, &hinge.on_body);
    }
    if let Some(force) = forces.spring {
        two_ended(raw, "spring", between(PointPath::SpringBody, PointPath::SpringCarried), -force);
    }
    if let Some(force) = forces.damper {
        two_ended(raw, "damper", between(PointPath::DamperBody, PointPath::DamperCarried), -force);
    }
    if let Some(rocker) = &forces.rocker {
        let name = rod_of(&rocker.id);
        two_ended(raw, &name, between(PointPath::RockerRodEnd, PointPath::RockerCarried), rocker.rod);
        if let Some((first, second)) = between(PointPath::RockerAxis(0), PointPath::RockerAxis(1))
            && let Some(rod) = at(PointPath::RockerRodEnd)
        {
            pivots(raw, [first, second], &rod, &rocker.on_body);
        }
    }
    if let Some(force) = forces.drop_link.filter(|_| corner.anti_roll_bar.is_some()) {
        two_ended(raw, DROP_LINK, between(PointPath::BarArmEnd, PointPath::BarCarried), force);
    }
}

/// What a part pushes the body with at its two pivots, and along their axis in their middle.
fn pivots(raw: &mut Vec<Raw>, [first, second]: [Vec3; 2], part: &Vec3, forces: &PivotForces) {
    raw.push(Raw { room: LONGEST, ..by_member(first, Vec3::from(forces.first), part, None) });
    raw.push(Raw { room: LONGEST, ..by_member(second, Vec3::from(forces.second), part, None) });
    let (at, force) = (0.5 * (first + second), Vec3::from(forces.along));
    raw.push(Raw { at, force, sense: Sense::Across, label: None, room: LONGEST });
}

/// Draws the arrows in one view, after everything else.
pub fn draw(pen: &mut Pen, arrows: &Arrows) {
    if pen.view() == View::Front {
        legend(pen, arrows);
    }
    for arrow in &arrows.list {
        let (foot, tip) = (pen.at(&arrow.foot), pen.at(&arrow.tip));
        pixel_arrow(pen, arrow.sense, foot, tip);
    }
    // The loads are written first: they have the first choice of a place.
    let of_load = |arrow: &&Arrow| arrow.sense == Sense::Load;
    let (loads, others): (Vec<&Arrow>, Vec<&Arrow>) = arrows.list.iter().partition(of_load);
    for arrow in loads.into_iter().chain(others) {
        label(pen, arrow);
    }
}

fn pixel_arrow(pen: &mut Pen, sense: Sense, foot: [f64; 2], tip: [f64; 2]) {
    let (dx, dy) = (tip[0] - foot[0], tip[1] - foot[1]);
    let length = dx.hypot(dy);
    if length < SHORTEST {
        return;
    }
    let [shaft, head] = sense.classes();
    let (ux, uy) = (dx / length, dy / length);
    let size = length.min(10.0);
    let neck = [tip[0] - size * ux, tip[1] - size * uy];
    let wing = |side: f64| [neck[0] - side * 0.4 * size * uy, neck[1] + side * 0.4 * size * ux];
    pen.pixel_line(shaft, foot, neck);
    pen.pixel_path(head, vec![tip, wing(1.0), wing(-1.0)], true);
}

/// Writes an arrow's force beside it.
fn label(pen: &mut Pen, arrow: &Arrow) {
    let Some((name, force)) = &arrow.label else { return };
    let (foot, tip) = (pen.at(&arrow.foot), pen.at(&arrow.tip));
    let pane = pen.pane();
    let seen = (tip[0] - foot[0]).hypot(tip[1] - foot[1]) >= SHORTEST;
    // Of what is in sight.
    let Some((foot, tip)) = pane.clip(foot, tip).filter(|_| seen) else { return };
    let room = pane.right - pane.left;
    let mut text = newtons(*force);
    if room > ROOM_FOR_WORDS {
        text.push_str(arrow.sense.word());
    }
    if room > ROOM_FOR_NAMES && !name.is_empty() {
        text = format!("{name} {text}");
    }
    let class = match arrow.sense {
        Sense::Load => "note force-label load",
        _ => "note force-label",
    };
    let middle = [f64::midpoint(foot[0], tip[0]), f64::midpoint(foot[1], tip[1])];
    pen.pixel_note(class, middle, [middle[0] + 9.0, middle[1] - 8.0], Anchor::Start, text);
}

/// Scale and line types, under the view's name and what else stands there.
fn legend(pen: &mut Pen, arrows: &Arrows) {
    const CLASS: &str = "note force-scale legend";
    let pane = pen.pane();
    let left = pane.left + 14.0;
    let lowest = pen.shapes.iter().filter_map(|shape| match shape {
        Shape::Text { class, at: [_, y], .. } if class.contains("legend") => Some(*y),
        _ => None,
    });
    let line = 17.0 * pen.letters();
    let top = lowest.fold(pane.top + 24.0, f64::max) + line;
    let [rate, force, length] = [Unit::NewtonPerMillimetre, Unit::Newton, Unit::Millimetre].map(Unit::here);
    let number = rate.short(arrows.newtons_per_mm, 3);
    let text = format!("arrows: {number} {} per {}", force.symbol, length.symbol);
    pen.pixel_text(CLASS, [left, top], Anchor::Start, text);
    let y = top + line;
    let samples = [
        (Sense::Pulled, "pulled"),
        (Sense::Pushed, "pushed"),
        (Sense::Across, "at a joint"),
        (Sense::Load, "load"),
    ];
    let (letters, gap) = (pen.letters(), 12.0);
    let wide = |word: &str| 30.0 + letters * labels::width(word) + gap;
    // The panel says the line types as well.
    if left + samples.iter().map(|(_, word)| wide(word)).sum::<f64>() - gap > pane.right {
        return;
    }
    let mut x = left;
    for (sense, word) in samples {
        pixel_arrow(pen, sense, [x, y - 4.0], [x + 26.0, y - 4.0]);
        pen.pixel_text(CLASS, [x + 30.0, y], Anchor::Start, word.into());
        x += wide(word);
    }
}

#[cfg(test)]
mod tests {
    use geometry_core::{
        linkage::Linkage,
        readings::Reader,
        setup::{Axle, Side, example},
        solve::Follower,
        statics::{Case, Given, Load, LoadAxes, ReactedBy, Statics},
    };

    use super::*;
    use crate::view::{Frame, PanZoom, Sheet};

    fn of(case: &Case, axle: Axle) -> (Corner, Placed, Forces, Arrows) {
        let document = example();
        let corner = document.corner(axle).expect("a corner").clone();
        let linkage = Linkage::new(&corner, Side::Left).expect("a linkage");
        let position = *Follower::new(&linkage).position();
        let statics = Statics::new(&corner, &linkage);
        let loads = statics.loads(case, &document.vehicle, axle).expect("all is given");
        let forces = statics.forces(&position, &loads, &Given::default()).expect("it is held");
        let contact = Vec3::from(Reader::new(&linkage, &document.vehicle, axle).read(&position).contact);
        let placed = Placed::new(&corner, Some((&linkage, &position)));
        let along = |load: &Load| (load.at, load.in_axes_of_vehicle(&linkage, &position));
        let loads: Vec<(LoadPoint, Point)> = loads.iter().map(along).collect();
        let arrows = arrows(&corner, &placed, &contact, &loads, &forces);
        (corner, placed, forces, arrows)
    }

    fn sideways(force: f64) -> Case {
        let (at, force) = (LoadPoint::Contact, [0.0, force, 0.0]);
        let load = Load { at, force, axes: LoadAxes::Vehicle, reacted_by: ReactedBy::Nothing };
        Case::Free { loads: vec![load] }
    }

    /// The arrow at a joint: its head is there when it pushes, its foot when it pulls.
    fn at(arrows: &Arrows, point: &Vec3) -> Arrow {
        let here = |arrow: &&Arrow| {
            let end = if arrow.sense == Sense::Pushed { arrow.tip } else { arrow.foot };
            (end - point).norm() < 1e-9
        };
        arrows.list.iter().find(here).expect("an arrow at the joint").clone()
    }

    #[test]
    fn arrows_are_the_forces_to_scale_on_the_members_side() {
        let mut bent = 0;
        for axle in [Axle::Front, Axle::Rear] {
            let (_, placed, forces, arrows) = of(&Case::FrictionBraking { g: 1.0 }, axle);
            for (i, link) in forces.links.iter().enumerate() {
                let outboard = placed.at(PointPath::LinkOutboard(i)).expect("a joint");
                let inboard = placed.at(PointPath::LinkInboard(i)).expect("a joint");
                let arrow = at(&arrows, &outboard);
                let force = (arrow.tip - arrow.foot) * arrows.newtons_per_mm;
                assert!((force - Vec3::from(link.on_knuckle)).norm() < 1e-6, "{}", link.id);
                let along = link.axial.abs() / Vec3::from(link.on_knuckle).norm();
                assert_eq!(arrow.sense == Sense::Across, along < ALONG, "{}: {along}", link.id);
                if arrow.sense == Sense::Across {
                    bent += 1;
                    continue;
                }
                assert_eq!(arrow.sense == Sense::Pulled, link.axial > 0.0, "{}", link.id);
                let middle = 0.5 * (arrow.foot + arrow.tip);
                assert!(
                    (middle - outboard).dot(&(inboard - outboard)) > 0.0,
                    "{} lies off its arrow",
                    link.id
                );
                let reach = (arrow.tip - arrow.foot).norm();
                assert!(reach <= OF_MEMBER * (inboard - outboard).norm() + 1e-9);
            }
        }
        assert_eq!(bent, 1, "the front's link that carries the spring, and no other");
    }

    #[test]
    fn a_load_the_other_way_turns_every_arrow_round() {
        let (_, placed, _, one) = of(&sideways(2000.0), Axle::Front);
        let (_, _, _, other) = of(&sideways(-2000.0), Axle::Front);
        assert_eq!(one.newtons_per_mm, other.newtons_per_mm);
        for path in [PointPath::ArmBallJoint(0), PointPath::LinkOutboard(0), PointPath::LinkInboard(2)] {
            let point = placed.at(path).expect("a joint");
            let (one, other) = (at(&one, &point), at(&other, &point));
            assert_ne!(one.sense, other.sense, "{path}");
            let sum = (one.tip - one.foot) + (other.tip - other.foot);
            assert!(sum.norm() < 1e-9, "{path}");
        }
    }

    #[test]
    fn scales_are_round_and_large_enough() {
        for (needed, round) in [(0.9, 1.0), (1.0, 1.0), (1.1, 1.5), (3.5, 4.0), (8.1, 10.0), (31.0, 40.0)] {
            assert!((round_scale(needed) - round).abs() < 1e-12, "{needed}");
        }
        assert_eq!(round_scale(0.0), 1.0);
        let (_, _, _, arrows) = of(&Case::Free { loads: vec![] }, Axle::Front);
        assert!(arrows.list.is_empty());
    }

    #[test]
    fn every_view_has_its_arrows_and_labels_and_the_front_view_the_scale() {
        for (width, height) in [(900.0, 700.0), (390.0, 375.0)] {
            for case in Case::usual() {
                let (corner, _, _, arrows) = of(&case, Axle::Front);
                let points = corner.points().into_iter().map(|(_, point)| Vec3::from(point));
                let frame = Frame::around(points, &corner.wheel.centre.into(), corner.wheel.loaded_radius);
                let sheet = Sheet::new(frame, width, height, PanZoom::default());
                for view in View::ALL {
                    let mut shapes = Vec::new();
                    draw(&mut Pen::new(&sheet, view, &mut shapes), &arrows);
                    let of_class = |name: &str| {
                        let has = |shape: &&Shape| match shape {
                            Shape::Line { class, .. } | Shape::Text { class, .. } => class.contains(name),
                            Shape::Circle { .. } => false,
                        };
                        shapes.iter().filter(has).count()
                    };
                    // From above little is seen of a load straight up.
                    let least = if view == View::Plan { 1 } else { 4 };
                    let along =
                        of_class("force pulled") + of_class("force pushed") + of_class("force across");
                    assert!(along >= least, "{view:?} {case:?} {width}: {along}");
                    assert!(view == View::Plan || of_class("force-label") > 1, "{view:?} {case:?}");
                    let legend = if width > 800.0 { 5 } else { 1 };
                    assert_eq!(of_class("force-scale"), if view == View::Front { legend } else { 0 });
                    let ends = shapes.iter().filter_map(|shape| match shape {
                        Shape::Text { class, at, text, anchor, .. } if class.contains("legend") => {
                            Some(labels::extent(*at, text, *anchor, sheet.letters()).right)
                        }
                        _ => None,
                    });
                    assert!(ends.fold(0.0, f64::max) <= sheet.pane(view).right, "{view:?} {width}");
                    let words = shapes.iter().any(|shape| match shape {
                        Shape::Text { class, text, .. } => {
                            class.contains("force-label") && text.ends_with("ed")
                        }
                        _ => false,
                    });
                    assert!(width > 800.0 || !words, "a narrow pane has numbers alone");
                    assert!(view == View::Plan || width < 800.0 || words, "{view:?} {case:?}");
                }
            }
        }
    }
}

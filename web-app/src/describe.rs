//! State → words for people: names of readings, signs said in words, sentences.

pub mod axle;
pub mod beside;
pub mod curves;
pub mod doubt;
pub mod finding;
pub mod forces;
pub mod input;
pub mod reading;
pub mod sensitivity;
pub mod setup;
pub mod whole_car;

use std::fmt::Write as _;

use geometry_core::{
    linkage::LinkageError,
    readings::{Quantity, Readings, quantity},
    setup::{Axle, Corner, Side},
    solve::Outcome,
    tyre::{LOADED_SHARE, Size},
};

use crate::{
    edit::{MemberPath, Part, PointPath},
    numbers::{format_number, shows_zero},
    units::Unit,
    view::View,
    with_unit::retold,
};

/// What a reading is called on the page. Anti-percentages are called after what they
/// resist on the axle.
#[must_use]
pub fn label(quantity: Quantity, axle: Axle) -> &'static str {
    let front = axle == Axle::Front;
    match quantity {
        Quantity::Camber => "Camber",
        Quantity::Toe => "Toe",
        Quantity::CamberGain => "Camber gain",
        Quantity::BumpSteer => "Bump steer",
        Quantity::HalfTrackChange => "Half-track change",
        Quantity::WheelbaseChange => "Wheelbase change",
        Quantity::RollCentreHeight => "Roll centre height",
        Quantity::FrontViewSwingArm => "Swing arm, front view",
        Quantity::SideViewSwingArm => "Swing arm, side view",
        Quantity::ContactSlopeX => "Contact slope, side view",
        Quantity::ContactSlopeY => "Contact slope, front view",
        Quantity::HubSlopeX => "Hub slope, side view",
        Quantity::KingpinInclination => "Kingpin inclination",
        Quantity::Caster => "Caster",
        Quantity::ScrubRadius => "Scrub radius",
        Quantity::MechanicalTrail => "Mechanical trail",
        Quantity::HubOffset => "Hub offset",
        Quantity::HubTrail => "Hub trail",
        Quantity::ScrewPitch => "Screw pitch of steering",
        Quantity::SpringLength => "Spring length",
        Quantity::SpringMotionRatio => "Spring motion ratio",
        Quantity::DamperLength => "Damper length",
        Quantity::DamperMotionRatio => "Damper motion ratio",
        Quantity::AntiBrakingFriction if front => "Anti-dive, friction brake",
        Quantity::AntiBrakingFriction => "Anti-lift, friction brake",
        Quantity::AntiBrakingShaft if front => "Anti-dive, regeneration",
        Quantity::AntiBrakingShaft => "Anti-lift, regeneration",
        Quantity::AntiDrivingShaft if front => "Anti-lift, drive shaft",
        Quantity::AntiDrivingShaft => "Anti-squat, drive shaft",
        Quantity::AntiDrivingHub if front => "Anti-lift, hub motor",
        Quantity::AntiDrivingHub => "Anti-squat, hub motor",
    }
}

/// The question that heads a group of readings.
#[must_use]
pub fn question(question: quantity::Question) -> &'static str {
    match question {
        quantity::Question::Stands => "How does the wheel stand?",
        quantity::Question::Steers => "Where does it steer about?",
        quantity::Question::Moves => "How does it move?",
        quantity::Question::Leans => "How does the body lean and pitch?",
        quantity::Question::Springs => "What reaches the spring?",
    }
}

/// The page's unit for a quantity's.
#[must_use]
pub fn unit(quantity: Quantity) -> Unit {
    unit_of(quantity.unit())
}

/// The page's unit for one of the core's.
#[must_use]
pub fn unit_of(unit: quantity::Unit) -> Unit {
    match unit {
        quantity::Unit::Millimetre => Unit::Millimetre,
        quantity::Unit::Degree => Unit::Degree,
        quantity::Unit::DegreePerMillimetre => Unit::DegreePerMillimetre,
        quantity::Unit::Ratio => Unit::Ratio,
        quantity::Unit::MillimetrePerRadian => Unit::MillimetrePerRadian,
        quantity::Unit::Percent => Unit::Percent,
    }
}

/// A value with its unit.
#[must_use]
pub fn value(quantity: Quantity, value: f64) -> String {
    unit(quantity).show(value)
}

/// Why the other axle is not drawn although it is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// It is not described.
    Corner(Axle),
    /// Both corners stand in one place, and no wheelbase parts them.
    Wheelbase,
}

/// What is missing for both axles to be drawn.
#[must_use]
pub fn both_axles_lack(lack: Lack) -> &'static str {
    match lack {
        Lack::Corner(Axle::Front) => "The front corner is not described: one axle is shown",
        Lack::Corner(Axle::Rear) => "The rear corner is not described: one axle is shown",
        Lack::Wheelbase => "Both corners stand in one place: give the wheelbase under Car and wheel",
    }
}

/// Why a corner, which is called `of`, is none: with the names of its points instead of their paths.
#[must_use]
pub fn fault(corner: &Corner, of: &str, error: LinkageError) -> String {
    with_names(error.within(of).to_string(), of, corner)
}

/// A sentence about a corner, which is called `of`, with the names of its points and members instead of their paths.
#[must_use]
pub fn with_names(mut sentence: String, of: &str, corner: &Corner) -> String {
    for member in MemberPath::all(corner) {
        let id = member.id(corner).unwrap_or_default();
        sentence = sentence.replace(&format!("{of}.{member}.id"), &format!("the name of “{id}”"));
    }
    for path in PointPath::all(corner) {
        let (path, name) = (format!("{of}.{path}"), point_name(path, corner));
        if !sentence.contains(&path) {
            continue;
        }
        for (i, axis) in ["x", "y", "z"].into_iter().enumerate() {
            sentence = sentence.replace(&format!("{path}[{i}]"), &format!("“{name}, {axis}”"));
        }
        sentence = sentence.replace(&path, &format!("“{name}”"));
    }
    retold(&sentence)
}

/// What a view is called where there is little room.
#[must_use]
pub fn short_view(view: View) -> &'static str {
    match view {
        View::Front => "Front",
        View::Side => "Side",
        View::Plan => "Plan",
    }
}

/// What a view of a side's corner is called. A right corner is drawn like a left one.
#[must_use]
pub fn view(view: View, side: Side) -> &'static str {
    match (view, side) {
        (View::Side, Side::Right) => "View from the right, mirrored",
        _ => view.name(),
    }
}

/// What has to be said of a reading of one wheel while the body leans (`rolls`) or the right wheel does not stand
/// as the left one does (`unlike`); none where it reads the same either way.
#[must_use]
pub fn under_lean(quantity: Quantity, rolls: bool, unlike: bool) -> Option<&'static str> {
    match quantity {
        Quantity::RollCentreHeight if unlike => Some("if both wheels were alike; see Both wheels"),
        Quantity::Camber | Quantity::KingpinInclination if rolls => Some("against the leaning body"),
        _ => None,
    }
}

/// Of a corner's roll centre where the right wheel is not alike: what the axle's is, mm above the ground.
#[must_use]
pub fn axles_roll_centre(height: f64) -> String {
    let height = Unit::Millimetre.show(height);
    format!("if symmetric; the axle’s: {height}")
}

/// What the sign means, in words; empty where the sign says nothing.
#[must_use]
pub fn sign(quantity: Quantity, value: f64, axle: Axle) -> &'static str {
    if shows_zero(&unit(quantity).here().number(value)) {
        return "";
    }
    let pick = |plus, minus| if value > 0.0 { plus } else { minus };
    match quantity {
        Quantity::Camber => pick("top leans out", "top leans in"),
        Quantity::Toe => pick("front points in", "front points out"),
        Quantity::CamberGain => pick("top moves out as the wheel rises", "top moves in as the wheel rises"),
        Quantity::BumpSteer => pick("toes in as the wheel rises", "toes out as the wheel rises"),
        Quantity::HalfTrackChange => pick("contact moved out", "contact moved in"),
        Quantity::WheelbaseChange => pick("wheel moved forward", "wheel moved back"),
        Quantity::RollCentreHeight => pick("above the contact", "below the contact"),
        Quantity::KingpinInclination => pick("top leans in", "top leans out"),
        Quantity::Caster => pick("top leans back", "top leans forward"),
        Quantity::ScrubRadius => pick("contact outboard of the axis", "contact inboard of the axis"),
        Quantity::MechanicalTrail => pick("axis ahead of the contact", "axis behind the contact"),
        Quantity::HubOffset => pick("hub outboard of the axis", "hub inboard of the axis"),
        Quantity::HubTrail => pick("axis ahead of the hub", "axis behind the hub"),
        Quantity::ContactSlopeX | Quantity::HubSlopeX => {
            pick("forward as the wheel rises", "back as the wheel rises")
        }
        Quantity::ContactSlopeY => pick("outward as the wheel rises", "inward as the wheel rises"),
        Quantity::AntiBrakingFriction | Quantity::AntiBrakingShaft => match axle {
            Axle::Front => pick("resists dive", "adds to dive"),
            Axle::Rear => pick("resists lift", "adds to lift"),
        },
        Quantity::AntiDrivingShaft | Quantity::AntiDrivingHub => match axle {
            Axle::Front => pick("resists lift", "adds to lift"),
            Axle::Rear => pick("resists squat", "adds to squat"),
        },
        Quantity::FrontViewSwingArm
        | Quantity::SideViewSwingArm
        | Quantity::ScrewPitch
        | Quantity::SpringLength
        | Quantity::SpringMotionRatio
        | Quantity::DamperLength
        | Quantity::DamperMotionRatio => "",
    }
}

/// Why a reading does not exist, where there is no room to name each input; the table does.
#[must_use]
pub fn missing(quantity: Quantity, readings: &Readings) -> &'static str {
    match quantity {
        Quantity::KingpinInclination
        | Quantity::Caster
        | Quantity::ScrubRadius
        | Quantity::MechanicalTrail
        | Quantity::HubOffset
        | Quantity::HubTrail
        | Quantity::ScrewPitch => "no steering axis",
        Quantity::SpringLength | Quantity::SpringMotionRatio => "no spring described",
        Quantity::DamperLength | Quantity::DamperMotionRatio => "no damper described",
        Quantity::FrontViewSwingArm | Quantity::SideViewSwingArm => "lines are parallel: infinitely long",
        Quantity::AntiBrakingFriction | Quantity::AntiBrakingShaft if readings.contact_slope_x.is_some() => {
            "needs wheelbase, centre-of-gravity height and brake share"
        }
        Quantity::AntiDrivingShaft | Quantity::AntiDrivingHub if readings.contact_slope_x.is_some() => {
            "needs wheelbase, centre-of-gravity height and drive share"
        }
        _ => "the contact does not rise with the wheel",
    }
}

/// What a point is called: the member's own name and the point's place on it.
#[must_use]
pub fn point_name(path: PointPath, corner: &Corner) -> String {
    let member = |id: Option<&String>, place: &str| match id {
        Some(id) => format!("{id}, {place}"),
        None => place.to_string(),
    };
    let arm = |i: usize, place| member(corner.arms.get(i).map(|arm| &arm.id), place);
    let link = |i: usize, place| member(corner.links.get(i).map(|link| &link.id), place);
    let strut = |place| member(corner.strut.as_ref().map(|strut| &strut.id), place);
    match path {
        PointPath::ArmFrontPivot(i) => arm(i, "front pivot"),
        PointPath::ArmRearPivot(i) => arm(i, "rear pivot"),
        PointPath::ArmBallJoint(i) => arm(i, "ball joint"),
        PointPath::LinkInboard(i) => link(i, "inboard"),
        PointPath::LinkOutboard(i) => link(i, "outboard"),
        PointPath::StrutTopMount => strut("top mount"),
        PointPath::StrutLowerEnd => strut("lower end"),
        PointPath::HingePivot(i) => member(
            corner.hinge.as_ref().map(|hinge| &hinge.id),
            if i == 0 { "first pivot" } else { "second pivot" },
        ),
        PointPath::WheelCentre => "wheel centre".into(),
        PointPath::SpringBody => "spring, body end".into(),
        PointPath::SpringCarried => "spring, moving end".into(),
        PointPath::DamperBody => "damper, body end".into(),
        PointPath::DamperCarried => "damper, moving end".into(),
        PointPath::RockerAxis(_) => member(corner.rocker.as_ref().map(|rocker| &rocker.id), place_name(path)),
        PointPath::RockerRodEnd => "rod, end on the rocker".into(),
        PointPath::RockerCarried => "rod, other end".into(),
        PointPath::BarAxis(_) => format!("anti-roll bar, {}", place_name(path)),
        PointPath::BarArmEnd => "drop link, end on the bar".into(),
        PointPath::BarCarried => "drop link, other end".into(),
    }
}

/// What a point is called in its member's own table.
#[must_use]
pub fn place_name(path: PointPath) -> &'static str {
    match path {
        PointPath::ArmFrontPivot(_) => "front pivot",
        PointPath::ArmRearPivot(_) => "rear pivot",
        PointPath::ArmBallJoint(_) => "ball joint",
        PointPath::LinkInboard(_) => "inboard",
        PointPath::LinkOutboard(_) => "outboard",
        PointPath::StrutTopMount => "top mount",
        PointPath::StrutLowerEnd => "lower end",
        PointPath::HingePivot(0) => "first pivot",
        PointPath::HingePivot(_) => "second pivot",
        PointPath::WheelCentre => "centre",
        PointPath::SpringBody | PointPath::DamperBody => "body end",
        PointPath::SpringCarried | PointPath::DamperCarried => "moving end",
        PointPath::RockerAxis(0) | PointPath::BarAxis(0) => "axis, first",
        PointPath::RockerAxis(_) | PointPath::BarAxis(_) => "axis, second",
        PointPath::RockerRodEnd => "rod on rocker",
        PointPath::RockerCarried => "rod, other end",
        PointPath::BarArmEnd => "link on bar",
        PointPath::BarCarried => "link, other end",
    }
}

/// What stood on a member that is gone, and what to do about it; none where nothing did.
#[must_use]
pub fn left_without_carrier(id: &str, parts: &[Part]) -> Option<String> {
    let (last, others) = parts.split_last()?;
    let mut names = others.iter().map(|part| part.name()).collect::<Vec<_>>().join(", ");
    if !names.is_empty() {
        names += " and ";
    }
    let (stands, its) = if others.is_empty() { ("stands", "its") } else { ("stand", "their") };
    Some(format!(
        "The {names}{} {stands} on “{id}”, which is gone; choose {its} carrier under Pivots, or undo.",
        last.name()
    ))
}

/// How many of the knuckle's freedoms the members hold, what that leaves, and what to do
/// where it is not one.
#[must_use]
pub fn freedoms(held: usize) -> String {
    match held {
        5 => "5 of 5 held: one motion left, the wheel\u{2019}s travel.".into(),
        0..5 => {
            const WORDS: [&str; 5] = ["six", "five", "four", "three", "two"];
            let left = WORDS.get(held).copied().unwrap_or_default();
            let lacking = 5 - held;
            format!(
                "{held} of 5 held: {left} motions left where one is meant. Add members that hold {lacking} more; \
                 until then the corner cannot be read."
            )
        }
        _ => {
            let over = held - 5;
            format!(
                "{held} held where 5 are meant: no motion is left. Remove members that hold {over}; until then \
                 the corner cannot be read."
            )
        }
    }
}

/// What a tyre's size means for the wheel.
#[must_use]
pub fn tyre(text: &str) -> String {
    match Size::read(text) {
        Some(size) => {
            let lengths =
                [size.section_width, size.rim_diameter, size.diameter, size.loaded_radius_estimate()];
            let [width, rim, diameter, loaded] = lengths.map(|length| Unit::Millimetre.here().rough(length));
            format!(
                "Section {width}, rim {rim}, diameter {diameter} new and without load. Loaded radius about {loaded} \
                 ({} of the free radius: common practice; a measured one is better).",
                format_number(LOADED_SHARE, 2),
            )
        }
        None => format!("“{text}” is not a tyre size such as 235/40 R18; the text is kept."),
    }
}

/// The beginning of a sentence.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().to_string()).unwrap_or_default() + letters.as_str()
}

/// Where a corner stands: `travel 12.0 mm, rack 0.0 mm`.
#[must_use]
pub fn at(travel: f64, rack: f64) -> String {
    let scale = Unit::Millimetre.here();
    format!("travel {}, rack {}", scale.show(travel), scale.show(rack))
}

/// Why the wheel does not go where the sliders ask.
#[must_use]
pub fn why_stopped(outcome: &Outcome) -> String {
    let last = outcome.stop().map(|stop| stop.last).unwrap_or_default();
    let at = at(last.travel, last.rack);
    match outcome {
        Outcome::Solved(_) => String::new(),
        Outcome::OutOfReach(_) => format!("The linkage ends at {at}; the drawing stands there."),
        Outcome::DeadPoint(_) => {
            format!("At {at} the members leave the wheel no definite motion; the drawing stands there.")
        }
        Outcome::OtherAssembly(_) => {
            format!(
                "Beyond {at} the linkage would have to be assembled another way; the drawing stands there."
            )
        }
        Outcome::Stalled(_) => format!("The search stopped at {at}; the drawing stands there."),
    }
}

/// What stands in place of the words of a reading that there is no linkage for.
pub const NO_LINKAGE: &str = "no linkage to read";

/// Which corner stands how, for a screen reader.
#[derive(Debug, Clone, Copy)]
pub struct Standing {
    /// Its axle.
    pub axle: Axle,
    /// Its side.
    pub side: Side,
    /// Wheel travel and rack, mm.
    pub travel: f64,
    /// + to the left.
    pub rack: f64,
    /// How far the body leans, °, + to the right.
    pub roll: f64,
}

/// The corner's state as one sentence for a screen reader, with the words that stand beside its readings.
#[must_use]
pub fn summary<W: AsRef<str>>(
    readings: &Readings,
    standing: Standing,
    words: impl Fn(Quantity, f64) -> W,
) -> String {
    let Standing { axle, side, travel, rack, roll } = standing;
    let corner = match (axle, side, roll == 0.0) {
        (Axle::Front, Side::Right, _) => "Front right corner",
        (Axle::Rear, Side::Right, _) => "Rear right corner",
        (Axle::Front, Side::Left, true) => "Front corner",
        (Axle::Rear, Side::Left, true) => "Rear corner",
        (Axle::Front, Side::Left, false) => "Front left corner",
        (Axle::Rear, Side::Left, false) => "Rear left corner",
    };
    let length = |length: f64| Unit::Millimetre.show(length);
    let mut text = format!("{corner} at travel {}, rack {}", length(travel), length(rack));
    if roll != 0.0 {
        // Writing to a String cannot fail.
        let _ = write!(text, ", body roll {}", Unit::Degree.show(roll));
    }
    for quantity in [
        Quantity::Camber,
        Quantity::Toe,
        Quantity::RollCentreHeight,
        Quantity::Caster,
        Quantity::KingpinInclination,
        Quantity::ScrubRadius,
    ] {
        if let Some(number) = quantity.value(readings) {
            let words = words(quantity, number);
            let words = words.as_ref();
            let comma = if words.is_empty() { "" } else { ", " };
            let name = label(quantity, axle).to_lowercase();
            // Writing to a String cannot fail.
            let _ = write!(text, "; {name} {}{comma}{words}", value(quantity, number));
        }
    }
    text + "."
}

//! Edits are made, refused in sentences, and never touch what they were given.

use geometry_core::{
    bounds::Bound,
    linkage::Linkage,
    setup::{Hinge, Rocker, Side, Strut, TorsionBar, example},
};
use proptest::prelude::*;

use super::*;

mod points;

const FRONT: Axle = Axle::Front;

/// A corner with every kind of member and part; far too many to be assembled.
pub(crate) fn corner_with_everything() -> Corner {
    let mut corner = front(&example());
    corner.strut =
        Some(Strut { id: "strut".into(), top_mount: [-40.0, 600.0, 840.0], lower_end: [-5.0, 700.0, 330.0] });
    corner.hinge = Some(Hinge { id: "hinge".into(), pivots: [[400.0, 670.0, 320.0], [300.0, 270.0, 330.0]] });
    corner.rocker = Some(Rocker {
        id: "rocker".into(),
        axis: [[20.0, 470.0, 570.0], [-20.0, 470.0, 570.0]],
        rod_end: [0.0, 530.0, 610.0],
        carried: [0.0, 640.0, 190.0],
        on: "lower-lateral".into(),
    });
    corner.torsion_bar = Some(TorsionBar { on: "upper-arm".into(), rate: Some(55.0) });
    if let Some(spring) = &mut corner.spring {
        spring.free_length = Some(480.0);
    }
    corner
}

fn front(document: &Document) -> Corner {
    document.front.clone().expect("the example has a front corner")
}

fn applied(document: &Document, edits: &[Edit]) -> Document {
    edits.iter().fold(document.clone(), |document, edit| edit.apply(&document).expect("a valid edit"))
}

fn refusal(edit: &Edit) -> String {
    edit.apply(&example()).expect_err("an edit to be refused").to_string()
}

#[test]
fn points_and_coordinates_move_alone() {
    let before = example();
    let path = PointPath::ArmBallJoint(0);
    let after = applied(
        &before,
        &[
            Edit::SetPoint { axle: FRONT, path, point: [1.0, 2.0, 3.0] },
            Edit::SetCoordinate { axle: FRONT, path, coordinate: Coordinate::Z, value: 482.5 },
        ],
    );
    let mut expected = before.clone();
    expected.front.as_mut().expect("front").arms[0].ball_joint = [1.0, 2.0, 482.5];
    assert_eq!(after, expected);
    assert_eq!(before, example());
    let points = vec![(PointPath::WheelCentre, [0.0, 800.0, 312.0]), (PointPath::LinkInboard(9), [0.0; 3])];
    assert_eq!(
        refusal(&Edit::SetPoints { axle: FRONT, points }),
        "front.links[9].inboard: the corner has no such point"
    );
}

/// A field of every kind.
pub(crate) fn all_numbers() -> Vec<NumberField> {
    vec![
        NumberField::Wheelbase,
        NumberField::Mass,
        NumberField::FrontMassShare,
        NumberField::CgHeight,
        NumberField::BrakeFrontShare,
        NumberField::DriveFrontShare,
        NumberField::LoadedRadius(FRONT),
        NumberField::Camber(FRONT),
        NumberField::Toe(Axle::Rear),
        NumberField::SpringRate(Axle::Rear),
        NumberField::RegenerationShare,
        NumberField::RegenerationFrontShare,
        NumberField::TyreRate(FRONT),
        NumberField::RimWidth(FRONT),
        NumberField::RimOffset(FRONT),
        NumberField::DiscDiameter(FRONT),
        NumberField::DiscThickness(Axle::Rear),
        NumberField::DiscInset(FRONT),
        NumberField::FreeLength(FRONT),
        NumberField::BarRate(Axle::Rear),
        NumberField::RackTravel(FRONT),
        NumberField::BumpTravel(FRONT),
        NumberField::ReboundTravel(Axle::Rear),
        NumberField::PartMass(FRONT, 3),
        NumberField::PartShare(FRONT, 0),
    ]
}

#[test]
fn numbers_out_of_range_are_refused_by_name_and_value() {
    let set = |field, value| Edit::SetNumber { field, value };
    assert_eq!(
        refusal(&set(NumberField::LoadedRadius(FRONT), Some(-5.0))),
        "front.wheel.loaded_radius must lie between 50 and 2000 mm; it is −5"
    );
    assert_eq!(
        refusal(&set(NumberField::LoadedRadius(FRONT), None)),
        "front.wheel.loaded_radius is empty; a number between 50 and 2000 mm is needed"
    );
    assert_eq!(
        refusal(&Edit::SetCoordinate {
            axle: Axle::Rear,
            path: PointPath::SpringBody,
            coordinate: Coordinate::Y,
            value: f64::NAN
        }),
        "rear.spring.body[1] must lie between −20000 and 20000 mm; it is not a number"
    );
    for field in all_numbers() {
        let Bound { least, most, .. } = field.bound();
        for value in [least, most] {
            assert_eq!(field.get(&applied(&example(), &[set(field, Some(value))])), Some(value));
        }
        assert!(refusal(&set(field, Some(most * 1.001))).starts_with(&field.path()));
        if field.may_be_empty() {
            let emptied = field.get(&applied(&example(), &[set(field, None)]));
            assert!(matches!(emptied, None | Some(0.0)), "{field:?}");
        } else {
            assert!(refusal(&set(field, None)).starts_with(&format!("{} is empty", field.path())));
        }
    }
}

#[test]
fn texts_are_set_and_limited() {
    let text = |field, text: &str| Edit::SetText { field, text: text.into() };
    let after = applied(
        &example(),
        &[
            text(TextField::Title, "Birch"),
            text(TextField::Note, ""),
            text(TextField::Tyre(FRONT), "205/55 R16"),
        ],
    );
    assert_eq!((after.title.as_str(), after.note.as_str()), ("Birch", ""));
    assert_eq!(front(&after).wheel.tyre.as_deref(), Some("205/55 R16"));
    assert_eq!(front(&applied(&after, &[text(TextField::Tyre(FRONT), "")])).wheel.tyre, None);
    assert_eq!(
        refusal(&text(TextField::Title, &"x".repeat(201))),
        "title may have at most 200 characters; it has 201"
    );
}

#[test]
fn new_members_have_names_and_places_of_their_own() {
    let mut document = example();
    for kind in [MemberKind::Link, MemberKind::Link, MemberKind::Arm, MemberKind::Strut, MemberKind::Hinge] {
        document = applied(&document, &[Edit::AddMember { axle: FRONT, kind }]);
    }
    document = applied(&document, &[Edit::AddPart { axle: FRONT, part: Part::Rocker }]);
    let corner = front(&document);
    let ids: Vec<&str> = corner.ids().collect();
    assert_eq!(ids[5..7], ["link", "link-2"]);
    assert_eq!(ids[1], "arm");
    assert_eq!(ids.last(), Some(&"rocker"));
    // The damper stands inside the spring.
    document = applied(&document, &[Edit::RemovePart { axle: FRONT, part: Part::Damper }]);
    let corner = front(&document);
    let mut places: Vec<String> = corner.points().iter().map(|(_, point)| format!("{point:?}")).collect();
    places.sort();
    places.dedup();
    assert_eq!(places.len(), corner.points().len(), "two new points at one place");
    for kind in [MemberKind::Strut, MemberKind::Hinge] {
        let error = Edit::AddMember { axle: FRONT, kind }.apply(&document).expect_err("one already");
        let kind = kind.name();
        assert_eq!(error.to_string(), format!("front: the corner already has a {kind}; it may have one"));
    }
    let mut full = example();
    let error = loop {
        match (Edit::AddMember { axle: FRONT, kind: MemberKind::Link }).apply(&full) {
            Ok(next) => full = next,
            Err(error) => break error,
        }
    };
    assert_eq!(error.to_string(), "front.links may hold at most 12 members; it holds 13");
}

#[test]
fn a_link_taken_out_and_one_added_make_a_corner_again() {
    let member = MemberPath::Link(1);
    let four = applied(&example(), &[Edit::RemoveMember { axle: FRONT, member }]);
    assert_eq!(front(&four).freedoms_removed(), 4);
    let five = applied(&four, &[Edit::AddMember { axle: FRONT, kind: MemberKind::Link }]);
    assert!(Linkage::new(&front(&five), Side::Left).is_ok());
    assert_eq!(
        refusal(&Edit::RemoveMember { axle: FRONT, member: MemberPath::Link(3) }),
        "front.links[3]: the corner has no such member"
    );
}

#[test]
fn removing_the_carrier_leaves_the_spring_and_the_core_says_so() {
    let after = applied(&example(), &[Edit::RemoveMember { axle: FRONT, member: MemberPath::Link(0) }]);
    assert_eq!(Part::Spring.carrier(&front(&after)), Some("lower-lateral"));
    let again = applied(&after, &[Edit::AddMember { axle: FRONT, kind: MemberKind::Link }]);
    assert!(matches!(Linkage::new(&front(&again), Side::Left), Err(LinkageError::UnknownCarrier { .. })));
}

#[test]
fn a_new_name_goes_along_with_what_it_carries() {
    let rename = |member, name: &str| Edit::RenameMember { axle: FRONT, member, name: name.into() };
    let after = applied(&example(), &[rename(MemberPath::Link(0), "  track rod ")]);
    let corner = front(&after);
    assert_eq!(
        (corner.links[0].id.as_str(), Part::Spring.carrier(&corner)),
        ("track rod", Some("track rod"))
    );
    assert_eq!(applied(&after, &[rename(MemberPath::Link(0), "track rod")]), after);
    assert_eq!(
        refusal(&rename(MemberPath::Arm(0), "tie-rod")),
        "front.id “tie-rod” is given to two members; each needs its own"
    );
    for name in ["", "   ", KNUCKLE] {
        assert!(refusal(&rename(MemberPath::Arm(0), name)).starts_with("front.id"));
    }
    let mut twice = example();
    twice.front.as_mut().expect("front").links[1].id = "lower-lateral".into();
    let after = applied(&twice, &[rename(MemberPath::Link(1), "other")]);
    assert_eq!(Part::Spring.carrier(&front(&after)), Some("lower-lateral"));
}

#[test]
fn one_link_steers_or_none() {
    let steers = |link| Edit::SetSteers { axle: FRONT, link };
    let steering = |document: &Document| front(document).links.iter().position(|link| link.steers);
    assert_eq!(steering(&applied(&example(), &[steers(Some(0))])), Some(0));
    assert_eq!(steering(&applied(&example(), &[steers(None)])), None);
    assert_eq!(refusal(&steers(Some(3))), "front.links[3]: the corner has no such member");
    let direction = Some([0.0, 1.0, 0.1]);
    let after = applied(&example(), &[Edit::SetRackDirection { axle: FRONT, direction }]);
    assert_eq!(front(&after).rack_direction, direction);
}

fn add(part: Part) -> Edit {
    Edit::AddPart { axle: FRONT, part }
}

fn remove_part(part: Part) -> Edit {
    Edit::RemovePart { axle: FRONT, part }
}

fn on(part: Part, on: &str) -> Edit {
    Edit::SetCarrier { axle: FRONT, part, on: on.into() }
}

const ALL: [Part; 7] = [
    Part::Spring,
    Part::Damper,
    Part::Rocker,
    Part::AntiRollBar,
    Part::TorsionBar,
    Part::Rim,
    Part::BrakeDisc,
];

#[test]
fn parts_come_and_go_in_every_kind_of_corner() {
    let mut none = example();
    for part in ALL {
        if part.is_in(&front(&none)) {
            none = applied(&none, &[remove_part(part)]);
        }
        let error = remove_part(part).apply(&none).expect_err("none").to_string();
        let (path, name) = (part.path(), part.name());
        assert_eq!(error, format!("front.{path}: the corner has no {name}; add one first"));
    }
    for kind in ["as it is", "strut", "hinge"] {
        let mut document = none.clone();
        let corner = document.front.as_mut().expect("front");
        let everything = corner_with_everything();
        match kind {
            "strut" => {
                corner.strut = everything.strut;
                corner.arms.clear();
            }
            "hinge" => {
                corner.hinge = everything.hinge;
                corner.arms.clear();
                corner.links.clear();
            }
            _ => {}
        }
        let turns = kind != "strut";
        for part in ALL.into_iter().filter(|part| turns || *part != Part::TorsionBar) {
            document = applied(&document, &[add(part)]);
            let linkage = Linkage::new(&front(&document), Side::Left);
            assert!(linkage.is_ok(), "{kind}, {part:?}: {linkage:?}");
        }
    }
    assert_eq!(
        refusal(&add(Part::AntiRollBar)),
        "front.anti_roll_bar: the corner already has an anti-roll bar; it may have one"
    );
}

#[test]
fn parts_stand_on_what_may_carry_them() {
    let knuckle = applied(&example(), &[on(Part::Spring, KNUCKLE)]);
    assert_eq!(Part::Spring.carrier(&front(&knuckle)), Some(KNUCKLE));
    assert_eq!(
        refusal(&on(Part::Spring, "roof")),
        "front.spring.on is “roof”, which is no member; it may be upper-arm, lower-lateral, lower-forward, tie-rod, knuckle"
    );
    assert!(refusal(&on(Part::Rocker, KNUCKLE)).contains("add one first"));
    assert!(refusal(&on(Part::Rim, KNUCKLE)).contains("no rim"));
    let more = applied(&example(), &[add(Part::Rocker), add(Part::TorsionBar)]);
    for part in [Part::Spring, Part::Damper, Part::AntiRollBar, Part::TorsionBar] {
        let after = applied(&more, &[on(part, "rocker")]);
        assert_eq!(part.carrier(&front(&after)), Some("rocker"));
    }
    assert!(on(Part::Rocker, "rocker").apply(&more).is_err());
    for carrier in [KNUCKLE, "tie-rod"] {
        assert!(on(Part::TorsionBar, carrier).apply(&more).is_err());
    }
    // What may carry a part is what the core says may.
    for part in Part::CARRIED {
        let mut corner = front(&more);
        *part.carrier_mut(&mut corner).expect("there") = "roof".into();
        match Linkage::new(&corner, Side::Left) {
            Err(LinkageError::UnknownCarrier { known, .. }) => assert_eq!(known, part.carriers(&corner)),
            other => panic!("{part:?}: {other:?}"),
        }
    }
}

#[test]
fn a_renamed_rocker_takes_along_what_stands_on_it() {
    let rocker = MemberPath::Rocker;
    let rename = |name: &str| Edit::RenameMember { axle: FRONT, member: rocker, name: name.into() };
    let after = applied(
        &example(),
        &[
            add(Part::Rocker),
            add(Part::TorsionBar),
            on(Part::Spring, "rocker"),
            on(Part::AntiRollBar, "rocker"),
            on(Part::TorsionBar, "rocker"),
            rename("bell crank"),
        ],
    );
    let corner = front(&after);
    assert_eq!(Part::on(&corner, "bell crank"), [Part::Spring, Part::AntiRollBar, Part::TorsionBar]);
    assert!(Linkage::new(&corner, Side::Left).is_ok());
    assert!(rename("tie-rod").apply(&after).is_err());
    let gone = applied(&after, &[Edit::RemoveMember { axle: FRONT, member: rocker }]);
    assert_eq!(front(&gone).rocker, None);
    assert!(matches!(Linkage::new(&front(&gone), Side::Left), Err(LinkageError::UnknownCarrier { .. })));
}

#[test]
fn parts_that_move_with_the_wheel_are_named_and_summed() {
    let edits = [
        Edit::AddUnsprung { axle: FRONT },
        Edit::SetText { field: TextField::PartName(FRONT, 4), text: "sensor".into() },
        Edit::SetNumber { field: NumberField::PartMass(FRONT, 4), value: Some(0.6) },
        Edit::SetNumber { field: NumberField::PartShare(FRONT, 4), value: Some(0.25) },
        Edit::RemoveUnsprung { axle: FRONT, number: 0 },
    ];
    let after = applied(&example(), &edits);
    assert_eq!(TextField::PartName(FRONT, 3).get(&after), "sensor");
    // 17 + 8.4/2 + 5.6/2 + 0.6/4
    assert!((front(&after).unsprung_mass().expect("some") - 24.15).abs() < 1e-12);
    assert_eq!(
        refusal(&Edit::RemoveUnsprung { axle: FRONT, number: 4 }),
        "front.unsprung[4]: no such part is named"
    );
    assert!(refusal(&edits[2]).contains("unsprung[4]"));
    let mut full = example();
    let error = loop {
        match (Edit::AddUnsprung { axle: FRONT }).apply(&full) {
            Ok(next) => full = next,
            Err(error) => break error,
        }
    };
    assert_eq!(error.to_string(), "front.unsprung may hold at most 12 members; it holds 13");
}

#[test]
fn brakes_and_drive_are_chosen_and_a_right_corner_goes_with_its_axle() {
    let after = applied(
        &example(),
        &[
            Edit::SetBrakes { axle: FRONT, brakes: Brakes::Inboard },
            Edit::SetDrive { axle: Axle::Rear, drive: Drive::Hub },
        ],
    );
    assert_eq!(front(&after).brakes, Brakes::Inboard);
    assert_eq!(after.rear.expect("rear").drive, Drive::Hub);
    let mut both = example();
    both.front_right = both.front.as_ref().map(Corner::mirrored);
    assert_eq!(applied(&both, &[Edit::MirrorRight { axle: FRONT }]), example());
    let corner = Box::new(front(&example()));
    assert_eq!(applied(&both, &[Edit::ReplaceCorner { axle: FRONT, corner }]), example());
    let camber = Edit::SetNumber { field: NumberField::Camber(FRONT), value: Some(-2.0) };
    assert_eq!(applied(&both, &[camber]).front_right, both.front_right);
}

#[test]
fn a_right_corner_begins_as_the_mirror_image_and_is_changed_through_it() {
    let right = |document: &Document| document.front_right.clone().expect("a right corner");
    let on_right = |edit: Edit| Edit::OnRight { axle: FRONT, edit: Box::new(edit) };
    let describe = Edit::DescribeRight { axle: FRONT };
    let both = applied(&example(), std::slice::from_ref(&describe));
    let mut expected = front(&example());
    expected.change_points(|_, point| point[1] = -point[1]);
    assert_eq!(right(&both), expected);
    // A bar's end at the centre plane has no negative zero, and a rack that was not said is not.
    assert!(right(&both).points().iter().flat_map(|(_, p)| p).all(|v| *v != 0.0 || v.is_sign_positive()));
    assert_eq!(right(&both).rack_direction, None);
    let pair = geometry_core::axle::WheelPair::of(&both, FRONT).expect("two corners").expect("an axle");
    assert!(!pair.is_symmetric());

    // Said of the image, y above zero; written below zero. The left corner stays.
    let ball_joint = PointPath::ArmBallJoint(0);
    let edits = [
        Edit::SetPoint { axle: FRONT, path: ball_joint, point: [-10.0, 725.0, 480.0] },
        Edit::SetCoordinate {
            axle: FRONT,
            path: PointPath::WheelCentre,
            coordinate: Coordinate::Y,
            value: 788.0,
        },
        Edit::SetNumber { field: NumberField::Camber(FRONT), value: Some(-1.5) },
        Edit::RenameMember { axle: FRONT, member: MemberPath::Link(2), name: "right rod".into() },
        Edit::SetText { field: TextField::Tyre(FRONT), text: "225/40 R18".into() },
    ];
    let changed =
        edits.iter().fold(both.clone(), |document, edit| applied(&document, &[on_right(edit.clone())]));
    assert_eq!(changed.front, example().front);
    assert_eq!(changed.rear, example().rear);
    let corner = right(&changed);
    assert_eq!(corner.arms[0].ball_joint.map(f64::to_bits), [-10.0, -725.0, 480.0].map(f64::to_bits));
    assert_eq!(corner.wheel.centre[1].to_bits(), (-788.0_f64).to_bits());
    assert_eq!(corner.wheel.camber.to_bits(), (-1.5_f64).to_bits());
    assert_eq!(corner.links[2].id, "right rod");
    assert_eq!(corner.wheel.tyre.as_deref(), Some("225/40 R18"));
    assert_eq!(corner.rack_direction, None);
    // Described anew it stays as it is; the mirror takes it away.
    assert_eq!(applied(&changed, std::slice::from_ref(&describe)), changed);
    assert_eq!(applied(&changed, &[Edit::MirrorRight { axle: FRONT }]), example());

    // A rack's direction is said of the image too, and is the car's in the document.
    let leaning = Edit::SetRackDirection { axle: FRONT, direction: Some([0.25, -1.0, 0.5]) };
    let leaning = applied(&both, &[on_right(leaning)]);
    assert_eq!(right(&leaning).rack_direction, Some([0.25, 1.0, 0.5]));
    let mut left = example();
    left.front.as_mut().expect("front").rack_direction = Some([0.25, 1.0, 0.5]);
    assert_eq!(right(&applied(&left, &[describe])).rack_direction, Some([-0.25, 1.0, -0.5]));
}

#[test]
fn a_change_of_a_right_corner_that_is_not_there_or_of_more_than_it_is_refused() {
    let on_right = |edit: Edit| Edit::OnRight { axle: FRONT, edit: Box::new(edit) };
    let camber = Edit::SetNumber { field: NumberField::Camber(FRONT), value: Some(-2.0) };
    assert_eq!(
        refusal(&on_right(camber)),
        "front_right: the right corner is the mirror image of the left one; describe it separately first"
    );
    let both = applied(&example(), &[Edit::DescribeRight { axle: FRONT }]);
    for edit in [
        Edit::SetNumber { field: NumberField::Mass, value: None },
        Edit::SetBrakes { axle: Axle::Rear, brakes: Brakes::Inboard },
        Edit::ReplaceDocument(Box::new(example())),
        on_right(Edit::AddUnsprung { axle: FRONT }),
    ] {
        assert!(on_right(edit).apply(&both).is_err());
    }
    let wrong = Edit::SetNumber { field: NumberField::Camber(FRONT), value: Some(99.0) };
    let error = on_right(wrong).apply(&both).expect_err("out of range").to_string();
    assert!(error.starts_with("front_right.wheel.camber must lie between"), "{error}");
    let mut rear_only = example();
    rear_only.front = None;
    assert!(Edit::DescribeRight { axle: FRONT }.apply(&rear_only).is_err());
}

#[test]
fn corners_and_documents_are_replaced_whole() {
    let mut rear_only = example();
    rear_only.front = None;
    let error = Edit::AddUnsprung { axle: FRONT }.apply(&rear_only).expect_err("none");
    assert_eq!(error.to_string(), "front: the setup describes no front corner; add one first");
    let corner = Box::new(front(&example()));
    assert_eq!(applied(&rear_only, &[Edit::ReplaceCorner { axle: FRONT, corner }]), example());
    let mut wrong = example();
    wrong.vehicle.mass = Some(-1.0);
    assert!(refusal(&Edit::ReplaceDocument(Box::new(wrong))).starts_with("vehicle.mass"));
    assert_eq!(applied(&rear_only, &[Edit::ReplaceDocument(Box::new(example()))]), example());
}

#[test]
fn geometric_nonsense_is_allowed() {
    let after = applied(
        &example(),
        &[Edit::SetPoint { axle: FRONT, path: PointPath::LinkInboard(0), point: [10.0, 708.0, 182.0] }],
    );
    assert!(matches!(Linkage::new(&front(&after), Side::Left), Err(LinkageError::OnePlace { .. })));
}

fn any_member() -> impl Strategy<Value = MemberPath> {
    prop_oneof![
        (0..4_usize).prop_map(MemberPath::Arm),
        (0..6_usize).prop_map(MemberPath::Link),
        Just(MemberPath::Strut),
        Just(MemberPath::Hinge),
        Just(MemberPath::Rocker)
    ]
}

fn any_part() -> impl Strategy<Value = Part> {
    prop_oneof![proptest::sample::select(Part::CARRIED.to_vec()), Just(Part::Rim), Just(Part::BrakeDisc)]
}

fn any_edit() -> impl Strategy<Value = Edit> {
    let axle = || prop_oneof![Just(Axle::Front), Just(Axle::Rear)];
    let part = any_part;
    let kind = prop_oneof![
        Just(MemberKind::Arm),
        Just(MemberKind::Link),
        Just(MemberKind::Strut),
        Just(MemberKind::Hinge)
    ];
    prop_oneof![
        (axle(), any_member(), proptest::array::uniform3(any::<f64>())).prop_map(|(axle, member, point)| {
            Edit::SetPoints { axle, points: member.points().into_iter().map(|path| (path, point)).collect() }
        }),
        (axle(), kind).prop_map(|(axle, kind)| Edit::AddMember { axle, kind }),
        (axle(), any_member()).prop_map(|(axle, member)| Edit::RemoveMember { axle, member }),
        (axle(), any_member(), "[a-c ]{0,2}").prop_map(|(axle, member, name)| Edit::RenameMember {
            axle,
            member,
            name
        }),
        (axle(), part()).prop_map(|(axle, part)| Edit::AddPart { axle, part }),
        (axle(), part()).prop_map(|(axle, part)| Edit::RemovePart { axle, part }),
        (axle(), part(), "[a-c]").prop_map(|(axle, part, on)| Edit::SetCarrier { axle, part, on }),
        (axle(), proptest::option::of(0..6_usize)).prop_map(|(axle, link)| Edit::SetSteers { axle, link }),
        (axle(), any::<f64>()).prop_map(|(axle, value)| Edit::SetNumber {
            field: NumberField::SpringRate(axle),
            value: Some(value)
        }),
        (axle(), 0..14_usize, proptest::option::of(0.0..3.0)).prop_map(|(axle, part, value)| {
            Edit::SetNumber { field: NumberField::PartShare(axle, part), value }
        }),
        axle().prop_map(|axle| Edit::AddUnsprung { axle }),
        (axle(), 0..14_usize).prop_map(|(axle, number)| Edit::RemoveUnsprung { axle, number }),
    ]
}

proptest! {
    #[test]
    fn whatever_is_edited_the_document_stays_in_range(edits in proptest::collection::vec(any_edit(), 0..40)) {
        let mut document = example();
        for edit in edits {
            match edit.apply(&document) {
                Ok(next) => document = next,
                Err(error) => prop_assert!(!error.to_string().is_empty()),
            }
            prop_assert_eq!(document.check(), Ok(()));
        }
    }
}

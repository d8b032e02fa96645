//! What a wrong description is told: each error's sentence, word for word.

use geometry_core::{
    linkage::{Linkage, LinkageError},
    setup::{Arm, Axle, Corner, Document, Hinge, Link, Point, Rocker, Side, Spring, example},
};

/// A change to the example that makes it wrong.
type Change = fn(&mut Corner);

fn front(change: Change) -> Document {
    let mut document = example();
    change(document.front.as_mut().expect("the example has a front axle"));
    document
}

fn front_error(change: Change) -> LinkageError {
    let document = front(change);
    match Linkage::new(document.corner(Axle::Front).expect("it is there"), Side::Left) {
        Err(error) => error,
        Ok(linkage) => panic!("it is taken as {linkage:?}"),
    }
}

/// The error's kind, the fields it names and its sentence within the document.
#[track_caller]
fn told(change: Change, kind: &str, fields: &[&str], sentence: &str) {
    let error = front_error(change);
    assert_eq!(error.to_string(), sentence.replace("front: ", "").replace("front.", ""));
    assert_eq!((error.kind(), error.fields()), (kind, fields.iter().map(ToString::to_string).collect()));
    assert_eq!(error.within("front").to_string(), sentence);
    // The batch program says the same.
    let setup = evaluate::write_document(&front(change));
    let refusal =
        evaluate::answer_text(&format!("{{\"setup\":{setup},\"states\":[]}}")).expect_err("it is wrong");
    let refusal: serde_json::Value = serde_json::from_str(&refusal).expect("it is JSON");
    assert_eq!(refusal["error"]["message"], sentence);
    assert_eq!(refusal["error"]["kind"], kind);
}

fn link(id: &str, inboard: Point, outboard: Point) -> Link {
    Link { id: id.into(), inboard, outboard, steers: false }
}

#[test]
fn four_freedoms() {
    told(
        |corner| {
            corner.links.pop();
        },
        "freedoms",
        &[],
        "front: the members remove 4 of the knuckle's six freedoms; they must remove five (an arm or a strut removes two, a link one, a hinge five): one link is missing",
    );
}

#[test]
fn six_freedoms() {
    told(
        |corner| corner.links.push(link("extra", [0.0, 400.0, 300.0], [0.0, 700.0, 300.0])),
        "freedoms",
        &[],
        "front: the members remove 6 of the knuckle's six freedoms; they must remove five (an arm or a strut removes two, a link one, a hinge five): one link too many",
    );
}

#[test]
fn other_counts_of_freedoms() {
    told(
        |corner| {
            corner.arms.clear();
            corner.links.clear();
        },
        "freedoms",
        &[],
        "front: the members remove 0 of the knuckle's six freedoms; they must remove five (an arm or a strut removes two, a link one, a hinge five): 5 more are needed",
    );
    told(
        |corner| {
            corner.hinge =
                Some(Hinge { id: "hinge".into(), pivots: [[300.0, 300.0, 300.0], [300.0, 700.0, 300.0]] });
        },
        "freedoms",
        &[],
        "front: the members remove 10 of the knuckle's six freedoms; they must remove five (an arm or a strut removes two, a link one, a hinge five): 5 too many",
    );
}

#[test]
fn names() {
    told(
        |corner| corner.links[1].id = "  ".into(),
        "name",
        &[],
        "front.id: every member needs a name; one is empty",
    );
    told(
        |corner| corner.links[1].id = "upper-arm".into(),
        "name",
        &["upper-arm"],
        "front.id “upper-arm” is given to two members; each needs its own",
    );
    told(
        |corner| corner.arms[0].id = "knuckle".into(),
        "name",
        &["knuckle"],
        "front.id “knuckle” is the knuckle's own name; the member needs another",
    );
}

#[test]
fn two_links_that_steer() {
    told(
        |corner| corner.links[0].steers = true,
        "steered_twice",
        &["lower-lateral", "tie-rod"],
        "front.links: “lower-lateral” and “tie-rod” both have steers; at most one link may move with the rack",
    );
}

#[test]
fn a_rack_without_direction() {
    told(
        |corner| corner.rack_direction = Some([0.0; 3]),
        "rack_direction",
        &["rack_direction"],
        "front.rack_direction has no length; give the way the rack moves, such as 0, 1, 0",
    );
}

#[test]
fn two_points_at_one_place() {
    told(
        |corner| corner.arms[0].rear_pivot = corner.arms[0].front_pivot,
        "one_place",
        &["arms[0].front_pivot", "arms[0].rear_pivot"],
        "front.arms[0].front_pivot and front.arms[0].rear_pivot stand at one place; they must be apart for the member to have a length",
    );
    told(
        |corner| corner.arms[0].ball_joint = corner.arms[0].rear_pivot,
        "one_place",
        &["arms[0].rear_pivot", "arms[0].ball_joint"],
        "front.arms[0].rear_pivot and front.arms[0].ball_joint stand at one place; they must be apart for the member to have a length",
    );
    told(
        |corner| corner.links[2].outboard = corner.links[2].inboard,
        "one_place",
        &["links[2].inboard", "links[2].outboard"],
        "front.links[2].inboard and front.links[2].outboard stand at one place; they must be apart for the member to have a length",
    );
    told(
        |corner| {
            let spring = corner.spring.as_mut().expect("the example has a spring");
            spring.body = spring.carried;
        },
        "one_place",
        &["spring.body", "spring.carried"],
        "front.spring.body and front.spring.carried stand at one place; they must be apart for the member to have a length",
    );
}

#[test]
fn a_ball_joint_on_its_arms_axis() {
    told(
        |corner| {
            let Arm { front_pivot, rear_pivot, ball_joint, .. } = &mut corner.arms[0];
            *ball_joint = std::array::from_fn(|i| 2.0 * front_pivot[i] - rear_pivot[i]);
        },
        "joint_on_axis",
        &["arms[0].ball_joint"],
        "front.arms[0].ball_joint stands on the line through the arm's two pivots; the arm would have no reach",
    );
}

#[test]
fn a_wheel_below_the_ground() {
    told(
        |corner| corner.wheel.centre[2] = 200.0,
        "wheel_below_ground",
        &["wheel.centre"],
        "front.wheel.centre stands 200 mm above the ground with a loaded radius of 312 mm: the wheel would reach to 112 mm below it; at most 50 mm are allowed",
    );
    // A measured corner a little below its ground is one all the same.
    let mut corner = example().front.expect("the example has a front axle");
    corner.wheel.centre[2] = 270.0;
    assert!(Linkage::new(&corner, Side::Left).is_ok());
}

#[test]
fn a_spring_on_nothing() {
    told(
        |corner| corner.spring.as_mut().expect("the example has a spring").on = "lower-latral".into(),
        "unknown_carrier",
        &["spring.on"],
        "front.spring.on is “lower-latral”, which is no member; it may be upper-arm, lower-lateral, lower-forward, tie-rod, knuckle",
    );
}

#[test]
fn parallel_links() {
    told(
        |corner| {
            // Four upright links leave the knuckle no hold across and along.
            corner.arms.clear();
            corner.links = vec![
                link("a", [100.0, 600.0, 700.0], [100.0, 600.0, 300.0]),
                link("b", [-100.0, 600.0, 700.0], [-100.0, 600.0, 300.0]),
                link("c", [100.0, 700.0, 700.0], [100.0, 700.0, 300.0]),
                link("d", [-100.0, 700.0, 700.0], [-100.0, 700.0, 300.0]),
                link("e", [0.0, 300.0, 300.0], [0.0, 700.0, 300.0]),
            ];
            corner.spring = None;
        },
        "dependent",
        &["a", "b", "c", "d"],
        "front: the members “a”, “b”, “c”, “d” hold the knuckle in the same way (lines that are parallel, in one plane or meet in one point), so that one freedom is held twice and another not at all; move one of them",
    );
}

#[test]
fn links_in_one_plane() {
    told(
        |corner| {
            // Four lines in the plane z = 200.
            corner.arms.clear();
            corner.links = vec![
                link("a", [0.0, 300.0, 200.0], [0.0, 700.0, 200.0]),
                link("b", [400.0, 400.0, 200.0], [80.0, 720.0, 200.0]),
                link("c", [-400.0, 500.0, 200.0], [-80.0, 690.0, 200.0]),
                link("d", [-300.0, 350.0, 200.0], [-120.0, 700.0, 200.0]),
                link("e", [0.0, 400.0, 500.0], [0.0, 700.0, 480.0]),
            ];
            corner.spring = None;
        },
        "dependent",
        &["a", "b", "c", "d"],
        "front: the members “a”, “b”, “c”, “d” hold the knuckle in the same way (lines that are parallel, in one plane or meet in one point), so that one freedom is held twice and another not at all; move one of them",
    );
}

#[test]
fn links_on_one_line() {
    told(
        |corner| {
            let tie_rod = corner.links[2].clone();
            let along = |share: f64| {
                std::array::from_fn(|i| {
                    tie_rod.inboard[i] + share * (tie_rod.outboard[i] - tie_rod.inboard[i])
                })
            };
            corner.links[0].inboard = along(-0.5);
            corner.links[0].outboard = along(0.5);
        },
        "dependent",
        &["lower-lateral", "tie-rod"],
        "front: the members “lower-lateral”, “tie-rod” hold the knuckle in the same way (lines that are parallel, in one plane or meet in one point), so that one freedom is held twice and another not at all; move one of them",
    );
}

#[test]
fn a_wheel_that_cannot_rise() {
    told(
        |corner| {
            // Straight above the hinge the wheel centre is at the top of its circle.
            corner.arms.clear();
            corner.links.clear();
            corner.spring = None;
            corner.hinge =
                Some(Hinge { id: "hinge".into(), pivots: [[0.0, 300.0, 150.0], [0.0, 600.0, 150.0]] });
        },
        "wheel_cannot_rise",
        &["wheel.centre"],
        "front.wheel.centre cannot rise: the motion that the members leave does not lift the wheel here",
    );
}

/// One number or text out of its range: the document's own check names it by its path.
#[test]
fn fields_out_of_range() {
    let cases: [(Change, &str); 10] = [
        (
            |corner| corner.wheel.loaded_radius = -5.0,
            "front.wheel.loaded_radius must lie between 50 and 2000 mm; it is −5",
        ),
        (|corner| corner.wheel.camber = 60.0, "front.wheel.camber must lie between −45 and 45 °; it is 60"),
        (
            |corner| corner.links[1].outboard[2] = f64::NAN,
            "front.links[1].outboard[2] must lie between −20000 and 20000 mm; it is not a number",
        ),
        (
            |corner| corner.arms[0].ball_joint[0] = f64::NEG_INFINITY,
            "front.arms[0].ball_joint[0] must lie between −20000 and 20000 mm; it is −infinite",
        ),
        (
            |corner| corner.spring.as_mut().expect("a spring").rate = Some(0.0),
            "front.spring.rate must lie between 0.01 and 10000 N/mm; it is 0",
        ),
        (
            |corner| corner.rack_direction = Some([0.0, 1e300, 0.0]),
            "front.rack_direction[1] must lie between −1000000 and 1000000; it is 1e300",
        ),
        (
            |corner| corner.links[0].id = "x".repeat(49),
            "front.links[0].id may have at most 48 characters; it has 49",
        ),
        (
            |corner| corner.arms[0].id = "x".repeat(50),
            "front.arms[0].id may have at most 48 characters; it has 50",
        ),
        (
            |corner| {
                corner.rocker = Some(Rocker {
                    id: "x".repeat(49),
                    axis: [[0.0, 500.0, 600.0], [100.0, 500.0, 600.0]],
                    rod_end: [50.0, 560.0, 600.0],
                    carried: [50.0, 600.0, 200.0],
                    on: "lower-lateral".into(),
                });
            },
            "front.rocker.id may have at most 48 characters; it has 49",
        ),
        (
            |corner| corner.spring.as_mut().expect("a spring").on = "x".repeat(49),
            "front.spring.on may have at most 48 characters; it has 49",
        ),
    ];
    for (change, sentence) in cases {
        assert_eq!(front(change).check().expect_err("it is wrong").to_string(), sentence);
    }
    let too_many: Change = |corner| {
        corner.links = (0..13).map(|i| link(&i.to_string(), [0.0; 3], [f64::from(i); 3])).collect();
    };
    assert_eq!(
        front(too_many).check().expect_err("it is wrong").to_string(),
        "front.links may hold at most 12 members; it holds 13"
    );
}

#[test]
fn what_concerns_the_whole_document() {
    let wrong = |change: fn(&mut Document)| {
        let mut document = example();
        change(&mut document);
        document.check().expect_err("it is wrong").to_string()
    };
    assert_eq!(
        wrong(|document| document.cornerwise = 2),
        "cornerwise is 2: this setup was written by a newer Cornerwise; this one reads version 1"
    );
    assert_eq!(
        wrong(|document| document.cornerwise = 0),
        "cornerwise must be 1, the version of the format; it is 0"
    );
    assert_eq!(
        wrong(|document| (document.front, document.rear) = (None, None)),
        "front or rear must be given: the setup describes no corner"
    );
    assert_eq!(
        wrong(|document| document.front_right = document.front.take()),
        "front_right may be given only beside front, whose right side it is; front is absent"
    );
    assert_eq!(
        wrong(|document| document.vehicle.front_mass_share = Some(1.4)),
        "vehicle.front_mass_share must lie between 0 and 1; it is 1.4"
    );
    assert_eq!(
        wrong(|document| document.title = "é".repeat(201)),
        "title may have at most 200 characters; it has 201"
    );
}

/// Texts that are no setup: the sentence names the field or the place.
#[test]
fn texts_that_are_no_setup() {
    let good = evaluate::write_document(&example());
    assert_eq!(evaluate::read_document(&good), Ok(example()));
    let cases = [
        (good.replace("\"cornerwise\": 1", "\"cornerwise\": 7"), "cornerwise is 7"),
        (good.replace("\"cornerwise\": 1", "\"cornerwise\": 1.5"), "cornerwise: must be 1"),
        (
            good.replace("\"loaded_radius\": 312.0", "\"loaded_radius\": \"312\""),
            "front.wheel.loaded_radius: ",
        ),
        (good.replace("\"loaded_radius\": 312.0", "\"loaded_radius\": 9e999"), "front.wheel.loaded_radius: "),
        (
            good.replace("\"loaded_radius\": 312.0", "\"loaded_radius\": 31.2"),
            "front.wheel.loaded_radius must",
        ),
        (good.replace("\"steers\"", "\"stears\""), "front.links[2]"),
        (good.replace("\"on\": \"upper-arm\",", ""), "rear.spring: "),
        (good[..good.len() / 2].into(), "EOF"),
        (String::new(), "EOF"),
        (format!("{good} {{}}"), "trailing characters"),
        ("[".repeat(100_000), "invalid type: sequence"),
        (format!("{{\"cornerwise\":1,\"front\":{}", "[".repeat(100_000)), "front"),
    ];
    for (text, beginning) in cases {
        assert_ne!(text, good, "{beginning}");
        let told = evaluate::read_document(&text).expect_err(beginning).to_string();
        assert!(told.contains(beginning), "{told} does not say {beginning}");
    }
}

/// A state beyond the linkage is that state's own error; the others are answered.
#[test]
fn states_are_answered_one_by_one() {
    let setup = evaluate::write_document(&Document { rear: None, ..example() });
    let states = r#"[{"axle":"front","travel":0},{"axle":"front","travel":900},{"axle":"rear"},{"axle":"front","travel":3000}]"#;
    let answer =
        evaluate::answer_text(&format!("{{\"setup\":{setup},\"states\":{states}}}")).expect("it is good");
    let answer: serde_json::Value = serde_json::from_str(&answer).expect("it is JSON");
    let results = answer["results"].as_array().expect("results");
    assert_eq!(results.len(), 4);
    assert!(results[0]["readings"]["camber"].is_number() && results[0].get("error").is_none());
    assert_eq!(results[1]["error"]["kind"], "out_of_reach");
    let told = results[1]["error"]["message"].as_str().expect("a sentence");
    assert!(
        told.starts_with("travel 900 mm, rack 0 mm is not reached: the linkage ends at travel "),
        "{told}"
    );
    assert_eq!(results[2]["error"]["message"], "rear is not described in this setup");
    assert_eq!(results[3]["error"]["message"], "travel must lie between −2000 and 2000 mm; it is 3000");
    assert!(results.iter().skip(1).all(|result| result.get("readings").is_none()));
}

/// A spring beside the corner's other members may hang on the strut's or hinge's name: both
/// are the knuckle.
#[test]
fn a_strut_or_hinge_carries_as_the_knuckle() {
    let mut corner = example().front.expect("the example has a front axle");
    corner.arms.clear();
    corner.links.clear();
    corner.damper = None;
    corner.anti_roll_bar = None;
    corner.hinge = Some(Hinge { id: "swing".into(), pivots: [[400.0, 300.0, 312.0], [420.0, 700.0, 312.0]] });
    let on = |on: &str| {
        let spring = Spring {
            body: [150.0, 600.0, 600.0],
            carried: [120.0, 620.0, 300.0],
            on: on.into(),
            rate: None,
            free_length: None,
        };
        Linkage::new(&Corner { spring: Some(spring), ..corner.clone() }, Side::Left)
    };
    assert_eq!(on("swing"), on("knuckle"));
    assert!(on("swing").is_ok());
}

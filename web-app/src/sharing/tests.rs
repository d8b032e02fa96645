//! Links come back equal, and everything else is refused in a sentence.

use geometry_core::{
    bounds,
    setup::{Arm, Corner, Damper, Hinge, Link, Point, Spring, Strut, Vehicle, Wheel, example},
};
use proptest::{option, prelude::*};

use super::*;

/// A fragment of any bytes with a right checksum.
fn sealed(bytes: &[u8]) -> String {
    let mut bytes = bytes.to_vec();
    bytes.extend(crc32(&bytes).to_le_bytes());
    format!("{PREFIX}{}", BASE64URL_NOPAD.encode(&bytes))
}

fn payload(document: &Document) -> Vec<u8> {
    let code = encode(document);
    let mut bytes = BASE64URL_NOPAD.decode(&code.as_bytes()[PREFIX.len()..]).expect("our own");
    bytes.truncate(bytes.len() - CHECKSUM);
    bytes
}

#[test]
fn the_checksum_is_the_well_known_one() {
    // Check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms.
    assert_eq!(crc32(b"123456789"), 0xCBF4_3926);
}

#[test]
fn the_example_comes_back_and_is_short() {
    let link = encode(&example());
    assert_eq!(decode(&link), Ok(example()));
    assert!(link.len() < 800, "{}", link.len());
    assert_eq!(decode(&format!("file:///home/someone/cornerwise.html{link}\n")), Ok(example()));
    let (first, second) = link.split_at(70);
    assert_eq!(decode(&format!("{first}\r\n {second}")), Ok(example()));
}

#[test]
fn a_link_of_version_one_stays_readable() {
    // Frozen: a small document as version 1 wrote it.
    let document = Document {
        cornerwise: 1,
        title: "Rowan".into(),
        note: String::new(),
        vehicle: Vehicle { wheelbase: Some(2480.5), ..Vehicle::default() },
        front: None,
        rear: Some(Corner {
            hinge: Some(Hinge {
                id: "arm".into(),
                pivots: [[-2100.0, 620.0, 300.0], [-2220.0, 250.0, 310.0]],
            }),
            ..Corner::new(Wheel { camber: -1.25, toe: 0.1, ..Wheel::new([-2480.5, 720.0, 290.0], 290.0) })
        }),
        front_right: None,
        rear_right: None,
    };
    let frozen = "#s=AQEFUm93YW4AAcqDAwAAAAAAAAEAAAABA2FybY_IAvBg8C7v2gKIJ7gwyYMDwHCoLagtp8MB0A8AAAAANY5OnQ";
    assert_eq!(encode(&document), frozen);
    assert_eq!(decode(frozen), Ok(document));
}

#[test]
fn other_texts_are_not_links() {
    for text in ["", "#", "#s", "https://example.org/", "s=AAAA", "#t=AAAA"] {
        assert_eq!(decode(text), Err(LinkError::NotALink), "{text}");
    }
    for text in ["#s=", "#s=A", "#s=AAAA", "#s=AAAAAAAAAA", "#s=ä", "#s=a+b/", "#s=AQ=="] {
        assert_eq!(decode(text), Err(LinkError::Damaged), "{text}");
    }
    let long = format!("#s={}", "A".repeat(LONGEST));
    assert_eq!(decode(&long), Err(LinkError::TooLong { length: LONGEST + 3 }));
}

#[test]
fn every_shortened_link_is_found_out() {
    let link = encode(&example());
    for end in PREFIX.len()..link.len() {
        assert_eq!(decode(&link[..end]), Err(LinkError::Damaged), "{end}");
    }
    for extra in ["A", "AA", "AAAA", "."] {
        assert_eq!(decode(&format!("{link}{extra}")), Err(LinkError::Damaged));
    }
}

#[test]
fn a_newer_version_is_named_and_an_older_one_never_was() {
    let mut bytes = payload(&example());
    bytes[0] = 2;
    let error = decode(&sealed(&bytes)).expect_err("newer");
    assert_eq!(
        error.to_string(),
        "the link was written by a newer Cornerwise (version 2); this one reads version 1"
    );
    bytes[0] = 0;
    assert_eq!(decode(&sealed(&bytes)), Err(LinkError::Damaged));
}

#[test]
fn bytes_left_over_are_refused() {
    let mut bytes = payload(&example());
    bytes.push(0);
    assert_eq!(decode(&sealed(&bytes)), Err(LinkError::Damaged));
}

#[test]
fn impossible_numbers_are_named() {
    let mut document = example();
    document.front.as_mut().expect("front").wheel.loaded_radius = -5.0;
    let error = decode(&encode(&document)).expect_err("impossible");
    assert_eq!(
        error.to_string(),
        "the link holds an impossible value: front.wheel.loaded_radius must lie between 50 and 2000 mm; it is −5"
    );
    document = example();
    document.rear.as_mut().expect("rear").arms[0].ball_joint[1] = f64::MAX;
    assert!(matches!(decode(&encode(&document)), Err(LinkError::Impossible(_))));
    document = example();
    document.front = None;
    document.rear = None;
    assert_eq!(decode(&encode(&document)), Err(LinkError::Impossible(FieldError::NoCorner)));
}

#[test]
fn what_no_version_writes_is_refused_before_it_is_read() {
    let mut document = example();
    let corner = document.front.as_mut().expect("front");
    corner.links = vec![corner.links[0].clone(); bounds::MOST_MEMBERS];
    assert_eq!(decode(&encode(&document)), Ok(document.clone()));
    let corner = document.front.as_mut().expect("front");
    corner.links.push(corner.links[0].clone());
    assert_eq!(decode(&encode(&document)), Err(LinkError::Damaged));
    // A grain finer than any that is written.
    let mut bytes = payload(&example());
    bytes[1] = 4;
    assert_eq!(decode(&sealed(&bytes)), Err(LinkError::Damaged));
    // Version, decimals, no title, no note, an empty vehicle, a front corner, and then a
    // list said to hold 2^63 arms.
    let mut bytes = vec![1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1];
    bytes.extend([0x80; 9]);
    bytes.push(1);
    assert_eq!(decode(&sealed(&bytes)), Err(LinkError::Damaged));
}

#[test]
fn the_longest_document_fits() {
    let mut document = example();
    document.note = "…".repeat(bounds::LONGEST_NOTE);
    document.title = "𝄞".repeat(bounds::LONGEST_TITLE);
    for corner in [&mut document.front, &mut document.rear].into_iter().flatten() {
        let id = "𝄞".repeat(bounds::LONGEST_ID);
        corner.links[0].id.clone_from(&id);
        corner.links = vec![corner.links[0].clone(); bounds::MOST_MEMBERS];
        corner.arms[0].id.clone_from(&id);
        corner.arms = vec![corner.arms[0].clone(); bounds::MOST_MEMBERS];
        for (_, point) in corner.points_mut() {
            *point = [-19_999.999; 3];
        }
    }
    assert_eq!(decode(&encode(&document)), Ok(document));
}

#[test]
fn what_is_finer_than_a_quantum_is_rounded() {
    let mut document = example();
    document.front.as_mut().expect("front").wheel.centre = [0.000_4, 790.123_6, 312.0];
    let mut rounded = document.clone();
    rounded.front.as_mut().expect("front").wheel.centre = [0.0, 790.124, 312.0];
    assert_eq!(decode(&encode(&document)), Ok(rounded));
}

/// A number on a grid of `per_unit` quanta within a bound, as a person would type it.
fn on_grid(bound: bounds::Bound, per_unit: i32) -> impl Strategy<Value = f64> {
    let per_unit = f64::from(per_unit);
    #[expect(clippy::cast_possible_truncation, reason = "the bounds are far below 2^63")]
    let (least, most) = ((bound.least * per_unit) as i64, (bound.most * per_unit) as i64);
    #[expect(clippy::cast_precision_loss, reason = "the bounds are far below 2^53")]
    (least..=most).prop_map(move |quanta| quanta as f64 / per_unit)
}

fn length(bound: bounds::Bound) -> BoxedStrategy<f64> {
    prop_oneof![on_grid(bound, 1), on_grid(bound, 10), on_grid(bound, 1000)].boxed()
}

fn point() -> BoxedStrategy<Point> {
    proptest::array::uniform3(length(bounds::COORDINATE)).boxed()
}

/// Boxed, here and above: the tree of a whole document would overflow a test's stack.
fn corner() -> BoxedStrategy<Corner> {
    let id = || "\\PC{0,12}".boxed();
    let arm = (id(), point(), point(), point()).prop_map(|(id, front_pivot, rear_pivot, ball_joint)| Arm {
        id,
        front_pivot,
        rear_pivot,
        ball_joint,
    });
    let link = (id(), point(), point(), any::<bool>()).prop_map(|(id, inboard, outboard, steers)| Link {
        id,
        inboard,
        outboard,
        steers,
    });
    let strut =
        (id(), point(), point()).prop_map(|(id, top_mount, lower_end)| Strut { id, top_mount, lower_end });
    let hinge = (id(), point(), point()).prop_map(|(id, a, b)| Hinge { id, pivots: [a, b] });
    let angle = || on_grid(bounds::WHEEL_ANGLE, 10_000);
    let wheel = (point(), length(bounds::LOADED_RADIUS), angle(), angle(), option::of(id())).prop_map(
        |(centre, loaded_radius, camber, toe, tyre)| Wheel {
            camber,
            toe,
            tyre,
            ..Wheel::new(centre, loaded_radius)
        },
    );
    let direction = proptest::array::uniform3(on_grid(bounds::DIRECTION, 1_000_000));
    let spring = (point(), point(), id(), option::of(on_grid(bounds::SPRING_RATE, 1000)))
        .prop_map(|(body, carried, on, rate)| Spring { body, carried, on, rate, free_length: None });
    let damper = (point(), point(), id()).prop_map(|(body, carried, on)| Damper { body, carried, on });
    (
        proptest::collection::vec(arm, 0..4),
        proptest::collection::vec(link, 0..6),
        option::of(strut),
        option::of(hinge),
        wheel,
        option::of(direction),
        option::of(spring),
        option::of(damper),
    )
        .prop_map(|(arms, links, strut, hinge, wheel, rack_direction, spring, damper)| Corner {
            arms,
            links,
            strut,
            hinge,
            rack_direction,
            spring,
            damper,
            ..Corner::new(wheel)
        })
        .boxed()
}

fn document() -> BoxedStrategy<Document> {
    let share = || option::of(on_grid(bounds::SHARE, 10_000));
    let vehicle = (
        option::of(length(bounds::WHEELBASE)),
        option::of(on_grid(bounds::MASS, 100)),
        share(),
        option::of(length(bounds::CG_HEIGHT)),
        share(),
        share(),
    )
        .prop_map(
            |(wheelbase, mass, front_mass_share, cg_height, brake_front_share, drive_front_share)| Vehicle {
                wheelbase,
                mass,
                front_mass_share,
                cg_height,
                brake_front_share,
                drive_front_share,
                ..Vehicle::default()
            },
        );
    let corners = prop_oneof![
        corner().prop_map(|front| (Some(front), None)),
        corner().prop_map(|rear| (None, Some(rear))),
        (corner(), corner()).prop_map(|(front, rear)| (Some(front), Some(rear))),
    ];
    ("\\PC{0,20}", "(?s).{0,20}", vehicle, corners)
        .prop_map(|(title, note, vehicle, (front, rear))| Document {
            cornerwise: 1,
            title,
            note,
            vehicle,
            front,
            rear,
            front_right: None,
            rear_right: None,
        })
        .boxed()
}

proptest! {
    #[test]
    fn a_document_on_the_grid_comes_back_equal(document in document()) {
        prop_assert_eq!(document.check(), Ok(()));
        prop_assert_eq!(decode(&encode(&document)), Ok(document));
    }

    #[test]
    fn a_file_comes_back_equal_too(document in document()) {
        prop_assert_eq!(from_json(&to_json(&document)), Ok(document));
    }

    #[test]
    fn a_changed_character_is_found_out(place in any::<proptest::sample::Index>(), other in "[A-Za-z0-9_-]") {
        let link = encode(&example());
        let place = PREFIX.len() + place.index(link.len() - PREFIX.len());
        let changed = format!("{}{other}{}", &link[..place], &link[place + 1..]);
        let expected = if changed == link { Ok(example()) } else { Err(LinkError::Damaged) };
        prop_assert_eq!(decode(&changed), expected);
    }

    #[test]
    fn sealed_nonsense_never_panics_and_is_never_out_of_range(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let mut ours = vec![VERSION];
        ours.extend(&bytes);
        for link in [sealed(&bytes), sealed(&ours)] {
            if let Ok(document) = decode(&link) {
                prop_assert_eq!(document.check(), Ok(()));
            }
        }
    }

    #[test]
    fn a_mutated_document_never_panics(place in any::<proptest::sample::Index>(), byte in any::<u8>()) {
        let mut bytes = payload(&example());
        let place = place.index(bytes.len());
        bytes[place] = byte;
        if let Ok(document) = decode(&sealed(&bytes)) {
            prop_assert_eq!(document.check(), Ok(()));
        }
    }
}

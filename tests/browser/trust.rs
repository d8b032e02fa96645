//! How far to trust the numbers: what the page says beside them, and what the core makes of the same setups.

use std::time::Duration;

use cornerwise_tests::{
    browser::{Browser, Look, browse},
    propagated,
};
use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleState, Lean, WheelPair},
    linkage::Linkage,
    readings::{Quantity, Reader},
    setup::{Axle, Document, Side, example},
    solve::{Follower, State},
    springing,
    statics::{Case, Given, Statics},
    uncertainty::{Beside, Measured},
};
use serde_json::Value;
use web_app::{
    describe::{
        axle::OfAxle,
        sensitivity::{doubted, doubted_difference},
    },
    units::Unit,
};

use crate::{core::front_changed, page::Page};

const USUAL: Measured = Measured { length: 2.0, angle: 0.1, height: 20.0, proportion: 2.0 };

/// The readings of a corner as it stands.
fn readings(document: &Document, axle: Axle) -> Vec<Option<f64>> {
    readings_at(document, axle, State::DESIGN)
}

fn readings_at(document: &Document, axle: Axle, state: State) -> Vec<Option<f64>> {
    let linkage = Linkage::new(document.corner(axle).expect("a corner"), Side::Left).expect("a linkage");
    let mut follower = Follower::new(&linkage);
    let outcome = follower.go_to(state);
    let readings = Reader::new(&linkage, &document.vehicle, axle).read(outcome.position().expect("in reach"));
    Quantity::ALL.map(|quantity| quantity.value(&readings)).into()
}

/// What the page has to say beside the differences of the front corner.
fn expected_differences(
    own: &Document,
    other: &Document,
    beside: Beside,
    state: State,
) -> Vec<(String, String)> {
    let read = |document: &Document| readings_at(document, Axle::Front, state);
    let found = propagated(own, Some((other, beside)), USUAL, read);
    let all = Quantity::ALL.into_iter().zip(read(own)).zip(read(other)).zip(found.differences);
    let told = all.filter_map(|(((quantity, own), other), uncertainty)| {
        let text = doubted_difference(quantity, own? - other?, uncertainty?);
        (!text.is_empty()).then(|| (quantity.name().to_owned(), text))
    });
    let mut told: Vec<_> = told.collect();
    told.sort();
    assert!(told.len() > 8, "{told:?}");
    told
}

/// What the page has to say beside the readings.
fn expected(document: &Document, axle: Axle, measured: Measured) -> Vec<(String, String)> {
    let found = propagated(document, None, measured, |document| readings(document, axle));
    let all = Quantity::ALL.into_iter().zip(readings(document, axle)).zip(found.numbers);
    let told = all.filter_map(|((quantity, number), uncertainty)| {
        let text = doubted(quantity, number?, uncertainty?);
        (!text.is_empty()).then(|| (quantity.name().to_owned(), text))
    });
    let mut told: Vec<_> = told.collect();
    told.sort();
    told
}

/// What it says, by the names of the readings; `attribute` of their own or of their differences.
async fn told(browser: &Browser, attribute: &str) -> Vec<(String, String)> {
    let all = format!(
        "[...document.querySelectorAll('#panel-readings [data-{attribute}]')].map(e => [e.getAttribute('data-{attribute}'), e.textContent])"
    );
    let all = browser.eval(&all).await;
    let pair = |row: &Value| Some((row[0].as_str()?.to_owned(), row[1].as_str()?.to_owned()));
    let mut all: Vec<_> = all.as_array().into_iter().flatten().filter_map(pair).collect();
    all.sort();
    all
}

async fn tells(browser: &Browser, attribute: &str, expected: &[(String, String)]) {
    for _ in 0..150 {
        if told(browser, attribute).await == expected {
            return;
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    assert_eq!(told(browser, attribute).await, expected);
}

async fn doubts_are(browser: &Browser, document: &Document, axle: Axle, measured: Measured) {
    let expected = expected(document, axle, measured);
    assert!(expected.len() > 15, "{expected:?}");
    tells(browser, "trust", &expected).await;
}

/// Beside every reading stands what the measuring leaves uncertain, as the core says it, until it is no longer asked.
#[test]
fn every_reading_tells_how_far_to_trust_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let document = example();
        tells(&browser, "trust", &[]).await;
        browser.click("[data-do=trust]").await;
        doubts_are(&browser, &document, Axle::Front, USUAL).await;
        page.type_into("trust.length", "0,5").await;
        let measured = Measured { length: 0.5, ..USUAL };
        doubts_are(&browser, &document, Axle::Front, measured).await;
        // A wrong number says so, and the one before it holds.
        page.type_into("trust.length", "-3").await;
        assert!(page.is_wrong("trust.length").await);
        doubts_are(&browser, &document, Axle::Front, measured).await;
        // Anti-dive hangs on the height of the centre of gravity as well.
        page.type_into("trust.height", "80").await;
        let measured = Measured { height: 80.0, ..measured };
        let lower = expected(&document, Axle::Front, Measured { height: 0.0, ..measured });
        assert_ne!(lower, expected(&document, Axle::Front, measured));
        doubts_are(&browser, &document, Axle::Front, measured).await;
        // The headline tells it too, and the table of what matters.
        assert!(browser.count(".headline [data-trust]").await > 3);
        page.tab("matters").await;
        browser.click("[data-kind=redrawn]").await;
        browser.wait_until("document.querySelector('[data-said=doubt]')").await;
        let doubt = browser.text("[data-said=doubt]").await.replace('\u{a0}', " ");
        for part in ["by ± 0.10°", "± 0.5 mm", "± 80 mm"] {
            assert!(doubt.contains(part), "{doubt}");
        }
        // Another corner, other doubts; and the choice comes back with the page.
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        page.tab("readings").await;
        let moved = front_changed(|corner| corner.arms[0].ball_joint[2] = 490.0);
        doubts_are(&browser, &moved, Axle::Front, measured).await;
        page.reload().await;
        doubts_are(&browser, &moved, Axle::Front, measured).await;
        page.type_into("trust.share", "3 %").await;
        let measured = Measured { proportion: 3.0, ..measured };
        doubts_are(&browser, &moved, Axle::Front, measured).await;
        // On the other axle, and out of sight until they are those of where the wheel stands.
        page.show_axle(Axle::Rear).await;
        doubts_are(&browser, &moved, Axle::Rear, measured).await;
        let seen =
            "document.querySelector('td [data-trust=toe]').checkVisibility({visibilityProperty: true})";
        browser.wait_until(seen).await;
        browser.click("[data-play=travel]").await;
        browser.wait_until(&format!("!{seen}")).await;
        browser.click("[data-play=travel]").await;
        browser.wait_until(seen).await;
        page.show_axle(Axle::Front).await;
        doubts_are(&browser, &moved, Axle::Front, measured).await;
        browser.click("[data-do=trust]").await;
        tells(&browser, "trust", &[]).await;
        assert!(browser.console_errors().await.is_empty());
    });
}

/// A difference from the reference has an uncertainty of its own: little of a car that is altered, that of both of
/// another one. The page takes it for the one or the other by what they have in common, until it is told.
#[test]
fn a_difference_tells_how_far_to_trust_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-do=trust]").await;
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        page.tab("readings").await;
        let (own, other) = (front_changed(|corner| corner.arms[0].ball_joint[2] = 490.0), example());
        let expected = |beside| expected_differences(&own, &other, beside, State::DESIGN);
        let checked = |name: &str| format!("document.querySelector('[data-beside={name}]').checked");
        browser.wait_until(&checked("altered")).await;
        tells(&browser, "trust-difference", &expected(Beside::Altered)).await;
        browser.click("[data-beside=apart]").await;
        tells(&browser, "trust-difference", &expected(Beside::Apart)).await;
        assert_ne!(expected(Beside::Altered), expected(Beside::Apart));
        // It comes back with the page, and holds wherever the wheel stands.
        page.reload().await;
        browser.wait_until(&checked("apart")).await;
        page.type_into("travel", "30").await;
        let state = State { travel: 30.0, rack: 0.0 };
        tells(&browser, "trust-difference", &expected_differences(&own, &other, Beside::Apart, state)).await;
        // Exchanged, both still are what they were said to be.
        browser.click("[data-do=swap]").await;
        tells(&browser, "trust-difference", &expected_differences(&other, &own, Beside::Apart, state)).await;
        // Of another reference nothing is said yet: the same car again, and then one of another layout.
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        browser.wait_until(&checked("altered")).await;
        let another = Document { front: example().rear, rear: None, ..example() };
        browser.click("[data-menu=reference]").await;
        page.type_into("reference-link", &web_app::sharing::encode(&another)).await;
        browser.wait_until(&checked("apart")).await;
        browser.click("[data-do=drop-reference]").await;
        tells(&browser, "trust-difference", &[]).await;
        assert_eq!(browser.count("[data-beside]").await, 0);
        assert!(browser.console_errors().await.is_empty());
    });
}

/// What axle, car and forces say of some of their numbers.
fn others(document: &Document) -> Vec<Option<f64>> {
    let pair = WheelPair::of(document, Axle::Front).expect("a pair").expect("a front");
    let both = AxleFollower::new(&pair).go_to(AxleState::DESIGN, Lean::HeaveHeld).expect("as described");
    let both = AxleReader::new(&pair, &document.vehicle).read(&both);
    let corner = document.front.as_ref().expect("a front");
    let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
    let follower = Follower::new(&linkage);
    let springing = springing::Reader::new(&linkage, corner, &document.vehicle, Axle::Front).read(&follower);
    let statics = Statics::new(corner, &linkage);
    let loads = statics.loads(&Case::Standing {}, &document.vehicle, Axle::Front).expect("loads");
    let forces = statics.forces(follower.position(), &loads, &Given::default()).expect("forces");
    let kick = statics.steering_kick(follower.position()).expect("a link steers");
    vec![
        Some(both.track),
        springing.wheel_rate,
        document.vehicle.wheel_load(Axle::Front),
        forces.links.last().map(|link| link.axial),
        Some(kick.friction_braking),
        both.roll_centre.map(|centre| centre.height),
    ]
}

/// Both wheels, whole car and forces tell it of each of their numbers as well, and of their differences.
#[test]
fn axle_car_and_forces_tell_how_far_to_trust_them() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let document = example();
        let found = propagated(&document, None, USUAL, others);
        let last = document.front.as_ref().expect("a front").links.len() - 1;
        let (numbers, doubts) = (others(&document), found.numbers);
        let doubted =
            |(value, uncertainty), unit| web_app::describe::doubt::doubted(value, uncertainty, unit);
        let of = |i: usize| (numbers[i].expect("it exists"), doubts[i].expect("it exists"));
        for (tab, name, text) in [
            ("both", "track".to_owned(), OfAxle::Track.doubt(of(0).0, of(0).1)),
            ("whole-car", "front.wheel_rate".to_owned(), doubted(of(1), Unit::NewtonPerMillimetre)),
            ("whole-car", "front.wheel_load".to_owned(), doubted(of(2), Unit::Newton)),
            ("forces", format!("links[{last}]"), doubted(of(3), Unit::Newton)),
            ("forces", "friction_braking".to_owned(), doubted(of(4), Unit::NewtonPerKilonewton)),
        ] {
            assert!(text.starts_with('±'), "{tab} {name}: {text}");
            page.tab(tab).await;
            let asked = format!("document.querySelector('[data-do=trust-{tab}]').ariaPressed === 'true'");
            if browser.eval(&asked).await != true {
                browser.click(&format!("[data-do=trust-{tab}]")).await;
            }
            let selector = format!("#panel-{tab} [data-trust=\"{name}\"]");
            browser
                .wait_until(&format!("document.querySelector('{selector}')?.textContent === {text:?}"))
                .await;
        }
        // Beside a reference their differences do so too, here of one car that was altered.
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        let own = front_changed(|corner| corner.arms[0].ball_joint[2] = 490.0);
        let found = propagated(&own, Some((&document, Beside::Altered)), USUAL, others);
        let (now, then) = (others(&own), others(&document));
        let of = |i: usize| {
            (
                now[i].expect("it exists") - then[i].expect("it exists"),
                found.differences[i].expect("it exists"),
            )
        };
        for (tab, name, text) in [
            (
                "both",
                "roll_centre_height".to_owned(),
                OfAxle::RollCentreHeight.doubt_of_difference(of(5).0, of(5).1),
            ),
            ("whole-car", "front.wheel_rate".to_owned(), doubted(of(1), Unit::NewtonPerMillimetre)),
            ("forces", format!("links[{last}]"), doubted(of(3), Unit::Newton)),
        ] {
            assert!(text.starts_with('±'), "{tab} {name}: {text}");
            page.tab(tab).await;
            let selector = format!("#panel-{tab} .difference [data-trust=\"difference of {name}\"]");
            browser
                .wait_until(&format!("document.querySelector('{selector}')?.textContent === {text:?}"))
                .await;
            let said = browser.text(&format!("[data-said=trust-{tab}]")).await;
            assert!(said.contains("the reference is the same car"), "{said}");
        }
        // From there to where it is chosen.
        browser.click("[data-said=trust-forces] button").await;
        browser.wait_until("document.activeElement.dataset.field === 'trust.length'").await;
        page.tab("forces").await;
        browser.click("[data-do=trust-forces]").await;
        browser.wait_until("!document.querySelector('#panel-forces .trust')").await;
        assert!(browser.console_errors().await.is_empty());
    });
}

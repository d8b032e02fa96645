//! Springing of both axles and the whole car, read off the tab and compared with the core.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{
    car::{AxleRates, Car, CarInput, CarReadings, Shares},
    linkage::Linkage,
    setup::{Axle, Document, Side, example},
    solve::Follower,
    springing::{Reader, Springing},
};
use web_app::sharing;

use crate::{core::front_changed, page::Page};

/// Waits until a cell of the tab holds the core's number, bit for bit.
async fn holds(page: &Page, cell: &str, expected: f64) {
    let exact =
        format!("Number(document.querySelector('[data-of=\"{cell}\"]').dataset.value) === {expected:?}");
    page.browser.wait_until(&exact).await;
}

/// What a cell says.
async fn says(page: &Page, cell: &str) -> String {
    page.browser.text(&format!("[data-of=\"{cell}\"]")).await.replace('\u{a0}', " ")
}

/// Waits until a cell says something.
async fn comes_to_say(page: &Page, cell: &str, words: &str) {
    let has = format!("document.querySelector('[data-of=\"{cell}\"]').innerText.includes({words:?})");
    page.browser.wait_until(&has).await;
}

async fn focused(page: &Page) -> Option<String> {
    let field = "document.activeElement.dataset.field || document.activeElement.dataset.add || null";
    page.browser.eval(field).await.as_str().map(str::to_owned)
}

fn springing(document: &Document, axle: Axle) -> Springing {
    let corner = document.corner(axle).expect("a corner");
    let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
    Reader::new(&linkage, corner, &document.vehicle, axle).read(&Follower::new(&linkage))
}

fn car(document: &Document, lateral: f64, regeneration: Option<f64>) -> CarReadings {
    let rates = |axle| AxleRates::from(&springing(document, axle));
    let shares = Shares { regeneration, ..Shares::of(&document.vehicle) };
    let input = CarInput {
        front_rates: rates(Axle::Front),
        rear_rates: rates(Axle::Rear),
        shares: Some(shares),
        lateral_acceleration: lateral,
        ..CarInput::default()
    };
    Car::new(document).expect("a car").read(&input).expect("in range")
}

#[test]
fn both_axles_stand_side_by_side_as_the_core_reads_them() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        assert_eq!(page.browser.count("[data-of]").await, 0, "nothing is made for a tab that is shut");
        page.tab("whole-car").await;
        let document = example();
        for axle in [Axle::Front, Axle::Rear] {
            let expected = springing(&document, axle);
            let cell = |key: &str| format!("{}.{key}", axle.name());
            holds(&page, &cell("spring_ratio"), expected.spring.expect("a spring").stroke.motion_ratio).await;
            holds(&page, &cell("damper_ratio"), expected.damper.expect("a damper").motion_ratio).await;
            holds(&page, &cell("wheel_rate"), expected.wheel_rate.expect("a rate")).await;
            holds(&page, &cell("wheel_rate_of_springs"), expected.wheel_rate_of_springs.expect("a rate"))
                .await;
            holds(&page, &cell("wheel_rate_of_ratio"), expected.wheel_rate_of_ratio.expect("a rate")).await;
            holds(&page, &cell("ride_frequency"), expected.ride_frequency.expect("a frequency")).await;
            holds(&page, &cell("hop_frequency"), expected.hop_frequency.expect("a frequency")).await;
            holds(&page, &cell("roll_rate"), expected.roll.suspension.expect("a rate")).await;
            holds(&page, &cell("roll_rate_bar"), expected.roll.bar.expect("a rate")).await;
        }
        assert!(says(&page, "front.wheel_rate").await.contains("N/mm"));
        // Neither corner has a rocker: no row of it is seen.
        let seen = "document.querySelector('[data-of=\"front.rod_ratio\"]').offsetParent !== null";
        assert_eq!(page.browser.eval(seen).await, serde_json::Value::Bool(false));

        page.tab("readings").await;
        page.browser
            .wait_until("document.querySelector('[data-of=\"front.wheel_rate\"]').innerText === ''")
            .await;
    });
}

#[test]
fn the_car_is_asked_and_a_wrong_text_stays_with_its_error() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("whole-car").await;
        let document = example();
        let expected = car(&document, 1.0, Some(0.5));
        let (lateral, braking) = (expected.lateral.expect("told"), expected.braking.expect("told"));
        holds(&page, "front.transfer_geometric", lateral.front.geometric).await;
        holds(&page, "rear.transfer_elastic", lateral.rear.elastic).await;
        holds(&page, "car.roll", lateral.roll).await;
        holds(&page, "front.braking_anti", braking.front.percentage).await;
        holds(&page, "car.braking_pitch", braking.pitch_gradient.expect("told")).await;
        assert!(says(&page, "front.transfer").await.contains("onto the right wheel"));
        assert!(says(&page, "car.braking_pitch").await.contains("front goes down"));
        assert!(says(&page, "car.driving_pitch").await.contains("front goes up"));

        // The bend the other way, half of the braking, no regeneration.
        page.paste_into("asked.lateral", "\u{2212}0,8").await;
        page.paste_into("asked.longitudinal", "0.5").await;
        page.paste_into("asked.regeneration", "0").await;
        let expected = car(&document, -0.8, Some(0.0));
        let (lateral, braking) = (expected.lateral.expect("told"), expected.braking.expect("told"));
        holds(&page, "car.roll", lateral.roll).await;
        holds(&page, "front.transfer", lateral.front.total).await;
        holds(&page, "rear.braking_anti", braking.rear.percentage).await;
        holds(&page, "car.braking_transfer", braking.load_transfer.expect("told") * 0.5).await;
        assert!(says(&page, "front.transfer").await.contains("onto the left wheel"));
        assert!(!page.can_undo().await, "a question changes no setup");

        for (field, wrong, why) in [
            ("asked.lateral", "1.2.3", "separators"),
            ("asked.lateral", "", "empty"),
            ("asked.lateral", "12", "must lie between \u{2212}10 and 10 g; it is 12"),
            ("asked.longitudinal", "-1", "must lie between 0 and 10 g"),
            ("asked.longitudinal", "viel", "“viel” is not a number"),
            ("asked.regeneration", "40", "must lie between 0 and 1"),
        ] {
            page.paste_into(field, wrong).await;
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(why), "{field} {wrong}: {errors:?}");
            assert!(errors[0].contains("earlier entry still counts"), "{errors:?}");
            assert!(page.is_wrong(field).await);
            // Kept while another tab is looked at; the numbers are the last good ones.
            page.tab("readings").await;
            page.tab("whole-car").await;
            assert_eq!(page.field(field).await, wrong);
            holds(&page, "front.transfer", lateral.front.total).await;
            holds(&page, "car.braking_transfer", braking.load_transfer.expect("told") * 0.5).await;
            let good = match field {
                "asked.lateral" => "-0.8",
                "asked.longitudinal" => "0.5",
                _ => "0",
            };
            page.paste_into(field, good).await;
            assert!(page.field_errors().await.is_empty());
        }
        // A number with a unit is written in the field's own once that is left; Escape takes a wrong one back.
        page.type_into("asked.regeneration", "40 %").await;
        page.tab("readings").await;
        page.tab("whole-car").await;
        assert_eq!(page.field("asked.regeneration").await, "0.4");
        page.type_into("asked.regeneration", "4x").await;
        page.browser.press("[data-field=\"asked.regeneration\"]", "Escape").await;
        assert_eq!(page.field("asked.regeneration").await, "0.4");
        assert!(page.field_errors().await.is_empty());
        // Empty is the setup's own share again.
        page.paste_into("asked.regeneration", "").await;
        let expected = car(&document, -0.8, Some(0.5)).braking.expect("told");
        holds(&page, "front.braking_anti", expected.front.percentage).await;
        assert!(page.browser.console_errors().await.is_empty());
    });
}

#[test]
fn a_missing_input_is_named_and_its_button_leads_there() {
    browse(Look::default(), async |browser| {
        let mut document = front_changed(|corner| {
            corner.damper = None;
            corner.spring.as_mut().expect("a spring").rate = None;
        });
        document.vehicle.cg_height = None;
        let rear = document.rear.as_mut().expect("a rear corner");
        rear.wheel.tyre_rate = None;
        rear.unsprung.clear();
        let link = sharing::encode(&document);
        let page = Page::open_link(browser, &format!("#{link}")).await;
        page.tab("whole-car").await;
        comes_to_say(&page, "front.wheel_rate", "needs the spring’s rate").await;
        assert_eq!(says(&page, "front.damper_ratio").await, "needs a damper");
        // Without the parts that move with the wheel the spring's force is not known either.
        assert!(says(&page, "rear.ride_frequency").await.contains("the parts that move with the wheel"));
        assert!(says(&page, "rear.ride_frequency").await.contains("the tyre’s rate"));
        assert!(says(&page, "front.transfer").await.contains("the height of the centre of gravity"));
        assert!(says(&page, "front.braking_anti").await.contains("the height of the centre of gravity"));

        for (cell, tab, focus) in [
            ("front.wheel_rate", "pivots", "front.spring.rate"),
            ("front.damper_ratio", "pivots", "damper"),
            ("front.transfer", "car", "vehicle.cg_height"),
            ("rear.corner_unsprung", "car", "unsprung"),
        ] {
            page.tab("whole-car").await;
            // By key: a pointer would first have to scroll it from under the table's head.
            page.browser.press(&format!("[data-of=\"{cell}\"] button"), "Enter").await;
            let there = format!(
                "document.activeElement.dataset.field === '{focus}' || document.activeElement.dataset.add === '{focus}'"
            );
            page.browser.wait_until(&there).await;
            let open =
                format!("document.querySelector('#tab-{tab}').getAttribute('aria-selected') === 'true'");
            assert_eq!(page.browser.eval(&open).await, serde_json::Value::Bool(true), "{cell}");
        }
        // The rear axle's button has brought its corner.
        assert_eq!(focused(&page).await.as_deref(), Some("unsprung"));
        page.browser.wait_until("document.querySelector('[data-axle=rear][aria-pressed=true]')").await;

        // What is entered is told at once.
        page.type_into("vehicle.cg_height", "465").await;
        page.tab("whole-car").await;
        comes_to_say(&page, "front.braking_share", "%").await;
    });
}

#[test]
fn a_corner_that_cannot_be_read_and_one_that_is_not_there_are_told() {
    browse(Look::default(), async |browser| {
        let mut document = front_changed(|corner| drop(corner.links.remove(2)));
        let broken = sharing::encode(&document);
        let page = Page::open_link(browser.clone(), &format!("#{broken}")).await;
        page.tab("whole-car").await;
        comes_to_say(&page, "front.wheel_rate", "front").await;
        let why = Car::new(&document).expect_err("four freedoms").to_string();
        assert_eq!(says(&page, "car.roll").await, why);
        // The other axle's springing is told all the same.
        holds(&page, "rear.wheel_rate", springing(&document, Axle::Rear).wheel_rate.expect("a rate")).await;

        document = example();
        document.rear = None;
        let page = Page::open_link(browser, &format!("#{}", sharing::encode(&document))).await;
        page.tab("whole-car").await;
        comes_to_say(&page, "rear.wheel_rate", "needs a rear corner").await;
        comes_to_say(&page, "car.roll", "needs a rear corner").await;
        holds(&page, "front.wheel_rate", springing(&document, Axle::Front).wheel_rate.expect("a rate")).await;
    });
}

#[test]
fn a_row_tells_what_it_is_by_key_and_the_tables_follow_the_travel() {
    for look in [Look::default(), Look { width: 390, height: 844, ..Look::default() }] {
        browse(look, async |browser| {
            let page = Page::open(browser).await;
            page.tab("whole-car").await;
            let shown =
                |key: &str| format!("document.querySelector('#definition-{key}').offsetParent !== null");
            assert_eq!(page.browser.eval(&shown("wheel_rate")).await, serde_json::Value::Bool(false));
            page.browser.press("[data-tell=wheel_rate]", "Enter").await;
            page.browser.wait_until(&shown("wheel_rate")).await;
            let text = page.browser.text("#definition-wheel_rate").await;
            assert!(text.contains("F dr/dz") && text.contains("Source: "), "{text}");
            page.browser.press("[data-tell=ride_frequency]", "Space").await;
            page.browser.wait_until(&shown("ride_frequency")).await;
            assert!(page.browser.text("#definition-ride_frequency").await.contains("Usual: "));
            assert_eq!(page.browser.eval(&shown("wheel_rate")).await, serde_json::Value::Bool(false));

            let before = says(&page, "rear.wheel_rate").await;
            page.type_into("travel", "40").await;
            let other = format!(
                "document.querySelector('[data-of=\"rear.wheel_rate\"]').innerText.replace('\\u00a0', ' ') !== {before:?}"
            );
            page.browser.wait_until(&other).await;
            assert!(!page.is_too_wide().await);
            // No cell is wider than its column.
            let wide = "[...document.querySelectorAll('.both-axles .cell')].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.dataset.of)";
            assert_eq!(page.browser.eval(wide).await, serde_json::json!([]));
        });
    }
}

//! A second setup kept beneath the one in hand.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::{
    axle::{AxleFollower, AxleReader, AxleReadings, AxleState, Lean, WheelPair},
    linkage::Linkage,
    readings::Quantity,
    setup::{Axle, Document, Side, example},
    solve::Follower,
    springing,
    statics::{Case, Given, Statics},
};
use serde_json::Value;
use web_app::{
    describe::{
        axle::{OfAxle, OfWheel},
        beside::{Difference, by},
        forces,
    },
    numbers::format_number,
    presets::Preset,
    sharing::encode,
};

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// Keeps the present setup as the reference.
pub(crate) async fn keep(browser: &Browser) {
    browser.click("[data-menu=reference]").await;
    browser.click("[data-do=keep-reference]").await;
    browser.wait_until("document.querySelector('[data-reference]')").await;
}

/// Takes the reference from a link.
async fn paste_link(browser: &Browser, link: &str) {
    if browser.count("[data-field=reference-link]").await == 0 {
        browser.click("[data-menu=reference]").await;
    }
    // A paste is enough: the field is not left.
    browser.press("[data-field=reference-link]", "Control+a").await;
    browser.eval(&format!("document.execCommand('insertText', false, {})", Value::from(link))).await;
    // What is no link is told of when it is.
    if !link.contains("#s=") {
        browser.eval("document.activeElement.blur()").await;
    }
}

/// What the page says of the reference.
async fn said(browser: &Browser) -> String {
    browser.text("[data-reference] p").await.replace('\u{a0}', " ")
}

/// The difference words of a row, none where nothing is said.
async fn difference(browser: &Browser, quantity: Quantity) -> Option<String> {
    let css = format!("td [data-difference={}]", quantity.name());
    let text = browser.eval(&format!("(document.querySelector('{css}') || {{}}).textContent || null")).await;
    text.as_str().map(str::to_owned)
}

/// Waits until a row says this difference.
async fn says(browser: &Browser, quantity: Quantity, words: &str) {
    let css = format!("td [data-difference={}]", quantity.name());
    let is = format!("document.querySelector('{css}')?.textContent === {}", Value::from(words));
    browser.wait_until(&is).await;
}

/// What the page must say of a reading, by the core.
fn expected(present: &Document, reference: &Document, travel: f64, quantity: Quantity) -> String {
    let of = |document: &Document| {
        Shown::at(document, Axle::Front, travel, 0.0).reading(quantity).expect("a reading of both")
    };
    Difference::By(of(present) - of(reference)).words(quantity)
}

fn softer() -> Document {
    front_changed(|corner| corner.arms[0].ball_joint[2] = 492.0)
}

#[test]
fn numbers_say_how_far_they_are_from_the_reference_and_its_lines_lie_beneath() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.count("[data-difference]").await, 0);
        keep(&browser).await;
        assert!(said(&browser).await.contains("“Alder hill-climb coupé”, so far the same"));
        assert_eq!(difference(&browser, Quantity::Camber).await.as_deref(), Some("no difference"));
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "492").await;
        for (travel, typed) in [(0.0, "0"), (35.0, "35")] {
            page.move_to(typed, "0").await;
            for quantity in [Quantity::CamberGain, Quantity::RollCentreHeight, Quantity::Caster] {
                let words = expected(&softer(), &example(), travel, quantity);
                assert!(words.starts_with("difference "), "{words}");
                says(&browser, quantity, &words).await;
                let css = format!(
                    "document.querySelector('[data-tile={}] .difference.by').textContent",
                    quantity.name()
                );
                let tile = browser.eval(&css).await;
                assert_eq!(tile.as_str(), words.strip_prefix("difference "));
            }
        }
        assert!(!said(&browser).await.contains("so far the same"));
        for view in ["front", "side", "plan"] {
            assert!(browser.count(&format!("g[data-beneath={view}] > *")).await >= 10, "{view}");
        }
        // The reference is none of the setup: undo takes back the edit and leaves it.
        page.undo().await;
        page.shows(Shown::at(&example(), Axle::Front, 35.0, 0.0)).await;
        assert_eq!(browser.count("[data-reference]").await, 1);
        assert!(!page.can_undo().await);
    });
}

#[test]
fn an_exchange_is_one_step_that_undo_takes_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        paste_link(&browser, &encode(&softer())).await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        let there = expected(&example(), &softer(), 0.0, Quantity::RollCentreHeight);
        let back = expected(&softer(), &example(), 0.0, Quantity::RollCentreHeight);
        says(&browser, Quantity::RollCentreHeight, &there).await;
        browser.click("[data-do=swap]").await;
        page.shows(Shown::of(&softer(), Axle::Front)).await;
        says(&browser, Quantity::RollCentreHeight, &back).await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        says(&browser, Quantity::RollCentreHeight, &there).await;
        assert!(!page.can_undo().await);
        page.redo().await;
        page.shows(Shown::of(&softer(), Axle::Front)).await;
        says(&browser, Quantity::RollCentreHeight, &back).await;
        // Both come back with the page.
        page.reload().await;
        page.shows(Shown::of(&softer(), Axle::Front)).await;
        says(&browser, Quantity::RollCentreHeight, &back).await;
    });
}

#[test]
fn a_dropped_or_replaced_reference_is_among_the_recent_setups() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let mut wet = softer();
        wet.title = "Wet".into();
        let mut dry = softer();
        dry.title = "Dry".into();
        paste_link(&browser, &encode(&wet)).await;
        browser.wait_until("document.querySelector('[data-reference-title]')?.textContent === '“Wet”'").await;
        paste_link(&browser, &encode(&dry)).await;
        browser.wait_until("document.querySelector('[data-reference-title]')?.textContent === '“Dry”'").await;
        browser.click("[data-do=drop-reference]").await;
        assert!(page.notice().await.contains("“Dry” is no longer the reference"));
        assert_eq!(browser.count("[data-reference]").await, 0);
        assert_eq!(browser.count("[data-difference]").await, 0);
        assert_eq!(browser.count("g[data-beneath=front] > *").await, 0);
        browser.click("[data-menu=recent]").await;
        let names = browser
            .eval("[...document.querySelectorAll('[data-recent] .name')].map(e => e.textContent)")
            .await;
        assert_eq!(names, serde_json::json!(["“Dry”", "“Wet”"]));
        page.reload().await;
        assert_eq!(browser.count("[data-reference]").await, 0);
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn a_bad_link_or_file_leaves_all_as_it_was_and_says_why() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        keep(&browser).await;
        let link = encode(&softer());
        for (bad, sentence) in
            [("hello", "not a link to a Cornerwise setup"), (&link[..link.len() - 5], "cut or altered")]
        {
            paste_link(&browser, bad).await;
            let error = browser.text(".menu-panel .field-error").await;
            assert!(error.contains(sentence), "{error}");
            assert_eq!(page.field("reference-link").await, bad, "what was pasted stays");
        }
        let file = browser.downloads().join("no-setup.json");
        std::fs::write(&file, r#"{"cornerwise": 1, "frnt": {}}"#).expect("a writable folder");
        browser.type_and_stay("[data-do=load-reference]", &file.to_string_lossy()).await;
        let notice = page.notice().await;
        assert!(notice.contains("no-setup.json") && notice.contains("frnt"), "{notice}");
        browser.wait_until("document.activeElement.dataset.menu === 'reference'").await;
        assert!(said(&browser).await.contains("so far the same"));
        let file = browser.downloads().join("softer.json");
        std::fs::write(&file, evaluate::write_document(&softer())).expect("a writable folder");
        browser.click("[data-menu=reference]").await;
        browser.type_into("[data-do=load-reference]", &file.to_string_lossy()).await;
        says(
            &browser,
            Quantity::RollCentreHeight,
            &expected(&example(), &softer(), 0.0, Quantity::RollCentreHeight),
        )
        .await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

/// What the words of a difference must be in the page.
fn apart(now: f64, then: f64, show: impl Fn(f64) -> String) -> String {
    by(now - then, &show(now - then))
}

async fn comes_to_differ(browser: &Browser, cell: &str, words: &str) {
    let words = words.replace('\u{a0}', " ");
    assert!(words.starts_with("difference "), "{words}");
    let is = format!(
        "(document.querySelector('{cell} .difference')?.textContent ?? '').replaceAll('\u{a0}', ' ') === {}",
        Value::from(words)
    );
    browser.wait_until(&is).await;
}

/// The numbers of both wheels, of the whole car and of the load case, each in its own unit.
#[test]
fn both_wheels_the_whole_car_and_the_forces_say_how_far_they_are_from_the_reference() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let reference = front_changed(|corner| {
            corner.arms[0].ball_joint[2] = 492.0;
            corner.spring.as_mut().expect("a spring").rate = Some(41.0);
        });
        paste_link(&browser, &encode(&reference)).await;
        browser.wait_until("document.querySelector('[data-reference]')").await;

        page.tab("both").await;
        page.type_into("roll", "2").await;
        let rolled = |document: &Document| {
            let pair = WheelPair::of(document, Axle::Front).expect("assembled").expect("described");
            let state = AxleState { roll: 2.0, ..AxleState::DESIGN };
            let position = AxleFollower::new(&pair).go_to(state, Lean::HeaveHeld).expect("in reach");
            AxleReader::new(&pair, &document.vehicle).read(&position)
        };
        let (now, then) = (rolled(&example()), rolled(&reference));
        for (side, now, then) in [("left", &now.left, &then.left), ("right", &now.right, &then.right)] {
            let row = OfWheel::CamberToGround;
            let words = apart(now.camber_to_ground, then.camber_to_ground, |by| row.show(by));
            comes_to_differ(&browser, &format!("[data-both=\"{side}.camber_to_ground\"]"), &words).await;
        }
        let height = |readings: &AxleReadings| readings.roll_centre.expect("a roll centre").height;
        let words = apart(height(&now), height(&then), |by| OfAxle::RollCentreHeight.show(by));
        comes_to_differ(&browser, "[data-both=roll_centre_height] + td", &words).await;
        page.type_into("roll", "0").await;

        page.tab("whole-car").await;
        let rate = |document: &Document| {
            let corner = document.front.as_ref().expect("a front");
            let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
            let reader = springing::Reader::new(&linkage, corner, &document.vehicle, Axle::Front);
            reader.read(&Follower::new(&linkage)).wheel_rate.expect("a rate")
        };
        let words = apart(rate(&example()), rate(&reference), |by| format!("{} N/mm", format_number(by, 1)));
        comes_to_differ(&browser, "[data-of=\"front.wheel_rate\"]", &words).await;

        page.tab("forces").await;
        let row = |document: &Document| {
            let corner = document.front.as_ref().expect("a front");
            let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
            let statics = Statics::new(corner, &linkage);
            let loads =
                statics.loads(&Case::Standing {}, &document.vehicle, Axle::Front).expect("all is given");
            let forces = statics.forces(Follower::new(&linkage).position(), &loads, &Given::default());
            let table = forces::table(corner, Side::Left, &forces.expect("it is held"));
            let row =
                table.into_iter().flat_map(|group| group.rows).find(|row| row.key == "arms[0].ball_joint");
            row.expect("an arm").value
        };
        let words = apart(row(&example()), row(&reference), forces::newtons);
        comes_to_differ(&browser, "[data-force=\"arms[0].ball_joint\"] + td", &words).await;
        // Where the corner stops before it is where it is asked to be, nothing is compared.
        page.type_into("travel", "330").await;
        browser.wait_until("document.querySelectorAll('#panel-forces .difference').length === 0").await;
        page.type_into("travel", "0").await;
        comes_to_differ(&browser, "[data-force=\"arms[0].ball_joint\"] + td", &words).await;

        browser.click("[data-do=drop-reference]").await;
        browser.wait_until("document.querySelectorAll('.difference').length === 0").await;
        assert!(browser.console_errors().await.is_empty());
    });
}

/// A right corner of its own is compared with the reference's right one.
#[test]
fn a_right_corner_is_compared_with_the_right_corner() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        browser.choose("[data-choice=right]", "separate").await;
        browser.click("[data-side=right]").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        keep(&browser).await;
        page.tab("readings").await;
        says(&browser, Quantity::CamberGain, "no difference").await;
        page.tab("forces").await;
        browser.wait_until("document.querySelectorAll('#panel-forces .difference').length > 5").await;
        let words = "[...document.querySelectorAll('#panel-forces .difference')].every(e => e.textContent === 'no difference')";
        browser.wait_until(words).await;
        // The left one differs from it, and stands as it was kept itself.
        browser.click("[data-side=left]").await;
        says(&browser, Quantity::CamberGain, "no difference").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "492").await;
        let words = expected(&softer(), &example(), 0.0, Quantity::CamberGain);
        says(&browser, Quantity::CamberGain, &words).await;
        browser.click("[data-side=right]").await;
        says(&browser, Quantity::CamberGain, "no difference").await;
        assert!(browser.console_errors().await.is_empty());
    });
}

#[test]
fn another_layout_or_a_missing_axle_is_said_in_words() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let mut strut = example();
        strut.front = Some(Preset::Strut.corner(Axle::Front, 2640.0));
        strut.rear = None;
        paste_link(&browser, &encode(&strut)).await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        assert!(said(&browser).await.contains("another layout: strut, one wishbone and one link"));
        says(&browser, Quantity::Caster, &expected(&example(), &strut, 0.0, Quantity::Caster)).await;
        page.show_axle(Axle::Rear).await;
        browser.wait_until("document.querySelector('[data-reference-trouble]')").await;
        assert!(said(&browser).await.contains("The reference describes no rear corner"));
        assert_eq!(browser.count("[data-difference]").await, 0);
        assert_eq!(browser.count("g[data-beneath=front] > *").await, 0);
        // Exchanged, the axle that both know is shown.
        browser.click("[data-do=swap]").await;
        page.shows(Shown::of(&strut, Axle::Front)).await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn a_reading_that_only_one_corner_has_says_which() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let bare = front_changed(|corner| corner.links[2].steers = false);
        paste_link(&browser, &encode(&bare)).await;
        says(&browser, Quantity::Caster, "reference: no steering axis").await;
        browser.click("[data-do=swap]").await;
        page.shows(Shown::of(&bare, Axle::Front)).await;
        let caster = Shown::of(&example(), Axle::Front).reading(Quantity::Caster).expect("a caster");
        says(&browser, Quantity::Caster, &Difference::OnlyReference(caster).words(Quantity::Caster)).await;
    });
}

#[test]
fn a_reference_that_is_no_linkage_or_ends_earlier_is_said_and_compares_nothing() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let apart = front_changed(|corner| corner.links.truncate(2));
        paste_link(&browser, &encode(&apart)).await;
        browser.wait_until("document.querySelector('[data-reference-trouble]')").await;
        assert!(said(&browser).await.contains("no linkage that moves"));
        assert_eq!(browser.count("[data-difference]").await, 0);
        page.shows(Shown::of(&example(), Axle::Front)).await;
        // A short tie rod across ends the travel early.
        let short = front_changed(|corner| {
            corner.links[2].inboard = [-120.0, 680.0, 226.0];
        });
        let stopped = Shown::at(&short, Axle::Front, 90.0, 0.0).stopped;
        assert!(stopped.is_some(), "the case is one that ends before 90 mm");
        paste_link(&browser, &encode(&short)).await;
        page.move_to("90", "0").await;
        browser
            .wait_until("document.querySelector('[data-reference-trouble]')?.textContent.includes('linkage')")
            .await;
        assert_eq!(browser.count("[data-difference]").await, 0);
        page.move_to("0", "0").await;
        browser.wait_until("document.querySelectorAll('[data-difference]').length > 10").await;
    });
}

#[test]
fn a_kept_reference_that_cannot_be_read_is_put_aside_and_said_once() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser
            .eval("localStorage.setItem('cornerwise.reference', '{\"cornerwise\": 1, \"front\": 3}')")
            .await;
        page.reload().await;
        assert!(page.notice().await.contains("The reference kept in this browser cannot be read"));
        assert_eq!(browser.count("[data-reference]").await, 0);
        page.shows(Shown::of(&example(), Axle::Front)).await;
        let aside = page.kept("cornerwise.unreadable.reference").await;
        assert_eq!(aside.as_deref(), Some("{\"cornerwise\": 1, \"front\": 3}"));
        page.reload().await;
        assert_eq!(page.message("notice").await, None);
    });
}

#[test]
fn the_reference_is_a_line_in_the_curves_and_their_axes_hold_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let low = "Number(document.querySelector('[data-curve=camber]').dataset.values.split(' ')[0])";
        browser.wait_until(&format!("{low} > -6")).await;
        assert_eq!(browser.count("[data-curve-reference]").await, 0);
        let leaning = front_changed(|corner| corner.wheel.camber = -8.0);
        paste_link(&browser, &encode(&leaning)).await;
        browser.wait_until("document.querySelector('[data-curve-reference]')").await;
        browser.wait_until(&format!("{low} <= -8")).await;
        page.shows(Shown::of(&example(), Axle::Front)).await;

        // Its number stands beside the present one, in the chart's head and in the table.
        let beside = "[data-curve-now=camber] [data-reference-value=front]";
        let in_head = browser.eval(&format!("document.querySelector('{beside}').exact")).await;
        let in_head = in_head.as_f64().expect("a number");
        let expected = Shown::of(&leaning, Axle::Front).reading(Quantity::Camber).expect("a camber");
        assert!((in_head - expected).abs() < 1e-9, "{in_head} {expected}");
        assert!(browser.text(beside).await.contains("\u{2212}8.00"));
        browser.click("[data-do=curve-table]").await;
        let cell = "tr[data-input=\"0\"] td[data-cell=camber][data-axle-value=\"reference front\"]";
        browser.wait_until(&format!("document.querySelector('{cell}')")).await;
        assert_eq!(browser.text(cell).await, "\u{2212}8.00");
        assert!(browser.text("[data-curve-numbers] thead").await.contains("reference"));
        browser.click("[data-do=curve-table]").await;

        // Both its wheels lie beneath both wheels.
        let beneath = "g[data-beneath=front] > *";
        let one = browser.count(beneath).await;
        page.show("both").await;
        assert_eq!(browser.count(beneath).await, 2 * one);
        page.show("both").await;

        browser.click("[data-do=drop-reference]").await;
        browser.wait_until(&format!("{low} > -6")).await;
        assert_eq!(browser.count(beside).await, 0);
        assert_eq!(browser.count("[data-curve-reference]").await, 0);
    });
}

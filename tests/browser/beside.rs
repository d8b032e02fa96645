//! A second setup kept beneath the one in hand.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::readings::Quantity;
use geometry_core::setup::{Axle, Document, example};
use serde_json::Value;
use web_app::describe::beside::Difference;
use web_app::presets::Preset;
use web_app::sharing::encode;

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// Keeps the present setup as the reference.
async fn keep(browser: &Browser) {
    browser.click("[data-menu=reference]").await;
    browser.click("[data-do=keep-reference]").await;
    browser.wait_until("document.querySelector('[data-reference]')").await;
}

/// Takes the reference from a link.
async fn paste_link(browser: &Browser, link: &str) {
    if browser.count("[data-field=reference-link]").await == 0 {
        browser.click("[data-menu=reference]").await;
    }
    browser.paste_into("[data-field=reference-link]", link).await;
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
                let tile = browser.text(&format!("[data-tile={}] .difference", quantity.name())).await;
                assert_eq!(tile.replace(' ', "\u{a0}"), words.replace(' ', "\u{a0}"));
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
        browser.type_into("[data-do=load-reference]", &file.to_string_lossy()).await;
        let notice = page.notice().await;
        assert!(notice.contains("no-setup.json") && notice.contains("frnt"), "{notice}");
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
        says(&browser, Quantity::Caster, "reference: no link steers").await;
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

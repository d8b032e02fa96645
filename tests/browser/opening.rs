//! The page opens, alone and whole, on what people have.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::readings::Quantity;
use geometry_core::setup::{Axle, example};
use web_app::describe;

use crate::core::Shown;
use crate::page::Page;

/// A phone held upright.
const PHONE: Look = Look { width: 390, height: 844, dark: true };

#[test]
fn the_page_opens_as_a_file_and_asks_for_nothing_else() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        assert!(page.start_time().await > 0.0);
        assert!(page.has_content().await);
        assert_eq!(page.requests().await, 0);
    });
}

#[test]
fn the_network_is_closed_to_the_page() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let policy = page.policy().await;
        assert!(policy.contains("default-src 'none'") && policy.contains("connect-src 'none'"), "{policy}");
        for address in ["http://127.0.0.1:9/", "https://example.com/", "data:text/plain,text"] {
            assert!(page.is_refused(address).await, "{address}");
        }
        // The browser reports what the policy stopped.
        let errors = browser.console_errors().await;
        assert!(errors.len() >= 3, "{errors:?}");
        assert!(errors.iter().all(|error| error.contains("Content Security Policy")), "{errors:?}");
    });
}

#[test]
fn both_corners_of_the_example_are_drawn_and_read_to_the_last_bit() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        for axle in [Axle::Front, Axle::Rear] {
            page.show_axle(axle).await;
            let expected = Shown::of(&example(), axle);
            assert_eq!(page.readings().await.len(), Quantity::ALL.len());
            for quantity in [Quantity::RollCentreHeight, Quantity::CamberGain] {
                let number = expected.reading(quantity).expect("a reading of the example");
                // The driver gives spaces of every kind as plain ones.
                let value = describe::value(quantity, number).replace('\u{a0}', " ");
                assert_eq!(page.headline(quantity.name()).await, value);
            }
            page.shows(expected).await;
            for view in ["front", "side", "plan"] {
                // A wheel, four members and a spring at the least.
                let shapes = page.shapes(view).await;
                assert!(shapes >= 10, "{shapes} shapes in the {view} view of the {} corner", axle.name());
            }
        }
    });
}

#[test]
fn colours_follow_the_system() {
    browse(Look { dark: true, ..Look::default() }, async |browser| {
        let page = Page::open(browser.clone()).await;
        let dark = page.brightness().await;
        browser.show_as(Look::default()).await;
        assert!(dark < page.brightness().await);
    });
}

#[test]
fn a_phone_shows_the_page_without_scrolling_sideways_and_a_finger_drags() {
    browse(PHONE, async |browser| {
        let page = Page::open(browser).await;
        assert!(!page.is_too_wide().await);
        for view in ["front", "side", "plan"] {
            assert!(page.shapes(view).await >= 10, "{view}");
        }
        page.shows(Shown::of(&example(), Axle::Front)).await;
        let (x, y) = page.place("front:spring.body").await;
        page.drag_by_touch("front:spring.body", 12.0, -9.0).await;
        let (right, down) = page.place("front:spring.body").await;
        assert!(
            (right - x - 12.0).abs() < 0.5 && (down - y + 9.0).abs() < 0.5,
            "({x}, {y}) ({right}, {down})"
        );
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn a_browser_that_cannot_run_the_page_gets_a_sentence() {
    for (missing, sentence) in [
        ("WebAssembly", "Cornerwise computes with WebAssembly, which this browser does not have"),
        ("DecompressionStream", "This browser is too old for Cornerwise."),
    ] {
        browse(Look::default(), async |browser| {
            browser.run_before_pages(&format!("delete window.{missing}")).await;
            browser.load_file("").await;
            let said = browser.text("#status").await;
            assert!(said.starts_with(sentence), "{said}");
        });
    }
}

#[test]
fn a_damaged_page_says_that_it_could_not_start() {
    browse(Look::default(), async |browser| {
        browser.run_before_pages("window.atob = () => 'no module'").await;
        browser.load_file("").await;
        browser.wait_until("'failed' in document.body.dataset").await;
        let said = browser.text("#status").await;
        assert!(said.starts_with("Cornerwise could not start: "), "{said}");
        assert!(!browser.console_errors().await.is_empty());
    });
}

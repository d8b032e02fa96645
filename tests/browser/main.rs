//! The built page in a real browser, opened as a file, as people do.

mod page;

use cornerwise_tests::browser::{Look, browse};
use page::Page;

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
        assert!(page.is_refused_a_request().await);
        // The browser reports what the policy stopped.
        assert!(browser.console_errors().await.iter().all(|error| error.contains("Content Security Policy")));
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
fn the_wheel_moves_by_field_and_by_keys() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.type_travel("12,5").await;
        page.press_on_travel("ArrowRight ArrowRight").await;
        assert_eq!(page.travel().await, "13.5");
    });
}

#[test]
fn a_dragged_point_follows_the_pointer_and_one_undo_takes_it_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        // The spring's upper end stands alone in the front view: no other point lies over it.
        let point = "spring.body";
        let before = page.place_in_front_view(point).await;
        page.drag_in_front_view(point, 30, -20).await;
        let after = page.place_in_front_view(point).await;
        // The document keeps tenths of a millimetre, which are less than half a pixel here.
        assert!((after.0 - before.0 - 30.0).abs() < 0.5, "{before:?} {after:?}");
        assert!((after.1 - before.1 + 20.0).abs() < 0.5, "{before:?} {after:?}");
        page.undo().await;
        let undone = page.place_in_front_view(point).await;
        assert!((undone.0 - before.0).abs() + (undone.1 - before.1).abs() < 1e-9, "{before:?} {undone:?}");
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

//! The page opens, alone and whole, on what people have.

use cornerwise_tests::browser::{Look, Program, browse};
use geometry_core::readings::Quantity;
use geometry_core::setup::{Axle, example};
use web_app::describe;

use crate::core::Shown;
use crate::page::Page;

#[test]
fn another_browser_than_these_is_refused_by_name() {
    assert_eq!(Program::named("chromium"), Ok(Program::Chromium));
    assert_eq!(Program::named("firefox"), Ok(Program::Firefox));
    let why = Program::named("Firefox 3").expect_err("no browser of these tests");
    assert!(why.contains("“Firefox 3”") && why.contains("chromium and firefox"), "{why}");
}

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
        // Some write it with hyphens, as the policy's own name in a page.
        let of_policy = |error: &String| error.replace('-', " ").contains("Content Security Policy");
        assert!(errors.iter().all(of_policy), "{errors:?}");
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
        page.drag_by_touch("front:spring.body", 12, -9).await;
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
    for (without, sentence) in [
        (
            "delete window.WebAssembly",
            "Cornerwise computes with WebAssembly, which this browser does not have",
        ),
        ("delete window.DecompressionStream", "This browser is too old for Cornerwise."),
    ] {
        browse(Look::default(), async |browser| {
            browser.run_before_pages(without).await;
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

#[test]
fn an_axle_without_a_corner_says_how_to_begin() {
    let mut document = example();
    document.rear = None;
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &web_app::sharing::encode(&document)).await;
        assert_eq!(browser.count("[data-empty]").await, 0);
        page.show_axle(Axle::Rear).await;
        let said = browser.text("[data-empty] h2").await;
        assert_eq!(said, "The rear corner is not described yet");
        assert_eq!(page.message("corner").await, None, "it is said once");
        browser.click("[data-begin='Semi-trailing arm']").await;
        let begun = web_app::presets::Preset::SemiTrailing.corner(Axle::Rear, 2640.0);
        document.rear = Some(begun);
        page.shows(Shown::of(&document, Axle::Rear)).await;
        assert_eq!(browser.count("[data-empty]").await, 0);
        page.undo().await;
        // The axle that is left, on a sheet that fits it: its wheel's centre is in sight in all views.
        browser.wait_until("document.querySelector('[data-axle=front]').ariaPressed === 'true'").await;
        document.rear = None;
        page.shows(Shown::of(&document, Axle::Front)).await;
        let sights = "[...document.querySelectorAll('[data-handle$=\":wheel.centre\"]')].filter(e => +e.getAttribute('cx') > 0).length";
        browser.wait_until(&format!("{sights} === 3")).await;
    });
}

#[test]
fn the_windows_title_names_the_setup() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.eval("document.title").await, "Alder hill-climb coupé — Cornerwise");
        page.type_into("title", "Mine").await;
        browser.wait_until("document.title === 'Mine — Cornerwise'").await;
        page.paste_into("title", "").await;
        browser.wait_until("document.title === 'Cornerwise'").await;
        assert_eq!(browser.count("link[rel=icon][href^='data:image/svg+xml']").await, 1);
    });
}

#[test]
fn about_tells_cautions_sources_privacy_and_licence_and_closes_with_escape() {
    browse(PHONE, async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-do=about]").await;
        browser.wait_until("document.querySelector('dialog.about').open").await;
        let text = browser.text("dialog.about").await;
        for words in [
            "rated stands",
            "compressed spring can kill",
            "ISO 8855",
            "Gillespie",
            "asks the network for nothing",
            "MIT",
        ] {
            assert!(text.contains(words), "{words}");
        }
        let reaches = "(r => r.left >= 0 && r.right <= innerWidth && r.height <= innerHeight)(document.querySelector('dialog.about').getBoundingClientRect())";
        assert_eq!(browser.eval(reaches).await, serde_json::Value::Bool(true));
        browser.press_here("Escape").await;
        browser.wait_until("!document.querySelector('dialog.about').open").await;
        assert!(!page.is_too_wide().await);
    });
}

#[test]
fn large_type_fits_a_projector() {
    for (width, height) in [(1280, 720), (1920, 1080)] {
        browse(Look { width, height, dark: false }, async |browser| {
            let page = Page::open(browser.clone()).await;
            let size = "parseFloat(getComputedStyle(document.querySelector('.page')).fontSize)";
            let usual = browser.eval(size).await.as_f64().unwrap_or(f64::NAN);
            browser.click("[data-do=large]").await;
            browser.wait_until(&format!("{size} > 1.2 * {usual}")).await;
            assert!(!page.is_too_wide().await);
            let higher = "document.scrollingElement.scrollHeight > innerHeight";
            assert_eq!(
                browser.eval(higher).await,
                serde_json::Value::Bool(false),
                "the frame does not scroll"
            );
            let clipped = "[...document.querySelectorAll('.tile, .tile *, .top button')].filter(e => { const r = e.getBoundingClientRect(); \
                return e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline' || r.right > innerWidth; }).map(e => e.textContent)";
            assert_eq!(browser.eval(clipped).await, serde_json::json!([]));
        });
    }
}

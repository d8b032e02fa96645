//! What is kept from one visit to the next, and what goes into files.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, example};

use crate::core::{Shown, front_changed};
use crate::page::Page;

#[test]
fn a_reload_brings_the_work_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        page.type_into("title", "Bergrennen, nasse Straße").await;
        page.reload().await;
        let expected = front_changed(|corner| corner.wheel.camber = -2.25);
        page.shows(Shown::of(&expected, Axle::Front)).await;
        assert_eq!(page.field("title").await, "Bergrennen, nasse Straße");
        assert_eq!(page.message("notice").await, None);
    });
}

/// A reload brings back as well what was looked at; a window of its own begins anew.
#[test]
fn a_reload_brings_back_what_was_looked_at() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.show_axle(Axle::Rear).await;
        page.type_into("travel", "-20.5").await;
        page.choose_tile("roll_centre_height").await;
        page.tab("whole-car").await;
        page.type_into("asked.lateral", "-0.8").await;
        page.reload().await;
        let selected = "document.querySelector('#tab-whole-car').ariaSelected === 'true'";
        browser.wait_until(selected).await;
        assert_eq!(page.field("asked.lateral").await.replace('\u{2212}', "-"), "-0.8");
        assert_eq!(page.field("travel").await.replace('\u{2212}', "-"), "-20.5");
        let pressed = browser.attribute("[data-tile=roll_centre_height]", "aria-pressed").await;
        assert_eq!(pressed.as_deref(), Some("true"));
        page.shows(Shown::at(&example(), Axle::Rear, -20.5, 0.0)).await;
        // What is looked at is of this window, and no part of what is kept of the work.
        browser.eval("(sessionStorage.setItem('cornerwise.look', '&travel=1e9&panel=none'), 0)").await;
        browser.eval("(addEventListener('pagehide', () => sessionStorage.setItem('cornerwise.look', '&travel=1e9&panel=none')), 0)").await;
        page.reload().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.message("notice").await, None);
        assert!(browser.console_errors().await.is_empty());
    });
}

/// A button that is used up hands the focus to its neighbour, so that a keyboard goes on from there.
#[test]
fn undo_and_redo_hand_the_focus_on() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        for (from, to) in [("undo", "redo"), ("redo", "undo")] {
            browser.press(&format!("[data-do={from}]"), "Enter").await;
            browser.wait_until(&format!("document.activeElement.dataset.do === '{to}'")).await;
        }
    });
}

#[test]
fn the_work_is_kept_while_it_is_done_even_when_the_browser_dies() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        let expected = front_changed(|corner| corner.wheel.camber = -2.25);
        browser.wait_until("(localStorage.getItem('cornerwise.setup') || '').includes('-2.25')").await;
        let kept = page.kept("cornerwise.setup").await.expect("a kept setup");
        assert_eq!(evaluate::read_document(&kept).expect("a setup"), expected);
    });
}

#[test]
fn a_kept_text_that_cannot_be_read_is_put_aside_and_said() {
    for (broken, why) in [("{", "cannot be read"), (r#"{"cornerwise": 99}"#, "newer")] {
        browse(Look::default(), async |browser| {
            // The page writes what it holds when it is left: the text is put there just before it opens.
            let put = format!(
                "if (location.protocol === 'file:') localStorage.setItem('cornerwise.setup', {broken:?})"
            );
            browser.run_before_pages(&put).await;
            let page = Page::open(browser).await;
            let notice = page.notice().await;
            assert!(notice.contains("cannot be read") && notice.contains(why), "{notice}");
            page.shows(Shown::of(&example(), Axle::Front)).await;
            assert_eq!(page.kept("cornerwise.unreadable").await.as_deref(), Some(broken));
        });
    }
}

#[test]
fn a_browser_that_keeps_nothing_still_opens_and_says_so() {
    browse(Look::default(), async |browser| {
        let refuse =
            "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }";
        browser.run_before_pages(refuse).await;
        let page = Page::open(browser).await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        let says = "(document.querySelector('[data-message=unkept]') || {innerText: ''}).innerText.includes('save it as a file')";
        page.browser.wait_until(says).await;
        page.shows(Shown::of(&front_changed(|corner| corner.wheel.camber = -2.25), Axle::Front)).await;
        // For as long as it is so, whatever else is done.
        page.type_into("title", "Mine").await;
        page.browser.wait_until(says).await;
    });
}

#[test]
fn a_saved_file_is_the_setup_and_opens_again() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        let expected = front_changed(|corner| corner.wheel.camber = -2.25);
        browser.click("[data-do=save]").await;
        let file = browser.downloads().join("alder-hill-climb-coupé.json");
        let mut text = String::new();
        for _ in 0..200 {
            text = std::fs::read_to_string(&file).unwrap_or_default();
            if text.ends_with('}') {
                break;
            }
            tokio::time::sleep(std::time::Duration::from_millis(25)).await;
        }
        assert_eq!(evaluate::read_document(&text).expect("a setup"), expected);

        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        browser.type_into("[data-do=open]", &file.to_string_lossy()).await;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn a_file_that_is_no_setup_is_refused_with_its_name_and_its_fault() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        for (name, text, fault) in [
            ("broken.json", "{", "no setup as this page saves them (EOF"),
            ("misspelt.json", r#"{"cornerwise": 1, "frnt": {}}"#, "frnt"),
            ("later.json", r#"{"cornerwise": 2}"#, "newer"),
        ] {
            let file = browser.downloads().join(name);
            std::fs::write(&file, text).expect("a writable folder");
            browser.type_into("[data-do=open]", &file.to_string_lossy()).await;
            let said = format!(
                "(document.querySelector('[data-message=notice]') || {{}}).innerText?.includes('{name}')"
            );
            browser.wait_until(&said).await;
            let notice = page.notice().await;
            assert!(notice.contains(fault), "{notice}");
            page.shows(Shown::of(&example(), Axle::Front)).await;
        }
        assert!(!page.can_undo().await);
    });
}

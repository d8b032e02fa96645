//! Nothing that was in hand is lost when another setup takes its place.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::setup::{Axle, Document, example};
use serde_json::{Value, json};
use web_app::sharing::encode;

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// A setup told by its title and by a camber.
fn titled(title: &str, camber: f64) -> Document {
    let mut document = front_changed(|corner| corner.wheel.camber = camber);
    document.title = title.into();
    document
}

async fn open_menu(browser: &Browser) {
    if browser.count("#menu-recent > *").await == 0 {
        browser.click("[data-menu=recent]").await;
        browser.wait_until("document.querySelector('#menu-recent > *')").await;
    }
}

/// The titles in the menu, from the top.
async fn titles(browser: &Browser) -> Vec<String> {
    open_menu(browser).await;
    let names =
        browser.eval("[...document.querySelectorAll('[data-recent] .name')].map(e => e.textContent)").await;
    names.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

/// Opens the entry of that place in the menu, from zero.
async fn open_entry(browser: &Browser, place: usize) {
    open_menu(browser).await;
    browser.click(&format!(".recent li:nth-child({}) [data-recent]", place + 1)).await;
}

async fn follow_link(browser: &Browser, document: &Document) {
    browser.eval(&format!("location.hash = '{}'", encode(document))).await;
    let title = Value::from(document.title.as_str());
    browser.wait_until(&format!("document.querySelector('[data-field=title]').value === {title}")).await;
}

#[test]
fn a_link_a_file_and_a_layout_leave_the_present_setup_in_the_list() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(titles(&browser).await, Vec::<String>::new());
        page.browser.press_here("Escape").await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-1.25").await;
        page.type_into("title", "Mine").await;
        follow_link(&browser, &titled("Linked", -2.0)).await;
        assert!(page.notice().await.contains("“Mine” is under Recent"));
        assert_eq!(titles(&browser).await, ["“Mine”"]);
        let words = browser.text("[data-recent]").await;
        assert!(words.contains("left ") && words.contains("front one wishbone and three links"), "{words}");
        browser.press_here("Escape").await;

        let file = browser.downloads().join("filed.json");
        std::fs::write(&file, evaluate::write_document(&titled("Filed", -3.0))).expect("a writable folder");
        browser.type_into("[data-do=open]", &file.to_string_lossy()).await;
        browser.wait_until("document.querySelector('[data-field=title]').value === 'Filed'").await;
        assert_eq!(titles(&browser).await, ["“Linked”", "“Mine”"]);
        browser.press_here("Escape").await;

        page.choose_layout("Five-link").await;
        assert_eq!(titles(&browser).await, ["“Filed”", "“Linked”", "“Mine”"]);
        browser.press_here("Escape").await;
        // Another layout takes nothing away that was made by hand.
        page.choose_layout("Strut and lower wishbone").await;
        assert_eq!(titles(&browser).await, ["“Filed”", "“Linked”", "“Mine”"]);

        // All of it is there after a reload, and opens.
        page.reload().await;
        assert_eq!(titles(&browser).await, ["“Filed”", "“Linked”", "“Mine”"]);
        open_entry(&browser, 2).await;
        page.shows(Shown::of(&titled("Mine", -1.25), Axle::Front)).await;
        assert_eq!(page.field("title").await, "Mine");
        assert_eq!(titles(&browser).await.len(), 3, "the one that was opened is out, the one left is in");
        assert!(!titles(&browser).await.contains(&"“Mine”".to_owned()));
    });
}

#[test]
fn undo_over_an_opened_setup_loses_neither() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        follow_link(&browser, &titled("Linked", -2.0)).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.5").await;
        page.undo().await;
        page.redo().await;
        page.undo().await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(titles(&browser).await, ["“Linked”"]);
        browser.press_here("Escape").await;
        page.redo().await;
        page.shows(Shown::of(&titled("Linked", -2.0), Axle::Front)).await;
        assert_eq!(titles(&browser).await, ["“Alder hill-climb coupé”"]);
    });
}

#[test]
fn a_page_opened_by_a_link_keeps_the_work_that_was_kept() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-1.25").await;
        page.type_into("title", "Mine").await;
        let link = encode(&titled("Linked", -2.0));
        let page = Page::open_link(browser.clone(), &link).await;
        page.shows(Shown::of(&titled("Linked", -2.0), Axle::Front)).await;
        assert_eq!(titles(&browser).await, ["“Mine”"]);
        open_entry(&browser, 0).await;
        page.shows(Shown::of(&titled("Mine", -1.25), Axle::Front)).await;
    });
}

#[test]
fn an_entry_is_removed_for_good() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        follow_link(&browser, &titled("First", -2.0)).await;
        follow_link(&browser, &titled("Second", -2.5)).await;
        assert_eq!(titles(&browser).await, ["“First”", "“Alder hill-climb coupé”"]);
        browser.click(".recent li:first-child [data-recent-remove]").await;
        browser.wait_until("document.querySelectorAll('[data-recent]').length === 1").await;
        page.reload().await;
        assert_eq!(titles(&browser).await, ["“Alder hill-climb coupé”"]);
    });
}

#[test]
fn another_windows_work_is_put_into_the_list_before_it_is_written_over() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-1.25").await;
        browser.wait_until("(localStorage.getItem('cornerwise.setup') || '').includes('-1.25')").await;
        let theirs = Value::from(evaluate::write_document(&titled("Other window", -4.0)));
        browser.eval(&format!("localStorage.setItem('cornerwise.setup', {theirs})")).await;
        page.type_into("front.wheel.camber", "-1.5").await;
        browser.wait_until("(localStorage.getItem('cornerwise.setup') || '').includes('-1.5')").await;
        assert_eq!(titles(&browser).await, ["“Other window”"]);
    });
}

/// A layout goes into an empty axle, and then another into the axle that was made by hand.
#[test]
fn a_layout_takes_a_hand_made_corner_s_place_only_when_that_is_in_the_list() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let mut mine = titled("Mine", -1.25);
        mine.rear = None;
        follow_link(&browser, &mine).await;
        page.show_axle(Axle::Rear).await;
        browser.click("[data-begin='Semi-trailing arm']").await;
        page.show_axle(Axle::Front).await;
        page.choose_layout("Five-link").await;
        assert!(titles(&browser).await.contains(&"“Mine”".to_owned()), "it had a rear by then");
        browser.press_here("Escape").await;
        page.undo().await;
        page.shows(Shown::of(&mine, Axle::Front)).await;
    });
}

#[test]
fn the_setup_kept_by_an_earlier_page_is_taken_over_with_its_list_empty() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        // An earlier page kept one setup and no list.
        let old = Value::from(evaluate::write_document(&titled("Old", -2.75)));
        browser
            .eval(&format!("(localStorage.clear(), localStorage.setItem('cornerwise.setup', {old}))"))
            .await;
        let put = format!(
            "if (location.protocol === 'file:' && !localStorage.getItem('done')) {{ localStorage.setItem('cornerwise.setup', {old}); localStorage.setItem('done', '1') }}"
        );
        browser.run_before_pages(&put).await;
        page.reload().await;
        page.shows(Shown::of(&titled("Old", -2.75), Axle::Front)).await;
        follow_link(&browser, &titled("New", -2.0)).await;
        assert_eq!(titles(&browser).await, ["“Old”"]);
        let kept = page.kept("cornerwise.recent").await.expect("a kept list");
        let kept: Value = serde_json::from_str(&kept).expect("JSON");
        assert_eq!(kept["version"], json!(1));
    });
}

#[test]
fn a_list_that_cannot_be_read_is_put_aside_and_what_can_be_is_kept() {
    let good = evaluate::write_document(&titled("Good", -2.0));
    let half = json!({"version": 1, "setups": [
        {"number": 1, "left": 0, "setup": "{"},
        {"number": 2, "left": 0, "setup": good},
    ]})
    .to_string();
    for (broken, sentence, left) in [
        ("{", "The list of recent setups kept in this browser cannot be read", vec![]),
        (half.as_str(), "1 recent setup cannot be read", vec!["“Good”"]),
    ] {
        browse(Look::default(), async |browser| {
            let page = Page::open(browser.clone()).await;
            browser
                .eval(&format!("localStorage.setItem('cornerwise.recent', {})", Value::from(broken)))
                .await;
            assert_eq!(titles(&browser).await, left);
            assert!(page.notice().await.contains(sentence));
            assert_eq!(page.kept("cornerwise.unreadable.recent").await.as_deref(), Some(broken));
            browser.press_here("Escape").await;
            follow_link(&browser, &titled("New", -3.0)).await;
            assert_eq!(titles(&browser).await[0], "“Alder hill-climb coupé”");
        });
    }
}

#[test]
fn a_newer_pages_list_is_left_alone() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let newer = r#"{"version": 2, "cars": []}"#;
        browser.eval(&format!("localStorage.setItem('cornerwise.recent', {})", Value::from(newer))).await;
        follow_link(&browser, &titled("New", -3.0)).await;
        assert!(page.notice().await.contains("newer Cornerwise"));
        assert_eq!(page.kept("cornerwise.recent").await.as_deref(), Some(newer));
        assert_eq!(titles(&browser).await, ["“Alder hill-climb coupé”"]);
    });
}

#[test]
fn a_full_store_is_said_and_the_list_lasts_as_long_as_the_page() {
    browse(Look::default(), async |browser| {
        let refuse =
            "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }";
        browser.run_before_pages(refuse).await;
        let page = Page::open(browser.clone()).await;
        follow_link(&browser, &titled("First", -2.0)).await;
        let notice = page.notice().await;
        assert!(notice.contains("recent setups") || notice.contains("save it as a file"), "{notice}");
        follow_link(&browser, &titled("Second", -3.0)).await;
        assert_eq!(titles(&browser).await, ["“First”", "“Alder hill-climb coupé”"]);
        open_entry(&browser, 0).await;
        page.shows(Shown::of(&titled("First", -2.0), Axle::Front)).await;
    });
}

//! The page in every state under axe-core (axe/axe.min.js, MPL-2.0), which knows the rules of WCAG 2.2 AA that a
//! program can check: names, roles, contrast, order.

use cornerwise_tests::browser::{Look, browse};
use serde_json::Value;

use crate::page::Page;

/// Sizes and colours in which each state is looked at.
const LOOKS: [Look; 3] = [
    Look { width: 1440, height: 900, dark: false },
    Look { width: 1440, height: 900, dark: true },
    Look { width: 390, height: 844, dark: false },
];

/// What breaks a rule in the present state, for a person to read.
async fn broken_rules(page: &Page) -> Vec<String> {
    let run = "(window.ruled = null, axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(\
               r => { window.ruled = r.violations.flatMap(v => v.nodes.map(n => v.id + ': ' + n.target + ' | ' + n.failureSummary)) }, \
               e => { window.ruled = [String(e)] }), 0)";
    page.browser.eval(run).await;
    page.browser.wait_until("window.ruled !== null").await;
    let found = page.browser.eval("window.ruled").await;
    found.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

async fn is_clean(page: &Page, state: &str) {
    let broken = broken_rules(page).await;
    assert!(broken.is_empty(), "{state}:\n{}", broken.join("\n"));
}

/// Opens the page with the rules at hand.
async fn open(browser: cornerwise_tests::browser::Browser) -> Page {
    browser.run_before_pages(include_str!("axe/axe.min.js")).await;
    Page::open(browser).await
}

#[test]
fn every_tab_keeps_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser).await;
            is_clean(&page, "as it opens").await;
            for tab in page.tabs().await {
                page.tab(&tab).await;
                is_clean(&page, &tab).await;
            }
        });
    }
}

#[test]
fn a_chosen_reading_an_error_and_the_dialog_keep_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser).await;
            page.choose_reading("scrub_radius").await;
            is_clean(&page, "a chosen reading").await;
            page.tab("car").await;
            page.type_into("front.wheel.camber", "steep").await;
            is_clean(&page, "a wrong field").await;
            page.tab("pivots").await;
            page.type_into("arms[0].ball_joint.z", "1200").await;
            is_clean(&page, "a corner that hardly moves").await;
            page.browser.click("[data-do=about]").await;
            is_clean(&page, "the dialog").await;
        });
    }
}

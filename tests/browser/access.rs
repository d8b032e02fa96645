//! The page in every state under axe-core (axe/axe.min.js, MPL-2.0), which knows the rules of WCAG 2.2 AA that a
//! program can check: names, roles, contrast, order.

use cornerwise_tests::browser::{Look, Media, browse};
use serde_json::Value;

use crate::page::Page;

/// Sizes and colours in which each state is looked at.
const LOOKS: [Look; 3] = [
    Look { width: 1440, height: 900, dark: false },
    Look { width: 1440, height: 900, dark: true },
    Look { width: 390, height: 844, dark: false },
];

/// WCAG 2.2 AA, and what is good practice besides.
const RULES: &str = "['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']";
/// Without the good practice, which wants landmarks and headings to go about by: nobody goes about on paper.
const RULES_OF_PAPER: &str = "['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']";

/// What breaks a rule in the present state, for a person to read.
async fn broken_rules(page: &Page, rules: &str) -> Vec<String> {
    // From its top: what is scrolled half under the drawing of a phone is too small only until it is scrolled on.
    page.browser.eval("scrollTo(0, 0)").await;
    let run = "(window.ruled = null, axe.run(document, {runOnly: RULES}).then(\
               r => { window.ruled = r.violations.flatMap(v => v.nodes.map(n => v.id + ': ' + n.target + ' | ' + n.failureSummary)) }, \
               e => { window.ruled = [String(e)] }), 0)";
    page.browser.eval(&run.replace("RULES", rules)).await;
    page.browser.wait_until("window.ruled !== null").await;
    let found = page.browser.eval("window.ruled").await;
    found.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

async fn is_clean(page: &Page, state: &str) {
    keeps(page, state, RULES).await;
}

async fn keeps(page: &Page, state: &str, rules: &str) {
    let broken = broken_rules(page, rules).await;
    assert!(broken.is_empty(), "{state}:\n{}", broken.join("\n"));
}

/// Opens the page with the rules at hand.
async fn open(browser: cornerwise_tests::browser::Browser) -> Page {
    browser.run_before_pages(include_str!("axe/axe.min.js")).await;
    Page::open(browser).await
}

/// The Tab key need not go through every point of the drawing.
#[test]
fn the_drawing_can_be_passed_over() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        browser.press("[data-show=traces]", "Tab").await;
        let here = "document.activeElement.dataset.do || document.activeElement.id || null";
        assert_eq!(browser.eval(here).await, "skip");
        let wide = "document.activeElement.getBoundingClientRect().width > 100";
        assert_eq!(browser.eval(wide).await, true, "it is seen while it has the focus");
        browser.press_here("Enter").await;
        browser.wait_until(&format!("({here}) === 'tab-forces'")).await;
    });
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

#[test]
fn what_stands_beside_the_setup_keeps_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser.clone()).await;
            browser.click("[data-menu=reference]").await;
            is_clean(&page, "the open menu of the reference").await;
            browser.click("[data-do=keep-reference]").await;
            browser.wait_until("document.querySelector('[data-reference]')").await;
            page.tab("pivots").await;
            page.type_into("arms[0].ball_joint.z", "492").await;
            browser.wait_until("document.querySelector('[data-difference]')").await;
            page.tab("readings").await;
            browser.click("[data-do=trust]").await;
            browser.wait_until("document.querySelector('[data-trust]')").await;
            is_clean(&page, "a reference kept beneath, and how far to trust the numbers").await;
            for tab in ["both", "whole-car", "forces"] {
                page.tab(tab).await;
                browser.wait_until(&format!("document.querySelector('#panel-{tab} .difference')")).await;
                is_clean(&page, &format!("{tab} with differences")).await;
            }
            // Another setup takes the present one's place, which is then among the recent ones.
            browser.click("[data-do=swap]").await;
            page.choose_layout("Five-link").await;
            browser.click("[data-menu=recent]").await;
            browser.wait_until("document.querySelector('[data-recent]')").await;
            is_clean(&page, "the open menu of recent setups").await;
        });
    }
}

#[test]
fn what_is_pasted_and_what_is_no_linkage_keep_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser.clone()).await;
            page.tab("pivots").await;
            page.paste_pivots("point\tx\ty\tz\nwheel centre\t0\t791\t312\nsubframe\t1\t2\t3").await;
            assert!(page.line(3).await.contains("subframe"));
            is_clean(&page, "a block that is looked at before it is applied").await;
            page.put("wheel centre\t1,234\t790\t312").await;
            browser.wait_until("document.querySelector('.question')").await;
            is_clean(&page, "a comma that is asked about").await;
            browser.press_here("Escape").await;
            browser.wait_until("!document.querySelector('dialog.paste[open]')").await;
            page.remove_member("tie-rod").await;
            browser.wait_until("document.querySelector('[data-message=corner]')").await;
            is_clean(&page, "a corner that is no linkage").await;
        });
    }
}

#[test]
fn both_wheels_forces_and_numbers_of_curves_keep_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser.clone()).await;
            page.move_to("330", "0").await;
            browser.wait_until("document.querySelector('g.apart')").await;
            is_clean(&page, "beyond the linkage's reach").await;
            page.move_to("0", "0").await;
            for shown in ["both", "ghosts", "traces"] {
                browser.click(&format!("[data-show={shown}]")).await;
            }
            page.type_into("roll", "2").await;
            page.tab("both").await;
            browser
                .wait_until("document.querySelector('g.right') && document.querySelector('g.ghost')")
                .await;
            is_clean(&page, "both wheels under a leaning body").await;
            browser.click("[data-show=both]").await;
            browser.click("[data-show=axles]").await;
            browser.wait_until("document.querySelector('g.other-axle')").await;
            is_clean(&page, "both axles").await;
            browser.click("[data-show=axles]").await;
            page.tab("forces").await;
            browser.choose("[data-choice=\"load.case\"]", "free").await;
            browser.click(".others summary").await;
            browser.wait_until("document.querySelector('g[data-view=front] > polyline.force')").await;
            is_clean(&page, "forces with their arrows").await;
            browser.click("button[data-do=curve-table]").await;
            browser.wait_until("document.querySelector('[data-curve-numbers] tbody td')").await;
            is_clean(&page, "the curves as a table").await;
            browser.click("button[data-do=choose-curves]").await;
            browser.wait_until("document.querySelector('[data-chooser]')").await;
            is_clean(&page, "the choice of curves").await;
        });
    }
}

#[test]
fn large_type_and_paper_keep_the_rules() {
    for look in LOOKS {
        browse(look, async |browser| {
            let page = open(browser.clone()).await;
            browser.click("[data-do=large]").await;
            for tab in page.tabs().await {
                page.tab(&tab).await;
                is_clean(&page, &format!("{tab} in large type")).await;
            }
            browser.click("[data-do=large]").await;
            browser.show_in(Media { dark: look.dark, paper: true, ..Media::default() }).await;
            browser.wait_until("document.querySelector('.print-sheet svg')").await;
            keeps(&page, "the sheet on paper", RULES_OF_PAPER).await;
        });
    }
}

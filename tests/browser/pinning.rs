//! What the readings' table says of a reading, and which readings stand in the headline.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{readings::Quantity, setup::example};
use web_app::sharing;

use crate::page::Page;

/// The readings in the headline, in order.
async fn tiles(page: &Page) -> Vec<String> {
    let all =
        page.browser.eval("[...document.querySelectorAll('[data-tile]')].map(e => e.dataset.tile)").await;
    all.as_array().into_iter().flatten().filter_map(|name| name.as_str().map(str::to_owned)).collect()
}

async fn becomes(page: &Page, expected: &[&str]) {
    for _ in 0..100 {
        if tiles(page).await == expected {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    assert_eq!(tiles(page).await, expected);
}

async fn pin(page: &Page, name: &str) {
    page.browser.click(&format!("[data-pin=\"{name}\"]")).await;
}

const USUAL: [&str; 8] = [
    "roll_centre_height",
    "camber_gain",
    "kingpin_inclination",
    "caster",
    "scrub_radius",
    "mechanical_trail",
    "anti.braking_friction",
    "bump_steer",
];

#[test]
fn any_reading_joins_and_leaves_the_headline_up_to_eight_and_stays_after_a_reload() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        becomes(&page, &USUAL).await;
        pin(&page, "spring_motion_ratio").await;
        assert!(page.notice().await.contains("holds 8 numbers"), "full");
        becomes(&page, &USUAL).await;
        // By key, out and in.
        page.browser.press("[data-pin=caster]", "Enter").await;
        page.browser.wait_until("document.querySelectorAll('[data-tile]').length === 7").await;
        assert_eq!(page.message("notice").await, None, "there is room again");
        pin(&page, "spring_motion_ratio").await;
        let chosen: Vec<&str> =
            USUAL.into_iter().filter(|name| *name != "caster").chain(["spring_motion_ratio"]).collect();
        becomes(&page, &chosen).await;
        assert!(!page.headline("spring_motion_ratio").await.is_empty());
        assert!(!page.can_undo().await, "what is shown is no part of the setup");
        page.reload().await;
        becomes(&page, &chosen).await;

        // Corners that are not steered have a headline of their own.
        page.show_axle(geometry_core::setup::Axle::Rear).await;
        page.browser.wait_until("document.querySelectorAll('[data-tile]').length === 6").await;
        page.show_axle(geometry_core::setup::Axle::Front).await;
        page.browser.click("[data-do=usual-headline]").await;
        becomes(&page, &USUAL).await;
        page.reload().await;
        becomes(&page, &USUAL).await;
    });
}

#[test]
fn every_reading_can_be_the_only_one_and_none_leaves_a_hint() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        for name in USUAL {
            pin(&page, name).await;
        }
        becomes(&page, &[]).await;
        assert!(page.browser.text(".headline").await.contains("The star beside a reading"));
        for quantity in Quantity::ALL {
            let pin = format!("[data-pin=\"{}\"]", quantity.name());
            page.browser.press(&pin, "Space").await;
            becomes(&page, &[quantity.name()]).await;
            page.browser.press(&pin, "Space").await;
            becomes(&page, &[]).await;
        }
        assert!(page.browser.console_errors().await.is_empty());
    });
}

#[test]
fn a_kept_choice_that_is_none_is_put_aside_and_the_usual_shown() {
    for (broken, why) in [("steered camber kamber", "“kamber” is no reading"), ("{\"a\":1}", "is no list")]
    {
        browse(Look::default(), async |browser| {
            let put = format!(
                "if (location.protocol === 'file:') localStorage.setItem('cornerwise.headline', {broken:?})"
            );
            browser.run_before_pages(&put).await;
            let page = Page::open(browser).await;
            let notice = page.notice().await;
            assert!(notice.contains("headline") && notice.contains(why), "{notice}");
            becomes(&page, &USUAL).await;
            assert_eq!(page.kept("cornerwise.unreadable.headline").await.as_deref(), Some(broken));
            assert_eq!(page.kept("cornerwise.headline").await, None);
            pin(&page, "toe").await;
            pin(&page, "caster").await;
            page.browser
                .wait_until("(localStorage.getItem('cornerwise.headline') || '').includes('scrub_radius')")
                .await;
        });
    }
}

#[test]
fn a_reading_tells_formula_source_and_what_is_usual() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.browser.press("[data-choose=camber_gain]", "Enter").await;
        let text = page.browser.text("[data-definition=camber_gain]").await;
        for part in ["Formula: dγ/dz", "° per 100", "° per 25", "Source: ISO 23365"] {
            assert!(text.contains(part), "{part}: {text}");
        }
        assert_eq!(
            page.browser.attribute("[data-choose=camber_gain]", "aria-expanded").await.as_deref(),
            Some("true")
        );
        page.choose_reading("kingpin_inclination").await;
        let text = page.browser.text("[data-definition=kingpin_inclination]").await;
        assert!(text.contains("Usual: 11 to 15.5° (Reimpell"), "{text}");
        page.choose_reading("caster").await;
        let text = page.browser.text("[data-definition=caster]").await;
        assert!(text.contains("common practice, no source"), "{text}");
        page.choose_reading("caster").await;
        assert_eq!(page.browser.count("[data-definition]").await, 0);
    });
}

#[test]
fn a_reading_names_only_what_is_missing_and_leads_there() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.vehicle.wheelbase = None;
        document.vehicle.brake_front_share = None;
        document.front.as_mut().expect("a front corner").damper = None;
        let page = Page::open_link(browser, &format!("#{}", sharing::encode(&document))).await;
        let row = |name: &str| format!("tr:has([data-choose=\"{name}\"]) .words");
        let text = page.browser.text(&row("anti.braking_friction")).await;
        assert!(text.starts_with("needs the wheelbase and the share of the braking at the front"), "{text}");
        assert!(!text.contains("centre of gravity"), "{text}");
        assert!(
            page.browser.text("[data-tile=\"anti.braking_friction\"]").await.contains("needs the wheelbase")
        );
        assert_eq!(page.browser.text(&row("anti.driving_hub")).await, "needs the wheelbase");
        page.browser.click(&format!("{} button", row("anti.driving_hub"))).await;
        page.browser.wait_until("document.activeElement.dataset.field === 'vehicle.wheelbase'").await;
        page.type_into("vehicle.wheelbase", "2640").await;
        page.tab("readings").await;
        let told =
            format!("!document.querySelector('{} button')", row("anti.driving_hub").replace('"', "\\\""));
        page.browser.wait_until(&told).await;
        page.browser.click(&format!("{} button", row("damper_length"))).await;
        page.browser.wait_until("document.activeElement.dataset.add === 'damper'").await;
        // Of a corner that is not steered, the steering's readings need a link that does.
        page.tab("readings").await;
        page.show_axle(geometry_core::setup::Axle::Rear).await;
        page.browser.click(&format!("{} button", row("caster"))).await;
        page.browser.wait_until("document.activeElement.dataset.steers !== undefined").await;
    });
}

#[test]
fn the_tables_fit_a_phone_and_a_laptop() {
    for look in [Look { width: 390, height: 844, ..Look::default() }, Look::default()] {
        browse(look, async |browser| {
            let page = Page::open(browser).await;
            page.choose_by_key("camber_gain").await;
            assert!(!page.is_too_wide().await);
            let wide = "[...document.querySelectorAll('.readings td, .readings th')].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.innerText)";
            assert_eq!(page.browser.eval(wide).await, serde_json::json!([]));
        });
    }
}

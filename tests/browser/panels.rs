//! What the panels say of corners that lack something, and where the focus goes when a button does away with itself.

use cornerwise_tests::browser::{Browser, Look, browse};
use geometry_core::setup::{Axle, Document, example};
use serde_json::Value;
use web_app::{presets::Preset, sharing::encode};

use crate::page::Page;

/// Waits until an element says something.
async fn comes_to_say(browser: &Browser, css: &str, words: &str) {
    let says = format!(
        "(document.querySelector('{css}')?.textContent ?? '').replaceAll('\u{a0}', ' ').includes({})",
        Value::from(words)
    );
    browser.wait_until(&says).await;
}

/// Waits until the focus is on an element.
async fn comes_to_focus(browser: &Browser, css: &str) {
    browser.wait_until(&format!("document.activeElement?.matches('{css}')")).await;
}

fn changed(change: impl FnOnce(&mut Document)) -> Document {
    let mut document = example();
    change(&mut document);
    document
}

/// A pushrod that carries the car is pushed, in whichever panel.
#[test]
fn a_rod_is_pushed_or_pulled_the_same_in_every_panel() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        browser.click("[data-add=rocker]").await;
        browser.choose("[data-carrier=spring]", "rocker").await;
        page.tab("forces").await;
        let row = "[data-force='rocker.rod']";
        browser.wait_until(&format!("document.querySelector(\"{row}\")")).await;
        let pushed = browser.text(row).await.starts_with('\u{2212}');
        page.tab("whole-car").await;
        comes_to_say(
            &browser,
            "[data-of=\"front.rod_force\"]",
            if pushed { "compression" } else { "tension" },
        )
        .await;
    });
}

/// Each row asks for what enters it, and of the corner that lacks it.
#[test]
fn the_whole_car_asks_for_what_is_missing_where_it_is_missing() {
    let bare = changed(|document| {
        let front = document.front.as_mut().expect("a front");
        front.unsprung.clear();
        front.spring.as_mut().expect("a spring").rate = None;
        front.wheel.tyre_rate = None;
    });
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &encode(&bare)).await;
        page.tab("whole-car").await;
        let cell = async |key: &str| {
            browser.text(&format!("[data-of=\"{key}\"]")).await.replace('\u{a0}', " ").trim().to_owned()
        };
        browser.wait_until("document.querySelector('[data-of=\"front.corner_unsprung\"]')").await;
        assert_eq!(cell("front.corner_unsprung").await, "needs the parts that move with the wheel");
        assert_eq!(cell("front.corner_sprung").await, "needs the parts that move with the wheel");
        // The rear axle's column says that it is the front one's.
        comes_to_say(&browser, "[data-of=\"rear.transfer_geometric\"]", "(front)").await;
        // A right corner without its parts beside a left one that has them.
        let document = changed(|document| {
            let mut right = document.front.as_ref().expect("a front").mirrored();
            right.unsprung.clear();
            right.rack_direction = None;
            document.front_right = Some(right);
        });
        let page = Page::open_link(browser.clone(), &encode(&document)).await;
        page.tab("whole-car").await;
        comes_to_say(
            &browser,
            "[data-of=\"front.unsprung\"]",
            "needs the parts that move with the wheel, right side",
        )
        .await;
        browser.click("[data-of=\"front.unsprung\"] button").await;
        browser.wait_until("document.querySelector('[data-side=right]').ariaPressed === 'true'").await;
        comes_to_focus(&browser, "[data-add=unsprung]").await;
    });
}

#[test]
fn a_corner_that_is_none_has_no_other_reason_for_its_numbers() {
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &encode(&changed(|document| document.rear = None))).await;
        page.show_axle(Axle::Rear).await;
        page.tab("both").await;
        for row in ["left.camber", "right.toe", "left.roll_steer"] {
            comes_to_say(&browser, &format!("[data-both=\"{row}\"] .words"), "no linkage to read").await;
        }
        for tab in ["forces", "matters"] {
            page.tab(tab).await;
            comes_to_say(&browser, &format!("#panel-{tab}"), "This corner is not described yet").await;
        }
    });
}

/// Wheels of a rear axle that turn to the left take the car to the right.
#[test]
fn a_steered_rear_axle_turns_out_of_the_bend() {
    let document = changed(|document| {
        let rear = document.rear.as_mut().expect("a rear");
        rear.links.last_mut().expect("a link").steers = true;
    });
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &encode(&document)).await;
        page.show_axle(Axle::Rear).await;
        page.move_to("0", "10").await;
        page.tab("both").await;
        browser
            .wait_until("Number(document.querySelector('[data-both=inside_angle]')?.dataset.value) > 0.5")
            .await;
        let row = "(document.querySelector('[data-both=inside_angle]').closest('tr').textContent)";
        browser.wait_until(&format!("{row}.includes('out of the bend')")).await;
    });
}

#[test]
fn a_wanted_angle_is_no_length_in_inches() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.choose("[data-choice=units]", "in").await;
        page.tab("matters").await;
        let reading = "[data-choice='matters.quantity']";
        browser.choose(reading, "scrub_radius").await;
        page.type_into("matters.wanted", "0.5").await;
        let shows = async |text: &str| {
            browser
                .wait_until(&format!(
                    "document.querySelector('[data-field=\"matters.wanted\"]').value === '{text}'"
                ))
                .await;
        };
        browser.choose(reading, "camber").await;
        shows("0.25").await;
        page.type_into("matters.wanted", "1").await;
        browser.choose(reading, "mechanical_trail").await;
        shows("0.5").await;
        browser.choose(reading, "toe").await;
        shows("1").await;
    });
}

/// A force that is shown as zero has no direction, in whichever unit.
#[test]
fn what_is_shown_as_no_force_points_nowhere() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.choose("[data-choice=units]", "in").await;
        page.tab("forces").await;
        browser.choose("[data-choice='load.case']", "free").await;
        page.type_into("load.free[0].z", "0").await;
        page.type_into("load.free[0].x", "0.4").await;
        browser.wait_until("document.querySelectorAll('#panel-forces [data-force]').length > 5").await;
        comes_to_say(&browser, "#panel-forces", "no force").await;
        let told = browser.eval("document.querySelector('#panel-forces').textContent").await;
        let told = told.as_str().unwrap_or_default().replace('\u{a0}', " ");
        assert!(!told.contains("0 lbf forward") && !told.contains(" 0 lbf back"), "{told}");
    });
}

/// Loads of one's own may be none, in a link as well.
#[test]
fn no_load_of_ones_own_stays_none() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        browser.choose("[data-choice='load.case']", "free").await;
        browser.click("[data-remove='load.free[0]']").await;
        comes_to_focus(&browser, "[data-add=load]").await;
        let link = page.link().await;
        browser.eval("(localStorage.clear(), sessionStorage.clear())").await;
        Page::open_link(browser.clone(), &link).await;
        browser.wait_until("document.querySelector('[data-add=load]')").await;
        assert_eq!(browser.count("[data-remove^='load.free']").await, 0);
    });
}

/// A wrong number stays with its sentence while the row's name is typed, and while another row comes or goes.
#[test]
fn a_wrong_mass_stays_beside_another_part() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.unsprung[0].mass", "12 stone").await;
        let errors = page.field_errors().await;
        assert!(!errors.is_empty());
        page.type_into("front.unsprung[0].name", "wheel and hub").await;
        assert_eq!(page.field_errors().await, errors);
        browser.click("[data-add=unsprung]").await;
        assert_eq!(page.field("front.unsprung[0].mass").await, "12 stone");
        assert_eq!(page.field_errors().await, errors);
    });
}

/// Loads that are alike are not taken for one another.
#[test]
fn a_wrong_text_goes_with_its_row() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        browser.choose("[data-choice='load.case']", "free").await;
        browser.click("[data-add=load]").await;
        browser.click("[data-add=load]").await;
        page.type_into("load.free[1].x", "abc").await;
        assert!(page.is_wrong("load.free[1].x").await);
        browser.click("[data-remove='load.free[1]']").await;
        browser.wait_until("document.querySelectorAll('[data-remove^=\"load.free\"]').length === 2").await;
        assert_eq!(page.field("load.free[1].x").await, "0");
        assert!(!page.is_wrong("load.free[1].x").await);
        // So is a link that is added anew where one was taken out.
        page.tab("pivots").await;
        page.add_link().await;
        page.type_into("links[3].inboard.y", "12abc").await;
        let name = "[...document.querySelectorAll('[data-member]')].map(e => e.dataset.member).find(name => name === 'link')";
        assert_eq!(browser.eval(name).await, "link");
        page.remove_member("link").await;
        page.add_link().await;
        assert!(!page.is_wrong("links[3].inboard.y").await);
        // Renamed it is the same one, and a part's number lasts as well.
        page.type_into("links[3].inboard.y", "12abc").await;
        page.type_into("front.spring.rate", "40x").await;
        browser.type_into("[data-member=link] input.member-name", "trailing").await;
        browser.wait_until("document.querySelector('[data-member=trailing]')").await;
        assert_eq!(page.field("links[3].inboard.y").await, "12abc");
        assert_eq!(page.field("front.spring.rate").await, "40x");
        assert!(page.is_wrong("front.spring.rate").await && page.is_wrong("links[3].inboard.y").await);
    });
}

#[test]
fn the_focus_goes_on_where_a_button_goes() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        for (pressed, next) in [("remove", "add"), ("add", "remove")] {
            browser.press(&format!("#panel-car [data-{pressed}=\"wheel.rim\"]"), "Enter").await;
            comes_to_focus(&browser, &format!("[data-{next}=\"wheel.rim\"]")).await;
        }
        let strut = changed(|document| document.front = Some(Preset::Strut.corner(Axle::Front, 2640.0)));
        let link = encode(&strut);
        let fragment = link.split_once('#').expect("a fragment").1;
        browser.eval(&format!("location.hash = '{fragment}'")).await;
        browser.click("[data-menu=recent]").await;
        browser.press("[data-recent]", "Enter").await;
        comes_to_focus(&browser, "[data-menu=recent]").await;
    });
}

//! Numbers worth a second look: told at rest, led to, said to be meant.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, example};
use web_app::sharing::encode;

use crate::{
    core::{Shown, front_changed},
    page::Page,
};

impl Page {
    /// Waits until the line over the panels says this much; empty where it is not shown.
    async fn says_odd(&self, head: &str) {
        let shown = "(e => e.hidden ? '' : e.querySelector('summary').textContent)(document.querySelector('[data-part=oddities]'))";
        self.browser.wait_until(&format!("({shown}) === '{head}'")).await;
    }
}

#[test]
fn a_lost_sign_is_told_at_rest_and_led_to() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.says_odd("").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.y", "-722").await;
        page.tab("car").await;
        page.type_into("front.wheel.toe", "4").await;
        page.says_odd("2 numbers are worth a second look").await;
        page.browser.click("[data-part=oddities] summary").await;
        let sentence = page.browser.text("[data-odd=\"arms[0].ball_joint\"]").await;
        assert!(sentence.contains("1522 mm from the wheel"), "{sentence}");
        page.browser.click("[data-odd=\"arms[0].ball_joint\"]").await;
        page.browser.wait_until("document.activeElement.dataset.field === 'arms[0].ball_joint.y'").await;
        page.browser.click("[data-odd=\"front.wheel.toe\"]").await;
        page.browser.wait_until("document.activeElement.dataset.field === 'front.wheel.toe'").await;
        // The other axle has nothing of it.
        page.show_axle(Axle::Rear).await;
        page.says_odd("").await;
        page.show_axle(Axle::Front).await;
        page.says_odd("2 numbers are worth a second look").await;
        page.undo().await;
        page.says_odd("One number is worth a second look").await;
        page.undo().await;
        page.says_odd("").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn what_is_meant_is_not_told_again_until_it_is_odder() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("car").await;
        page.type_into("front.wheel.toe", "4").await;
        page.type_into("front.wheel.camber", "-9").await;
        page.says_odd("2 numbers are worth a second look").await;
        page.browser.click("[data-part=oddities] summary").await;
        page.browser.click("li:has([data-odd=\"front.wheel.toe\"]) button:last-child").await;
        page.says_odd("One number is worth a second look").await;
        page.browser.wait_until("document.activeElement.matches('.oddities summary')").await;
        page.browser.click("li:has([data-odd=\"front.wheel.camber\"]) button:last-child").await;
        page.says_odd("").await;
        page.browser.wait_until("document.activeElement.id === 'tab-car'").await;
        page.type_into("front.wheel.toe", "4.5").await;
        let changed = front_changed(|corner| {
            corner.wheel.toe = 4.5;
            corner.wheel.camber = -9.0;
        });
        page.shows(Shown::of(&changed, Axle::Front)).await;
        // 11.25° would be hardly odder than 9°.
        page.type_into("front.wheel.camber", "-11.5").await;
        page.says_odd("One number is worth a second look").await;
        assert_eq!(page.browser.count("[data-odd=\"front.wheel.toe\"]").await, 0);
        // Another setup has numbers of its own.
        let linked = front_changed(|corner| corner.wheel.toe = 4.0);
        let page = Page::open_link(page.browser.clone(), &encode(&linked)).await;
        page.says_odd("One number is worth a second look").await;
    });
}

/// On its way to 722 a coordinate is 7 and 72, at the car's middle.
#[test]
fn a_number_half_typed_is_not_told() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.browser.eval("(window.told = 0, new MutationObserver(() => window.told++).observe(document.querySelector('.oddities'), {attributes: true}), 0)").await;
        page.type_and_stay("arms[0].ball_joint.y", "7").await;
        tokio::time::sleep(std::time::Duration::from_millis(400)).await;
        page.browser.press_here("2 2").await;
        let changed = front_changed(|corner| corner.arms[0].ball_joint[1] = 722.0);
        page.shows(Shown::of(&changed, Axle::Front)).await;
        tokio::time::sleep(std::time::Duration::from_millis(1500)).await;
        assert_eq!(page.browser.eval("window.told").await, 0);
    });
}

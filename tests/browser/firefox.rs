//! The page in Firefox: what another engine could do otherwise. `cargo xtask test --firefox` runs these.

use cornerwise_tests::browser::{Browser, Look, Program, browse_in};
use geometry_core::setup::{Axle, example};

use crate::core::{Shown, front_changed};
use crate::page::Page;

const BALL_JOINT: &str = "arms[0].ball_joint";
const IN_FRONT_VIEW: &str = "front:arms[0].ball_joint";

fn firefox<T: Future<Output = ()>>(look: Look, test: impl FnOnce(Browser) -> T) {
    browse_in(Program::Firefox, look, test);
}

#[test]
#[ignore = "needs Firefox: cargo xtask test --firefox"]
fn firefox_shows_the_core_s_readings_bit_for_bit() {
    firefox(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        page.move_to("37.5", "-12").await;
        page.shows(Shown::at(&example(), Axle::Front, 37.5, -12.0)).await;
        page.move_to("0", "0").await;
        page.show_axle(Axle::Rear).await;
        page.shows(Shown::of(&example(), Axle::Rear)).await;
        assert!(page.shapes("front").await > 20 && page.shapes("plan").await > 20);
        assert!(!page.is_too_wide().await);
    });
}

#[test]
#[ignore = "needs Firefox: cargo xtask test --firefox"]
fn firefox_drags_nudges_and_undoes() {
    firefox(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let before = page.point(BALL_JOINT).await;
        page.drag(IN_FRONT_VIEW, 9, -14).await;
        let after = page.point(BALL_JOINT).await;
        assert!(after[1] != before[1] && after[2] > before[2], "{before:?} {after:?}");
        let dragged = front_changed(|corner| corner.arms[0].ball_joint = after);
        page.shows(Shown::of(&dragged, Axle::Front)).await;
        page.press_on(IN_FRONT_VIEW, "ArrowUp").await;
        assert!((page.point(BALL_JOINT).await[2] - after[2] - 1.0).abs() < 1e-9);
        page.undo().await;
        page.undo().await;
        assert_eq!(page.point(BALL_JOINT).await.map(f64::to_bits), before.map(f64::to_bits));
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
#[ignore = "needs Firefox: cargo xtask test --firefox"]
fn firefox_keeps_the_work_and_passes_it_on() {
    firefox(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "abc").await;
        assert!(page.is_wrong("front.wheel.camber").await);
        page.shows(Shown::of(&example(), Axle::Front)).await;
        page.type_into("front.wheel.camber", "-2.25").await;
        let expected = front_changed(|corner| corner.wheel.camber = -2.25);
        page.shows(Shown::of(&expected, Axle::Front)).await;
        page.reload().await;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        let link = page.link().await;
        let page = Page::open_link(browser, &link).await;
        page.shows(Shown::of(&expected, Axle::Front)).await;
    });
}

#[test]
#[ignore = "needs Firefox: cargo xtask test --firefox"]
fn firefox_draws_a_chosen_reading() {
    firefox(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.choose_reading("roll_centre_height").await;
        assert_eq!(page.chosen().await.as_deref(), Some("roll_centre_height"));
        assert!(page.found("front", "exact").await > 2 && page.found("front", "shortcut").await > 2);
        assert!(page.finding().await.contains("mm"));
    });
}

#[test]
#[ignore = "needs Firefox: cargo xtask test --firefox"]
fn firefox_on_a_phone_in_the_dark() {
    // Firefox's window is never narrower than 450 pixels.
    firefox(Look { width: 450, height: 844, dark: true }, async |browser| {
        let page = Page::open(browser).await;
        assert!(!page.is_too_wide().await);
        assert!(page.brightness().await < 200);
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

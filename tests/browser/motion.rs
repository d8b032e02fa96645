//! Both wheels under a leaning body, and what moves by itself.

use std::time::Duration;

use cornerwise_tests::browser::{Browser, Look, Media, browse};
use geometry_core::axle::{AxleFollower, AxleReader, AxleReadings, AxleState, Lean, WheelPair};
use geometry_core::linkage::Linkage;
use geometry_core::setup::{Axle, Document, Side, example};
use geometry_core::solve::{Follower, Nearest, State};
use serde_json::json;
use web_app::{edit::mirror_image, sharing};

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// What the core says of both wheels.
fn both(document: &Document, axle: Axle, state: AxleState, lean: Lean) -> AxleReadings {
    let pair = WheelPair::of(document, axle).expect("assembled").expect("described");
    let position = AxleFollower::new(&pair).go_to(state, lean).expect("in reach");
    AxleReader::new(&pair, &document.vehicle).read(&position)
}

/// A number of the tab “Both wheels” in full precision; none where there is no number.
async fn number(browser: &Browser, name: &str) -> Option<f64> {
    let text = browser.attribute(&format!("[data-both=\"{name}\"]"), "data-value").await;
    text.and_then(|text| text.parse().ok())
}

/// Waits until the tab shows a number, to the last bit.
async fn shows(browser: &Browser, name: &str, expected: f64) {
    browser
        .wait_until(&format!(
            "document.querySelector('[data-both=\"{name}\"]').dataset.value == '{expected}'"
        ))
        .await;
}

/// The words beside or under a number of the tab.
async fn words(browser: &Browser, name: &str) -> String {
    let row = format!("document.querySelector('[data-both=\"{name}\"]')");
    let words = format!("({row}.querySelector('.words') || {row}.nextElementSibling).textContent");
    browser.eval(&words).await.as_str().unwrap_or_default().to_owned()
}

async fn travel(page: &Page) -> f64 {
    page.field("travel").await.replace('\u{2212}', "-").parse().expect("a number")
}

async fn rest(milliseconds: u64) {
    tokio::time::sleep(Duration::from_millis(milliseconds)).await;
}

#[test]
fn a_leaning_body_turns_both_cambers_to_the_ground_opposite_ways() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("both").await;
        let level = number(&browser, "left.camber_to_ground").await.expect("a camber");
        assert_eq!(Some(level), number(&browser, "right.camber_to_ground").await);
        page.type_into("roll", "3").await;
        let state = AxleState { heave: 0.0, roll: 3.0, rack: 0.0 };
        let expected = both(&example(), Axle::Front, state, Lean::HeaveHeld);
        // One wheel's roll centre is not the axle's, and the headline says both.
        let axles = expected.roll_centre.expect("the axle has one").height;
        let said = format!(
            "document.querySelector('[data-tile=roll_centre_height]').innerText.replace(/\\s/g, ' ')\
             .includes('if symmetric; the axle’s: {axles:.1} mm')"
        );
        page.browser.wait_until(&said).await;
        // Chosen, it is drawn beside the corner's.
        page.choose_tile("roll_centre_height").await;
        let drawn = "[...document.querySelectorAll('g[data-view=front] text')].some(e => e.textContent.startsWith('roll centre of the axle'))";
        page.browser.wait_until(drawn).await;
        page.choose_tile("roll_centre_height").await;
        page.tab("both").await;
        shows(&browser, "left.camber_to_ground", expected.left.camber_to_ground).await;
        shows(&browser, "right.camber_to_ground", expected.right.camber_to_ground).await;
        let (left, right) = (expected.left.camber_to_ground - level, expected.right.camber_to_ground - level);
        assert!(left < -1.0 && right > 1.0, "to the right: left top in, right top out: {left} {right}");
        assert_eq!(words(&browser, "left.camber_to_ground").await, "top leans in");
        assert_eq!(words(&browser, "right.camber_to_ground").await, "top leans out");
        assert_eq!(words(&browser, "left.travel").await, "rebound");
        assert_eq!(words(&browser, "right.travel").await, "bump");

        // The other way the wheels change places.
        page.type_into("roll", "\u{2212}3").await;
        shows(&browser, "right.camber_to_ground", expected.left.camber_to_ground).await;

        // Another axle stands level again.
        page.show_axle(Axle::Rear).await;
        assert_eq!(page.field("roll").await, "0");
        page.shows(Shown::of(&example(), Axle::Rear)).await;
    });
}

#[test]
fn the_table_of_the_left_corner_is_that_of_the_leaning_body() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.type_into("roll", "2,5").await;
        page.move_to("10", "0").await;
        let state = AxleState { heave: 10.0, roll: 2.5, rack: 0.0 };
        let expected = both(&example(), Axle::Front, state, Lean::HeaveHeld).left.camber;
        browser
            .wait_until(&format!(
                "Math.abs((document.querySelector('[data-reading=camber]').exact ?? NaN) - {expected}) < 1e-9"
            ))
            .await;
        page.browser.click("[data-zero=roll]").await;
        page.shows(Shown::at(&example(), Axle::Front, 10.0, 0.0)).await;
    });
}

#[test]
fn the_body_leans_with_the_heave_held_or_about_the_roll_centre() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("both").await;
        page.type_into("roll", "1.5").await;
        page.move_to("\u{2212}15", "0").await;
        let state = AxleState { heave: -15.0, roll: 1.5, rack: 0.0 };
        shows(&browser, "heave", -15.0).await;
        browser.click("[data-lean=roll-centre]").await;
        let expected = both(&example(), Axle::Front, state, Lean::RollCentre);
        shows(&browser, "heave", expected.heave).await;
        assert!((expected.heave + 15.0).abs() > 0.1, "{}", expected.heave);
        let centre = expected.roll_centre.expect("a roll centre");
        shows(&browser, "roll_centre_across", centre.across).await;
        shows(&browser, "roll_centre_height", centre.height).await;
        assert!(centre.across.abs() > 1.0, "away from the middle: {}", centre.across);
        browser.click("[data-lean=heave-held]").await;
        shows(&browser, "heave", -15.0).await;

        // Where the roll centre runs away there is nothing to turn about.
        browser.click("[data-lean=roll-centre]").await;
        page.move_to("15", "0").await;
        page.type_into("roll", "5").await;
        browser.wait_until("document.querySelector('[data-message=reach]')").await;
        let message = page.message("reach").await.expect("a message");
        assert!(message.contains("no point to turn about") && message.contains("heave held"), "{message}");
    });
}

/// A right corner that is described by itself is shown as its mirror image; the axle is still the car's.
#[test]
fn both_wheels_are_the_cars_whichever_side_is_shown() {
    let mut document = example();
    document.front_right = document.front.as_ref().map(mirror_image);
    document.front_right.as_mut().expect("a right corner").wheel.camber = -2.5;
    browse(Look::default(), async |browser| {
        let page = Page::open_link(browser.clone(), &sharing::encode(&document)).await;
        browser.click("[data-side=right]").await;
        page.tab("both").await;
        let expected = both(&document, Axle::Front, AxleState::DESIGN, Lean::HeaveHeld);
        shows(&browser, "left.camber_to_ground", expected.left.camber_to_ground).await;
        shows(&browser, "right.camber_to_ground", expected.right.camber_to_ground).await;
        assert!((expected.left.camber_to_ground - expected.right.camber_to_ground).abs() > 1.0);
        assert_eq!(browser.attribute("[data-side=right]", "aria-pressed").await.as_deref(), Some("true"));
    });
}

#[test]
fn the_turn_is_read_and_what_is_missing_is_named() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("both").await;
        assert_eq!(number(&browser, "turning_circle").await, None);
        assert!(words(&browser, "turning_circle").await.contains("move the rack"));
        page.type_into("rack", "30").await;
        let state = AxleState { heave: 0.0, roll: 0.0, rack: 30.0 };
        let expected = both(&example(), Axle::Front, state, Lean::HeaveHeld);
        let turning = expected.turning.expect("the wheels are turned");
        shows(&browser, "inside_angle", turning.inside_angle).await;
        shows(&browser, "outside_angle", turning.outside_angle).await;
        shows(&browser, "turning_circle", turning.turning_circle).await;
        shows(&browser, "ackermann_percentage", expected.ackermann_percentage.expect("a wheelbase")).await;
        assert!(turning.inside_angle > 5.0 && turning.outside_angle > 5.0);
        let metres = format!("{:.2} m", turning.turning_circle / 1000.0);
        assert_eq!(browser.text("[data-both=turning_circle]").await.replace('\u{a0}', " "), metres);

        // A touch tells what it is.
        browser.click("[data-define=ackermann_percentage]").await;
        assert!(browser.text("[data-definition=ackermann_percentage]").await.contains("ISO 8855"));

        page.tab("car").await;
        page.paste_into("vehicle.wheelbase", "").await;
        page.tab("both").await;
        assert_eq!(number(&browser, "turning_circle").await, None);
        for name in ["turning_circle", "ackermann_percentage", "inside_angle"] {
            assert!(words(&browser, name).await.contains("wheelbase"), "{name}");
        }
        page.show_axle(Axle::Rear).await;
        assert!(words(&browser, "turning_circle").await.contains("no link of this axle steers"));
    });
}

#[test]
fn both_wheels_are_drawn_on_request_with_the_centre_plane_in_the_middle() {
    for look in [Look::default(), Look { width: 390, height: 844, dark: true }] {
        browse(look, async |browser| {
            let page = Page::open(browser.clone()).await;
            assert_eq!(browser.count("g.right").await, 0);
            browser.click("[data-show=both]").await;
            for view in ["front", "plan"] {
                let right = browser.count(&format!("g[data-view={view}] > g.right > *")).await;
                assert!(right >= 10, "{right} shapes of the right corner in the {view} view");
                let name = browser.text(&format!("g[data-view={view}] text.wheel-name")).await;
                assert_eq!(name, "right wheel");
            }
            assert_eq!(
                browser.count("g[data-view=side] > g.right").await,
                0,
                "it stands behind the left one"
            );
            // Symmetric in the front view: both in its pane, and as far from the centre plane.
            let places = "(() => { const one = e => document.querySelector(e), x = e => +one('#pane-front rect').getAttribute(e), \
                hubs = [...document.querySelectorAll('g[data-view=front] circle.hub')].map(e => +e.getAttribute('cx')); \
                return [x('x'), hubs[0], +one('g[data-view=front] > .centre-line').getAttribute('points').split(',')[0], hubs[1], \
                    x('x') + x('width')]; })()";
            let places: Vec<f64> =
                serde_json::from_value(browser.eval(places).await).expect("five places from left to right");
            assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{places:?}");
            let [_, right, plane, left, _] = places[..] else { panic!("{places:?}") };
            assert!((f64::midpoint(right, left) - plane).abs() < 0.1, "{places:?}");
            // Points of the left corner can still be dragged; the right one follows.
            let before = page.point("arms[0].ball_joint").await;
            page.press_on("front:arms[0].ball_joint", "ArrowUp").await;
            assert_eq!(page.point("arms[0].ball_joint").await[2], before[2] + 1.0);
            assert!(!page.is_too_wide().await);
            browser.click("[data-show=both]").await;
            assert_eq!(browser.count("g.right").await, 0);
        });
    }
}

#[test]
fn with_both_wheels_the_ground_stays_and_the_body_moves_over_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-show=both]").await;
        let pivot = "front:arms[0].front_pivot";
        let (_, described) = page.place(pivot).await;
        page.type_into("travel", "40").await;
        page.type_into("roll", "4").await;
        let ground =
            "document.querySelector('g[data-view=front] .ground').getAttribute('points').split(',')[1]";
        let ground: f64 = browser.eval(&format!("parseFloat({ground})")).await.as_f64().expect("a line");
        let contacts = "[...document.querySelectorAll('g[data-view=front] > circle.contact')].map(e => +e.getAttribute('cy'))";
        let contacts = browser.eval(contacts).await;
        let contacts: Vec<f64> =
            contacts.as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect();
        assert!(
            contacts.len() == 2 && contacts.iter().all(|y| (y - ground).abs() < 0.11),
            "{contacts:?} {ground}"
        );
        // Down by the heave, up on the left by the lean.
        browser.click("[data-zero=roll]").await;
        let (_, dropped) = page.place(pivot).await;
        page.type_into("roll", "4").await;
        let (_, leaning) = page.place(pivot).await;
        assert!(dropped > described + 5.0 && leaning < dropped - 5.0, "{described} {dropped} {leaning}");
        // A drag still takes the point along under the pointer.
        let pivot = "front:spring.body";
        let from = page.place(pivot).await;
        page.drag(pivot, 10, -12).await;
        let to = page.place(pivot).await;
        assert!((to.0 - from.0 - 10.0).abs() < 0.6 && (to.1 - from.1 + 12.0).abs() < 0.6, "{from:?} {to:?}");
    });
}

#[test]
fn a_wrong_roll_keeps_its_text_and_changes_nothing() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("both").await;
        page.type_into("roll", "2").await;
        let state = AxleState { heave: 0.0, roll: 2.0, rack: 0.0 };
        let expected = both(&example(), Axle::Front, state, Lean::HeaveHeld);
        for (wrong, sentence) in [
            ("3x", "“3x” is not a number"),
            ("abc", "“abc” is not a number"),
            ("45", "Body roll must lie between \u{2212}30 and 30 °; it is 45"),
            ("1e999", "“1e999” is larger than any number"),
        ] {
            page.type_into("roll", wrong).await;
            assert_eq!(page.field("roll").await, wrong);
            assert!(page.is_wrong("roll").await);
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{wrong}: {errors:?}");
            shows(&page.browser, "left.camber_to_ground", expected.left.camber_to_ground).await;
        }
        page.type_into("roll", "2,0").await;
        assert!(page.field_errors().await.is_empty() && !page.is_wrong("roll").await);
    });
}

#[test]
fn beyond_its_reach_the_axle_stands_at_its_end_and_says_so() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-show=both]").await;
        page.move_to("300", "0").await;
        page.type_into("roll", "30").await;
        browser.wait_until("document.querySelector('[data-message=reach]')").await;
        let message = page.message("reach").await.expect("a message");
        assert!(
            message.contains("wheel stops at a heave of ")
                && message.contains(", a roll of ")
                && message.contains("The drawing stands at"),
            "{message}"
        );
        assert!(page.shapes("front").await > 10);
        page.move_to("0", "0").await;
        page.type_into("roll", "1").await;
        browser.wait_until("!document.querySelector('[data-message=reach]')").await;
    });
}

#[test]
fn stops_and_the_end_of_the_linkage_are_marked_on_the_sliders() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let ends = async |name: &str| {
            browser.text(&format!("[data-ends={name}]")).await.replace(['\u{a0}', '\n'], " ")
        };
        assert_eq!(ends("travel").await, "rebound stop \u{2212}85 mm bump stop 80 mm");
        assert_eq!(ends("roll").await, "leans left leans right");
        let far = front_changed(|corner| {
            corner.bump_travel = Some(900.0);
            corner.rebound_travel = None;
        });
        let page = Page::open_link(page.browser, &sharing::encode(&far)).await;
        let text = ends("travel").await;
        assert!(text.starts_with("rebound linkage ends at "), "{text}");
        // The slider goes to the stop all the same; the drawing stands at the linkage's end.
        page.press_on_slider("travel", "End").await;
        assert_eq!(page.field("travel").await, "900");
        let expected = Shown::at(&far, Axle::Front, 900.0, 0.0);
        assert!(expected.stopped.is_some());
        page.shows(expected).await;
    });
}

#[test]
fn play_moves_and_any_hand_on_it_stops_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let pressed =
            async || browser.attribute("[data-play=travel]", "aria-pressed").await.unwrap_or_default();
        browser.click("[data-play=travel]").await;
        // Up to the bump stop and back through zero.
        browser.wait_until("+document.querySelector('[data-slider=travel]').value > 70").await;
        browser.wait_until("+document.querySelector('[data-slider=travel]').value < 0").await;
        assert_eq!(pressed().await, "true");
        // The button has the focus: Space.
        browser.press_here("Space").await;
        assert_eq!(pressed().await, "false");
        let stands = travel(&page).await;
        rest(250).await;
        assert_eq!(travel(&page).await, stands);
        assert!((-85.0..=80.0).contains(&stands), "{stands}");

        // A key on the slider, a typed number, the button for zero.
        browser.press("[data-play=travel]", "Space").await;
        page.press_on_slider("travel", "ArrowRight").await;
        assert_eq!(pressed().await, "false");
        browser.press("[data-play=travel]", "Space").await;
        page.type_into("travel", "7").await;
        assert_eq!(pressed().await, "false");
        page.shows(Shown::at(&example(), Axle::Front, 7.0, 0.0)).await;
        browser.press("[data-play=travel]", "Space").await;
        browser.click("[data-zero=travel]").await;
        assert_eq!(pressed().await, "false");
        page.shows(Shown::of(&example(), Axle::Front)).await;

        // A key on a curve, which moves its cursor.
        browser.press("[data-play=travel]", "Space").await;
        browser.press("[data-curve=camber]", "End").await;
        assert_eq!(pressed().await, "false");
        rest(100).await;
        page.shows(Shown::at(&example(), Axle::Front, 80.0, 0.0)).await;
        browser.click("[data-zero=travel]").await;

        // The rack in its turn; it takes the place of what moved before.
        browser.press("[data-play=travel]", "Space").await;
        browser.press("[data-play=rack]", "Space").await;
        assert_eq!(pressed().await, "false");
        browser.wait_until("+document.querySelector('[data-slider=rack]').value > 20").await;
        browser.press("[data-play=roll]", "Space").await;
        browser.wait_until("+document.querySelector('[data-slider=roll]').value > 2").await;
        page.show_axle(Axle::Rear).await;
        rest(100).await;
        assert_eq!(page.field("roll").await, "0");
    });
}

#[test]
fn where_less_motion_is_asked_for_play_goes_in_slow_steps() {
    browse(Look::default(), async |browser| {
        browser.show_in(Media { less_motion: true, ..Media::default() }).await;
        let page = Page::open(browser.clone()).await;
        // Every value that the slider ever has.
        browser
            .eval("(window.seen = [], window.timer = setInterval(() => { const v = document.querySelector('[data-slider=travel]').value; if (seen[seen.length - 1] !== v) seen.push(v); }, 5), 0)")
            .await;
        browser.click("[data-play=travel]").await;
        browser.wait_until("seen.length >= 4").await;
        browser.press_here("Space").await;
        let seen = browser.eval("(clearInterval(timer), seen.map(Number))").await;
        let seen: Vec<f64> =
            seen.as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect();
        assert!(seen.len() <= 5 && seen.windows(2).all(|pair| pair[1] - pair[0] > 2.0), "{seen:?}");
        let stands = travel(&page).await;
        rest(1500).await;
        assert_eq!(travel(&page).await, stands);
    });
}

#[test]
fn the_ends_of_the_travel_are_drawn_thin_on_request() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.count("g.ghost").await, 0);
        browser.click("[data-show=ghosts]").await;
        for view in ["front", "side", "plan"] {
            let lines = browser.count(&format!("g[data-view={view}] > g.ghost > polyline.member")).await;
            assert_eq!(lines, 2 * 5, "two ends of an arm's two legs and three links in the {view} view");
        }
        let names =
            browser.eval("[...document.querySelectorAll('text.ghost-name')].map(e => e.textContent)").await;
        assert_eq!(names, json!(["rebound 85\u{a0}mm", "bump 80\u{a0}mm"]));
        browser.click("[data-show=both]").await;
        assert_eq!(browser.count("g[data-view=front] > g.ghost > polyline.member").await, 20);
        browser.click("[data-show=ghosts]").await;
        assert_eq!(browser.count("g.ghost").await, 0);
        assert!(page.shapes("front").await > 10);
    });
}

#[test]
fn paths_over_the_travel_are_drawn_on_request_for_the_touched_point_too() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-show=traces]").await;
        for view in ["front", "side", "plan"] {
            let paths = browser.count(&format!("g[data-view={view}] > g.traces > polyline.trace")).await;
            assert_eq!(paths, 2, "{view}");
        }
        browser.click("[data-handle=\"front:arms[0].ball_joint\"]").await;
        browser
            .wait_until(
                "document.querySelectorAll('g[data-view=front] > g.traces > polyline.trace').length == 3",
            )
            .await;
        let names =
            browser.eval("[...document.querySelectorAll('text.trace-name')].map(e => e.textContent)").await;
        assert_eq!(
            names,
            json!(["path of wheel centre", "path of contact", "path of upper-arm, ball joint"])
        );
        // The wheel centre stands on its path, wherever the slider is.
        page.type_into("travel", "33").await;
        let off = "(() => { const g = document.querySelector('g[data-view=front]'); const hub = g.querySelector(':scope > circle.hub'); \
            const p = g.querySelector('g.traces > polyline').getAttribute('points').trim().split(' ').map(t => t.split(',').map(Number)); \
            const [x, y] = [+hub.getAttribute('cx'), +hub.getAttribute('cy')]; let best = 1e9; \
            for (let i = 1; i < p.length; i++) { const [a, b] = [p[i-1], p[i]]; const d = [b[0]-a[0], b[1]-a[1]]; \
            const t = Math.max(0, Math.min(1, ((x-a[0])*d[0] + (y-a[1])*d[1]) / (d[0]*d[0] + d[1]*d[1]))); \
            best = Math.min(best, Math.hypot(x-a[0]-t*d[0], y-a[1]-t*d[1])); } return best; })()";
        let off = browser.eval(off).await.as_f64().expect("a distance");
        assert!(off < 0.25, "{off} pixels off its path");
        browser.click("[data-show=traces]").await;
        assert_eq!(browser.count("g.traces").await, 0);
    });
}

#[test]
fn beyond_its_reach_the_corner_is_drawn_where_it_pulls_apart() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        assert_eq!(page.shapes_in("front", "apart").await, 0);
        page.move_to("330", "0").await;
        page.shows(Shown::at(&example(), Axle::Front, 330.0, 0.0)).await;
        for view in ["front", "side", "plan"] {
            let gaps = page.browser.count(&format!("g[data-view={view}] > g.apart > .gap")).await;
            assert!(gaps >= 2, "{gaps} in {view}");
        }
        let sentence = page.message("apart").await.expect("what is missing").replace('\u{a0}', " ");
        assert!(sentence.starts_with("At travel 330.0 mm its parts would at best be apart"), "{sentence}");
        // What the core says of the same corner.
        let document = example();
        let corner = document.corner(Axle::Front).expect("a front corner");
        let linkage = Linkage::new(corner, Side::Left).expect("the demonstration");
        let mut follower = Follower::new(&linkage);
        let state = State { travel: 330.0, rack: 0.0 };
        assert!(follower.go_to(state).stop().is_some());
        let nearest = Nearest::to(&linkage, follower.position(), state).expect("numbers");
        for gap in nearest.gaps.iter().filter(|gap| gap.width() >= 0.05) {
            let told = format!("{} by {:.1} mm", gap.member.id(corner), gap.width());
            assert!(sentence.contains(&told), "{told} is not in: {sentence}");
        }
        page.move_to("0", "0").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.message("apart").await, None);
        assert_eq!(page.shapes_in("front", "apart").await, 0);
    });
}

#[test]
fn on_a_phone_the_drawing_stays_in_sight_while_a_slider_moves_it() {
    browse(Look { width: 390, height: 844, dark: false }, async |browser| {
        let page = Page::open(browser.clone()).await;
        // The part of the drawing that lies in the window, in pixels.
        let in_sight = async || {
            let seen = "(r => Math.min(r.bottom, innerHeight) - Math.max(r.top, 0))(document.querySelector('[data-sheet]').getBoundingClientRect())";
            browser.eval(seen).await.as_f64().unwrap_or(f64::NAN)
        };
        let whole = in_sight().await;
        browser
            .eval("document.querySelector('[data-slider=travel]').scrollIntoView({block: 'center'})")
            .await;
        assert!((in_sight().await - whole).abs() < 2.0, "{whole}");
        let before = page.place("front:arms[0].ball_joint").await;
        page.press_on_slider("travel", "PageUp PageUp").await;
        let after = page.place("front:arms[0].ball_joint").await;
        assert!(after.1 < before.1 - 2.0, "{before:?} {after:?}");
        assert!((in_sight().await - whole).abs() < 2.0);
        // While a number is typed it gives way.
        page.tab("pivots").await;
        page.type_and_stay("arms[0].ball_joint.z", "490").await;
        assert!(in_sight().await < 0.5 * whole, "{}", in_sight().await);
    });
}

/// What was meant by Enter holds when a slip of the hand follows.
#[test]
fn a_slip_in_a_motion_s_field_leaves_what_was_meant_before() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.type_and_stay("rack", "30").await;
        browser.press_here("Enter").await;
        page.shows(Shown::at(&example(), Axle::Front, 0.0, 30.0)).await;
        page.type_and_stay("rack", "3x").await;
        assert!(page.is_wrong("rack").await);
        page.shows(Shown::at(&example(), Axle::Front, 0.0, 30.0)).await;
        browser.press_here("Escape").await;
        assert_eq!(page.field("rack").await, "30");
    });
}

//! Points moved on the sheet, by the pointer and by keys.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, Document, Point, example};

use crate::core::{Shown, front_changed};
use crate::page::Page;

const BALL_JOINT: &str = "arms[0].ball_joint";
const IN_FRONT_VIEW: &str = "front:arms[0].ball_joint";

/// The example with its upper ball joint elsewhere.
fn with_ball_joint(point: Point) -> Document {
    front_changed(|corner| corner.arms[0].ball_joint = point)
}

#[test]
fn a_dragged_point_follows_the_pointer_and_one_undo_takes_it_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let start = page.place(IN_FRONT_VIEW).await;
        let before = page.point(BALL_JOINT).await;
        assert!(!page.can_undo().await);

        page.drag(IN_FRONT_VIEW, 9, -14).await;
        let end = page.place(IN_FRONT_VIEW).await;
        // The document keeps tenths of a millimetre, which are less than half a pixel here.
        assert!(
            (end.0 - start.0 - 9.0).abs() < 0.5 && (end.1 - start.1 + 14.0).abs() < 0.5,
            "{start:?} {end:?}"
        );
        let after = page.point(BALL_JOINT).await;
        assert!(after[0].to_bits() == before[0].to_bits(), "a drag in the front view leaves x: {after:?}");
        assert!(after[1] != before[1] && after[2] > before[2], "{before:?} {after:?}");
        page.shows(Shown::of(&with_ball_joint(after), Axle::Front)).await;

        page.undo().await;
        assert_eq!(page.point(BALL_JOINT).await.map(f64::to_bits), before.map(f64::to_bits));
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert!(!page.can_undo().await, "the whole drag is one step");

        page.redo().await;
        assert_eq!(page.point(BALL_JOINT).await.map(f64::to_bits), after.map(f64::to_bits));
        page.shows(Shown::of(&with_ball_joint(after), Axle::Front)).await;
    });
}

#[test]
fn points_are_dragged_in_the_other_views_too() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let before = page.point("spring.body").await;
        page.drag("side:spring.body", 12, 8).await;
        let side = page.point("spring.body").await;
        assert!(side[0] != before[0] && side[2] < before[2], "{before:?} {side:?}");
        assert!(side[1].to_bits() == before[1].to_bits(), "a drag in the side view leaves y: {side:?}");
        page.drag("plan:links[1].inboard", 10, 10).await;
        let link = page.point("links[1].inboard").await;
        let [x, y, z] = example().front.expect("a front corner").links[1].inboard;
        assert!(link[0] != x && link[1] != y, "{link:?}");
        assert!(link[2].to_bits() == z.to_bits(), "a drag in plan leaves z: {link:?}");
        let expected = front_changed(|corner| {
            corner.links[1].inboard = link;
            corner.spring.as_mut().expect("a spring").body = side;
            // The damper stands inside the spring and goes along.
            corner.damper.as_mut().expect("a damper").body = side;
        });
        page.shows(Shown::of(&expected, Axle::Front)).await;
    });
}

#[test]
fn a_point_can_be_dragged_while_the_wheel_is_away_from_its_design_position() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.move_to("40", "12").await;
        let start = page.place(IN_FRONT_VIEW).await;
        page.drag(IN_FRONT_VIEW, 0, -10).await;
        let end = page.place(IN_FRONT_VIEW).await;
        assert!(end.1 < start.1 - 3.0, "{start:?} {end:?}");
        let point = page.point(BALL_JOINT).await;
        page.shows(Shown::at(&with_ball_joint(point), Axle::Front, 40.0, 12.0)).await;
    });
}

#[test]
fn arrow_keys_move_a_point_by_1_10_and_a_tenth_of_a_millimetre() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let [x, y, z] = page.point(BALL_JOINT).await;
        for (keys, height) in [
            ("ArrowUp", z + 1.0),
            ("Shift+ArrowUp", z + 11.0),
            ("Alt+ArrowUp", 493.1),
            ("Shift+ArrowDown ArrowDown Alt+ArrowDown", z),
        ] {
            page.press_on(IN_FRONT_VIEW, keys).await;
            page.shows(Shown::of(&with_ball_joint([x, y, height]), Axle::Front)).await;
            assert_eq!(
                page.point(BALL_JOINT).await.map(f64::to_bits),
                [x, y, height].map(f64::to_bits),
                "{keys}"
            );
        }
    });
}

#[test]
fn a_run_of_arrow_keys_is_one_step_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let [x, y, z] = page.point(BALL_JOINT).await;
        page.press_on(IN_FRONT_VIEW, "ArrowUp ArrowUp Shift+ArrowUp ArrowUp").await;
        page.shows(Shown::of(&with_ball_joint([x, y, z + 13.0]), Axle::Front)).await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert!(!page.can_undo().await);
        page.press_on(IN_FRONT_VIEW, "Control+Shift+z").await;
        page.shows(Shown::of(&with_ball_joint([x, y, z + 13.0]), Axle::Front)).await;
        page.press_on(IN_FRONT_VIEW, "Control+z").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn sliders_and_fields_move_wheel_and_rack() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        for (travel, rack, typed) in
            [(25.0, 10.0, ("25", "10")), (-42.5, -17.25, ("\u{2212}42,5", "-17.25")), (0.0, 0.0, ("0", "0"))]
        {
            page.move_to(typed.0, typed.1).await;
            page.shows(Shown::at(&example(), Axle::Front, travel, rack)).await;
        }
        page.type_into("travel", "12,5").await;
        page.press_on_slider("travel", "ArrowRight ArrowRight").await;
        assert_eq!(page.field("travel").await, "13.5");
        page.press_on_slider("travel", "Home").await;
        // The example's rebound stop.
        page.shows(Shown::at(&example(), Axle::Front, -85.0, 0.0)).await;
        page.show_axle(Axle::Rear).await;
        page.shows(Shown::of(&example(), Axle::Rear)).await;
        page.type_into("travel", "-30").await;
        page.shows(Shown::at(&example(), Axle::Rear, -30.0, 0.0)).await;
    });
}

#[test]
fn sliders_move_by_keys_from_zero_too() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.press_on_slider("rack", "ArrowLeft ArrowLeft ArrowLeft ArrowLeft").await;
        page.shows(Shown::at(&example(), Axle::Front, 0.0, -2.0)).await;
        page.press_on_slider("travel", "ArrowUp").await;
        page.shows(Shown::at(&example(), Axle::Front, 0.5, -2.0)).await;
    });
}

#[test]
fn beyond_its_reach_the_corner_stands_at_its_end_and_says_so() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        for (travel, typed) in [(400.0, "400"), (-900.0, "-900")] {
            page.type_into("travel", typed).await;
            let expected = Shown::at(&example(), Axle::Front, travel, 0.0);
            assert!(expected.stopped.is_some());
            page.shows(expected).await;
            assert!(page.shapes("front").await >= 10, "the drawing stands");
        }
        page.type_into("travel", "5000").await;
        let errors = page.field_errors().await.join(" ");
        assert!(errors.contains("5000") && errors.contains("2000 mm"), "{errors}");
        page.type_into("travel", "30").await;
        page.shows(Shown::at(&example(), Axle::Front, 30.0, 0.0)).await;
        assert!(page.field_errors().await.is_empty());
    });
}

/// While a point is dragged only what changed is written; what stands in the end has to be what
/// is drawn at once, in all views and for all handles.
#[test]
fn what_a_drag_leaves_is_what_is_drawn_anew() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        // Attributes in one order, whatever order they were written in.
        let stands = "[...document.querySelectorAll('g[data-view] *, circle.handle')].map(e => e.tagName + ' ' + \
            [...e.attributes].map(a => a.name + '=' + a.value.replace(' selected', '')).sort().join(' ') + ' ' + e.textContent)";
        page.drag(IN_FRONT_VIEW, 14, -9).await;
        page.drag("side:links[2].outboard", -11, 6).await;
        page.drag("plan:links[1].inboard", 9, 12).await;
        page.move_to("33", "-8").await;
        page.drag(IN_FRONT_VIEW, -6, 5).await;
        page.move_to("0", "0").await;
        // The frame stands while a setup is edited; one that is opened gets its own.
        browser.click("button[title='Bring everything into the sheet']").await;
        let dragged = browser.eval(stands).await;
        assert!(dragged.as_array().is_some_and(|elements| elements.len() > 200), "all of the drawing");
        page.browser.reload().await;
        assert_eq!(browser.eval(stands).await, dragged);
    });
}

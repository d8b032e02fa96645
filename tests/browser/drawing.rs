//! Points moved on the sheet, by the pointer and by keys.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, Document, Point, example};

use crate::beside::keep;
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
fn escape_gives_a_drag_up_and_nothing_else() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let start = page.place(IN_FRONT_VIEW).await;
        page.choose_reading("scrub_radius").await;
        page.drag_and_give_up(IN_FRONT_VIEW, 9, -14).await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.place(IN_FRONT_VIEW).await, start);
        assert!(!page.can_undo().await && !page.can_redo().await);
        assert_eq!(page.chosen().await.as_deref(), Some("scrub_radius"));
        // The next one is as any other.
        page.drag(IN_FRONT_VIEW, 9, -14).await;
        let point = page.point(BALL_JOINT).await;
        page.shows(Shown::of(&with_ball_joint(point), Axle::Front)).await;
        assert!(page.can_undo().await);
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
        browser.click("button[title^='Bring everything into the sheet']").await;
        let dragged = browser.eval(stands).await;
        assert!(dragged.as_array().is_some_and(|elements| elements.len() > 200), "all of the drawing");
        page.browser.reload().await;
        assert_eq!(browser.eval(stands).await, dragged);
    });
}

/// Nobody sees it change: it is written when it comes into sight, or when the hand lets go.
#[test]
fn a_reading_out_of_sight_waits_while_a_point_is_dragged() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let text_in = async |attribute: &str, name: &str| {
            let text = format!("document.querySelector('[data-{attribute}=\"{name}\"]').textContent");
            browser.eval(&text).await.as_str().map(str::to_owned).expect("a text")
        };
        let shown = async |name: &str| text_in("reading", name).await;
        let (near, far) = ("kingpin_inclination", "bump_steer");
        let is_in_sight = "document.querySelector('[data-reading=\"bump_steer\"]').getBoundingClientRect().top \
            < innerHeight";
        assert_eq!(browser.eval(is_in_sight).await, false);
        let before = (shown(near).await, shown(far).await);
        page.drag_and_hold(IN_FRONT_VIEW, 12, -9).await;
        let held = (shown(near).await, shown(far).await);
        assert!(held.0 != before.0 && held.1 == before.1, "{before:?} {held:?}");
        page.browser.let_go(0, 0).await;
        let after = shown(far).await;
        assert_ne!(after, before.1);
        assert_eq!(after, text_in("headline", far).await, "as the tile above, which is always in sight");

        // Scrolled to while the point is held still.
        page.drag_and_hold(IN_FRONT_VIEW, -12, 9).await;
        assert_eq!(shown(far).await, after);
        browser.eval("document.querySelector('[data-reading=\"bump_steer\"]').scrollIntoView()").await;
        let tile = text_in("headline", far).await;
        assert_ne!(tile, after);
        browser
            .wait_until(&format!(
                "document.querySelector('[data-reading=\"{far}\"]').textContent === '{tile}'"
            ))
            .await;
        page.browser.let_go(0, 0).await;
    });
}

#[test]
fn keys_move_zoom_and_fit_the_sheet() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let (x, y) = page.place(IN_FRONT_VIEW).await;
        let is_at = async |right: f64, down: f64| {
            let (now_x, now_y) = page.place(IN_FRONT_VIEW).await;
            assert!((now_x - x - right).abs() < 0.01 && (now_y - y - down).abs() < 0.01, "{now_x}, {now_y}");
        };
        page.press_on_sheet("ArrowRight ArrowRight ArrowDown").await;
        is_at(40.0, 20.0).await;
        page.press_on_sheet("Shift+ArrowLeft ArrowUp").await;
        is_at(-160.0, 0.0).await;
        page.press_on_sheet("0").await;
        is_at(0.0, 0.0).await;
        page.press_on_sheet("= =").await;
        let (far_x, far_y) = page.place(IN_FRONT_VIEW).await;
        assert!((far_x - x).hypot(far_y - y) > 20.0, "zoomed in it stands elsewhere: {far_x}, {far_y}");
        page.press_on_sheet("- -").await;
        is_at(0.0, 0.0).await;
        assert!(!page.can_undo().await, "how it is looked at is no change of the setup");
    });
}

/// A steered wheel reaches farther out than the one that is described.
#[test]
fn fit_brings_steered_wheels_into_their_views() {
    // High enough that the width decides how large all is, and nothing is left over beside the front view.
    browse(Look { width: 1280, height: 1024, dark: false }, async |browser| {
        let page = Page::open(browser).await;
        let within = "(() => { \
            const svg = document.querySelector('svg.drawing'), {left: edge, right} = svg.getBoundingClientRect(), \
                left = edge + Number(svg.querySelector('.fold').getAttribute('points').split(',')[0]), \
                tyres = [...svg.querySelectorAll('[data-view=front] .tyre, [data-view=plan] .tyre')].map(tyre => tyre.getBoundingClientRect()); \
            return tyres.every(tyre => tyre.left > left && tyre.right < right) ? tyres.length : -1; })()";
        let all = async |wheels: i64| page.browser.wait_until(&format!("{within} === {wheels}")).await;
        let fit = async || page.press_on_sheet("0").await;
        all(2).await;
        page.move_to("40", "65").await;
        all(-1).await;
        fit().await;
        all(2).await;
        page.move_to("0", "0").await;
        page.show("both").await;
        all(4).await;
        page.move_to("40", "65").await;
        all(-1).await;
        fit().await;
        all(4).await;
        page.type_into("roll", "8").await;
        fit().await;
        all(4).await;
        // What is kept beneath stands as it stood, and takes no one's place.
        let scale = "document.querySelector('.scale-name').textContent + document.querySelector('.scale-bar').getAttribute('points').split(' ').map(at => at.split(',')[0])";
        let before = page.browser.eval(scale).await;
        assert!(before.is_string());
        keep(&page.browser).await;
        assert_eq!(page.browser.eval(scale).await, before);
    });
}

#[test]
fn two_fingers_zoom_the_sheet_about_what_lies_between_them() {
    browse(Look { width: 390, height: 844, dark: false }, async |browser| {
        let page = Page::open(browser).await;
        let place = async |point| {
            let middle = format!(
                "(r => [r.x + r.width / 2, r.y + r.height / 2])(document.querySelector('[data-handle=\"{point}\"]').getBoundingClientRect())"
            );
            let at = page.browser.eval(&middle).await;
            [0, 1].map(|i| at[i].as_f64().unwrap_or(f64::NAN))
        };
        let lower = "front:links[0].outboard";
        let [upper_before, lower_before] = [place(IN_FRONT_VIEW).await, place(lower).await];
        let to = [
            [upper_before[0] - 10.0, upper_before[1] - 15.0],
            [lower_before[0] - 10.0, lower_before[1] + 25.0],
        ];
        page.fingers([upper_before, lower_before], to).await;
        // The two points do not stand in a line with the fingers' way, so that the sheet cannot follow both
        // exactly; what lies in the middle between them does.
        let [upper, lower] = [place(IN_FRONT_VIEW).await, place(lower).await];
        for i in 0..2 {
            let (found, fingers) = (upper[i] + lower[i], to[0][i] + to[1][i]);
            assert!((found - fingers).abs() < 1.0, "{upper:?} {lower:?} {to:?}");
        }
        let apart = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
        let grown = apart(upper, lower) / apart(upper_before, lower_before);
        let asked = apart(to[0], to[1]) / apart(upper_before, lower_before);
        assert!(asked > 1.2 && (grown - asked).abs() < 0.02, "{grown} {asked}");
        assert!(!page.can_undo().await, "the points under the fingers are where they were in the setup");
        // One finger beside the points takes the sheet along.
        page.fingers([[20.0, 340.0]], [[50.0, 320.0]]).await;
        let moved = place(IN_FRONT_VIEW).await;
        assert!(
            (moved[0] - upper[0] - 30.0).abs() < 0.6 && (moved[1] - upper[1] + 20.0).abs() < 0.6,
            "{moved:?} {upper:?}"
        );
        // One on a point moves the point.
        page.fingers([moved], [[moved[0] + 8.0, moved[1] - 12.0]]).await;
        assert!(page.can_undo().await);
    });
}

#[test]
fn a_point_of_the_right_wheel_is_dragged_like_the_left_one_s() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.show("both").await;
        let right = "front:right:arms[0].ball_joint";
        let (start, left_start) = (page.place(right).await, page.place(IN_FRONT_VIEW).await);
        page.drag(right, 9, -14).await;
        let (end, left_end) = (page.place(right).await, page.place(IN_FRONT_VIEW).await);
        assert!(
            (end.0 - start.0 - 9.0).abs() < 0.6 && (end.1 - start.1 + 14.0).abs() < 0.6,
            "{start:?} {end:?}"
        );
        // It is the left one's mirror image, and the left one goes along in the mirror.
        assert!(
            (left_end.0 - left_start.0 + 9.0).abs() < 0.6 && (left_end.1 - left_start.1 + 14.0).abs() < 0.6,
            "{left_start:?} {left_end:?}"
        );
        let text = page.browser.text(".point-name").await;
        assert!(text.ends_with("right wheel"), "{text}");
        page.undo().await;
        assert!(!page.can_undo().await, "the whole drag is one step");

        // Described separately it is moved alone.
        page.tab("pivots").await;
        page.browser.choose("#panel-pivots [data-choice=right]", "separate").await;
        let before = page.point(BALL_JOINT).await;
        page.drag(right, 9, -14).await;
        assert_eq!(page.point(BALL_JOINT).await.map(f64::to_bits), before.map(f64::to_bits));
        page.browser.click("[data-side=right]").await;
        let alone = page.point(BALL_JOINT).await;
        assert!(alone[1].abs() < before[1].abs() && alone[2] > before[2], "{before:?} {alone:?}");
    });
}

#[test]
fn both_axles_are_drawn_with_the_centre_of_gravity_between_them() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        assert_eq!(page.shapes_in("side", "other-axle").await, 0);
        page.show("axles").await;
        for view in ["side", "plan"] {
            assert!(page.shapes_in(view, "other-axle").await > 20, "{view}");
        }
        // In the front view one axle stands behind the other: of it there is only the centre of gravity.
        assert_eq!(page.shapes_in("front", "other-axle").await, 3);
        let text = page.browser.text("g[data-view=side] .gravity-name").await;
        assert_eq!(text, "centre of gravity, 465 mm up");
        // Seen from the rear axle it is the same car.
        let number = async |css: &str, name| {
            let text = page.browser.attribute(css, name).await;
            text.and_then(|text| text.parse::<f64>().ok()).unwrap_or(f64::NAN)
        };
        let gravity = "g[data-view=side] circle.gravity";
        let from_front = (number(gravity, "cx").await, number(gravity, "cy").await);
        let joint = page.place("side:wheel.centre").await;
        page.show_axle(Axle::Rear).await;
        let from_rear = (number(gravity, "cx").await, number(gravity, "cy").await);
        let rear_joint = page.place("side:wheel.centre").await;
        // 44 % of the mass stand on the front axle: it is 56 % of the way back.
        let share = (from_front.0 - joint.0) / (rear_joint.0 - joint.0);
        assert!((from_rear.0 - from_front.0).abs() < 1.0 && (share - 0.56).abs() < 0.01, "{share}");
        // A car without its mass shared out has no such point.
        page.tab("car").await;
        page.paste_into("vehicle.front_mass_share", "").await;
        assert_eq!(page.browser.count(gravity).await, 0);
        assert!(page.shapes_in("side", "other-axle").await > 20);
        // The other axle stands under the same body: as that drops, its wheel rises too.
        page.show_axle(Axle::Front).await;
        let level = number("g[data-view=side] > g.other-axle circle.hub", "cy").await;
        page.move_to("60", "0").await;
        let risen = number("g[data-view=side] > g.other-axle circle.hub", "cy").await;
        assert!(level - risen > 5.0, "the rear wheel rises as well: {level} {risen}");
    });
}

#[test]
fn what_is_missing_for_both_axles_is_said() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.rear = None;
        let page =
            Page::open_link(browser.clone(), &format!("#{}", web_app::sharing::encode(&document))).await;
        page.show("axles").await;
        assert!(browser.text("[data-said=axles]").await.starts_with("The rear corner is not described"));
        assert_eq!(page.shapes_in("side", "other-axle").await, 0);
        // Two corners measured each from its own axle, and no wheelbase.
        let mut document = example();
        document.rear = document.front.clone();
        document.vehicle.wheelbase = None;
        let page =
            Page::open_link(browser.clone(), &format!("#{}", web_app::sharing::encode(&document))).await;
        page.show("axles").await;
        assert!(browser.text("[data-said=axles]").await.contains("give the wheelbase"));
        page.tab("car").await;
        page.type_into("vehicle.wheelbase", "2600").await;
        assert!(page.shapes_in("side", "other-axle").await > 20);
        assert_eq!(browser.count("[data-said=axles]").await, 0);
    });
}

/// A touched point's name stands in its view, on the other side where that has no room for it, and is another's for
/// none: where its member goes nothing is touched.
#[test]
fn the_name_of_a_touched_point_stays_in_its_view_and_with_its_member() {
    for (width, height) in [(1440, 900), (1024, 768), (390, 844)] {
        browse(Look { width, height, dark: false }, async |browser| {
            let page = Page::open(browser.clone()).await;
            let name = "document.querySelector('.touch .point-name')";
            let within = format!(
                "((name, sheet) => name && name.right <= sheet.right && name.left >= sheet.left)\
                 ({name}?.getBoundingClientRect(), document.querySelector('svg.drawing').getBoundingClientRect())"
            );
            for both in [false, true] {
                if both {
                    page.show("both").await;
                }
                for point in ["front:arms[0].ball_joint", "front:links[0].outboard", "front:wheel.centre"] {
                    page.press_on(point, "Shift").await;
                    browser.wait_until(&within).await;
                }
            }
            page.tab("pivots").await;
            page.press_on("front:links[1].outboard", "Shift").await;
            browser.wait_until(&format!("{name} !== null")).await;
            let member = example().front.expect("a front").links[0].id.clone();
            page.remove_member(&member).await;
            browser.wait_until(&format!("{name} === null")).await;
        });
    }
}

/// The letters of large type are larger, and so is the room that a label is given.
#[test]
fn labels_stay_in_their_views_in_large_type() {
    const BEYOND: &str = "[...document.querySelectorAll('g[data-view] text')].filter(text => { \
        const pane = document.querySelector('#pane-' + text.closest('[data-view]').dataset.view + ' rect'); \
        const origin = document.querySelector('svg.drawing').getBoundingClientRect(), box = text.getBoundingClientRect(); \
        const left = origin.x + Number(pane.getAttribute('x')), right = left + Number(pane.getAttribute('width')); \
        return box.left < left - 1 || box.right > right + 1; }).map(text => text.textContent)";
    browse(Look { width: 1920, height: 1080, dark: false }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.show("both").await;
        page.type_into("roll", "3").await;
        browser.click("[data-do=large]").await;
        for reading in ["kingpin_inclination", "scrub_radius", "roll_centre_height"] {
            page.choose_tile(reading).await;
            browser.wait_until("document.querySelector('g[data-view] text.found')").await;
            browser.wait_until(&format!("({BEYOND}).length === 0")).await;
        }
    });
}

#[test]
fn on_a_phone_a_button_leads_to_how_a_reading_is_found() {
    browse(Look { width: 390, height: 844, dark: true }, async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.count("[data-do=to-finding]").await, 0);
        page.choose_tile("kingpin_inclination").await;
        // No joint lies under it.
        let under = "(box => [...document.querySelectorAll('[data-handle]')].map(e => [e.dataset.handle, e.getBoundingClientRect()]).filter(([, r]) => \
            r.right > box.left && r.left < box.right && r.bottom > box.top && r.top < box.bottom).map(([name]) => name))\
            (document.querySelector('[data-do=to-finding]').getBoundingClientRect())";
        assert_eq!(browser.eval(under).await, serde_json::json!([]));
        browser.click("[data-do=to-finding]").await;
        let seen = "(box => box.top > 0 && box.bottom < innerHeight)(document.querySelector('[data-finding]').getBoundingClientRect())";
        browser
            .wait_until(&format!(
                "document.activeElement.dataset.finding === 'kingpin_inclination' && {seen}"
            ))
            .await;
    });
}

/// Circles lie over one another: the point is moved whose middle the pointer is on.
#[test]
fn of_points_that_lie_over_one_another_the_nearest_is_taken() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        for (taken, beside) in [
            ("arms[0].front_pivot", "arms[0].rear_pivot"),
            ("arms[0].rear_pivot", "arms[0].front_pivot"),
            ("links[0].outboard", "links[1].outboard"),
            ("links[1].outboard", "links[0].outboard"),
        ] {
            // It is marked and named before it is taken.
            let hovered = format!(
                "(h => {{ const r = h.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2, \
                 top = document.elementFromPoint(x, y); top.dispatchEvent(new PointerEvent('pointermove', {{bubbles: \
                 true, pointerType: 'mouse', clientX: x, clientY: y}})); return [...document.querySelectorAll('.meant')] \
                 .map(e => e.dataset.handle).join() + (top.textContent === h.ariaLabel ? '' : ' has another title'); }}) \
                 (document.querySelector('[data-handle=\"front:{taken}\"]'))"
            );
            assert_eq!(browser.eval(&hovered).await, format!("front:{taken}"));
            let (before, other) = (page.point(taken).await, page.point(beside).await);
            page.drag(&format!("front:{taken}"), 12, 0).await;
            let after = page.point(taken).await;
            assert!(after[1] > before[1] && after[0] == before[0], "{taken}: {before:?} {after:?}");
            assert_eq!(page.point(beside).await, other, "{taken}");
            let focused = browser.eval("document.activeElement.dataset.handle").await;
            assert_eq!(focused, format!("front:{taken}"));
            page.undo().await;
        }
    });
}

/// Under a finger the page scrolls where there is nothing to pan to, and what it took for a pan is taken back.
#[test]
fn a_scroll_that_begins_on_the_drawing_leaves_it_as_it_was() {
    let phone = Look { width: 390, height: 844, ..Look::default() };
    browse(phone, async |browser| {
        let page = Page::open(browser.clone()).await;
        let way = "getComputedStyle(document.querySelector('[data-sheet]')).touchAction";
        assert_eq!(browser.eval(way).await, "pan-y");
        let before = page.place("front:spring.body").await;
        let send = |kind: &str, down: i32| {
            format!(
                "document.querySelector('[data-sheet]').dispatchEvent(new PointerEvent('{kind}', {{bubbles: true, \
                 cancelable: true, pointerType: 'touch', pointerId: 7, isPrimary: true, button: 0, buttons: 1, \
                 clientX: 100, clientY: {}}}))",
                300 + down
            )
        };
        browser.eval(&send("pointerdown", 0)).await;
        browser.eval(&send("pointermove", -20)).await;
        browser.eval(&send("pointercancel", -20)).await;
        assert_eq!(page.place("front:spring.body").await, before);
        // A joint is not moved by what the browser took for itself.
        let taken = |kind: &str, down: i32| {
            format!(
                "(h => {{ const r = h.getBoundingClientRect(); h.setPointerCapture = () => {{}}; h.dispatchEvent(new \
                 PointerEvent('{kind}', {{bubbles: true, cancelable: true, pointerType: 'touch', pointerId: 7, \
                 isPrimary: true, button: 0, buttons: 1, clientX: r.x + r.width / 2, clientY: r.y + r.height / 2 + \
                 {down}}})); }})(document.querySelector('[data-handle=\"front:spring.body\"]'))"
            )
        };
        browser.eval(&taken("pointerdown", 0)).await;
        // What touches a joint, and two fingers, scroll nothing; one finger on the paper does.
        let scrolls = |onto: &str, fingers: &str| {
            format!(
                "(e => {{ const event = new Event('touchmove', {{bubbles: true, cancelable: true}}); \
                 Object.defineProperty(event, 'touches', {{value: {{length: {fingers}}}}}); \
                 return e.dispatchEvent(event); }})(document.querySelector('{onto}'))"
            )
        };
        let joint = "[data-handle=\"front:spring.body\"]";
        assert_eq!(browser.eval(&scrolls(joint, "1")).await, false);
        browser.eval(&taken("pointermove", -15)).await;
        browser.eval(&taken("pointercancel", 0)).await;
        assert_eq!(page.place("front:spring.body").await, before);
        assert!(!page.can_undo().await);
        assert_eq!(browser.eval(&scrolls("[data-sheet]", "1")).await, true);
        assert_eq!(browser.eval(&scrolls("[data-sheet]", "2")).await, false);
        // Zoomed in, the finger is the sheet's.
        page.press_on_sheet("=").await;
        assert_eq!(browser.eval(way).await, "none");
        page.press_on_sheet("0").await;
        assert_eq!(browser.eval(way).await, "pan-y");
    });
}

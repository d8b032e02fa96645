//! Numbers typed as people type them, right and wrong.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{
    setup::{Axle, Document, example},
    tyre::Size,
};

use crate::core::{Shown, front_changed};
use crate::page::Page;

const HEIGHT: &str = "arms[0].ball_joint.z";

fn with_height(z: f64) -> Document {
    front_changed(|corner| corner.arms[0].ball_joint[2] = z)
}

#[test]
fn a_typed_coordinate_is_read_at_once_with_point_comma_and_true_minus() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        for (typed, z) in [("481.5", 481.5), ("479,25", 479.25), ("4,8e2", 480.0)] {
            page.type_and_stay(HEIGHT, typed).await;
            // While the field still has the focus, and as it was typed.
            page.shows(Shown::of(&with_height(z), Axle::Front)).await;
            assert_eq!(page.field(HEIGHT).await, typed);
        }
        let moved = front_changed(|corner| {
            corner.arms[0].ball_joint[2] = 480.0;
            corner.arms[0].rear_pivot[0] = -131.5;
        });
        page.type_into("arms[0].rear_pivot.x", "\u{2212}131,5").await;
        page.shows(Shown::of(&moved, Axle::Front)).await;
        assert!(page.field_errors().await.is_empty());
    });
}

#[test]
fn the_typing_in_one_field_is_one_step_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.type_into(HEIGHT, "471.3").await;
        page.shows(Shown::of(&with_height(471.3), Axle::Front)).await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.field(HEIGHT).await, "482");
        assert!(!page.can_undo().await);
    });
}

/// However long one thinks between two digits; Enter says that a number is done.
#[test]
fn a_pause_in_typing_makes_no_step_and_enter_makes_one() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        let mass = "vehicle.mass";
        let pause = || tokio::time::sleep(std::time::Duration::from_millis(1_300));
        page.type_and_stay(mass, "15").await;
        pause().await;
        for key in ["2", "0", "Enter"] {
            browser.press_here(key).await;
        }
        // Half a number and then a wrong one leave no step.
        page.type_and_stay(mass, "16").await;
        pause().await;
        browser.press_here("x").await;
        assert!(page.is_wrong(mass).await);
        // What was meant before holds meanwhile, and Escape brings it back.
        browser.press_here("Escape").await;
        assert_eq!(page.field(mass).await, "1520");
        page.type_and_stay(mass, "1600").await;
        for held in ["1520", "1480"] {
            page.undo().await;
            browser
                .wait_until(&format!("document.querySelector('[data-field=\"{mass}\"]').value === '{held}'"))
                .await;
        }
        assert!(!page.can_undo().await);
    });
}

#[test]
fn a_wrong_text_stays_with_a_sentence_and_changes_no_number() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        for (wrong, sentence) in [
            ("abc", "“abc” is not a number"),
            ("", "this field is empty"),
            ("inf", "“inf” is not a number"),
            ("NaN", "“NaN” is not a number"),
            ("12 13", "“12 13”"),
            ("1e300", "20000 mm"),
            ("1e999", "“1e999” is larger than any number"),
        ] {
            page.paste_into(HEIGHT, wrong).await;
            assert_eq!(page.field(HEIGHT).await, wrong);
            assert!(page.is_wrong(HEIGHT).await);
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{wrong}: {errors:?}");
            page.shows(Shown::of(&example(), Axle::Front)).await;

            // Other work goes on; looking elsewhere keeps the text.
            page.type_into("arms[0].front_pivot.z", "470").await;
            let other = front_changed(|corner| corner.arms[0].front_pivot[2] = 470.0);
            page.shows(Shown::of(&other, Axle::Front)).await;
            page.tab("readings").await;
            page.tab("pivots").await;
            assert_eq!(page.field(HEIGHT).await, wrong);
            assert_eq!(page.field_errors().await, errors);

            // A good number replaces it, and undo goes back over it.
            page.type_into(HEIGHT, "480").await;
            assert!(page.field_errors().await.is_empty() && !page.is_wrong(HEIGHT).await);
            page.undo().await;
            page.shows(Shown::of(&other, Axle::Front)).await;
            assert_eq!(page.field(HEIGHT).await, "482");
            page.undo().await;
            page.shows(Shown::of(&example(), Axle::Front)).await;
        }
    });
}

#[test]
fn a_wrong_text_typed_key_by_key_leaves_the_readings_as_they_were() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        // On the way to the wrong text stand 1, 1e3 and the like, which nobody meant.
        for wrong in ["1e300", "48x", "99999"] {
            page.type_into(HEIGHT, wrong).await;
            assert_eq!(page.field(HEIGHT).await, wrong);
            assert_eq!(page.field_errors().await.len(), 1, "{wrong}");
            page.shows(Shown::of(&example(), Axle::Front)).await;
        }
    });
}

/// Nor does it of a number that is no part of the setup: a load, a slider's.
#[test]
fn a_wrong_text_beside_the_setup_leaves_nothing_of_its_first_digits() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        browser.choose("[data-choice='load.case']", "cornering").await;
        page.type_into("load.cornering", "0.7").await;
        browser
            .wait_until("document.querySelector('[data-said=load]').textContent.includes('at 0.70')")
            .await;
        let said = browser.text("[data-said=load]").await;
        page.type_into("load.cornering", "0.9x").await;
        assert!(page.is_wrong("load.cornering").await);
        assert!(page.field_errors().await.concat().ends_with("The earlier entry still counts."));
        assert_eq!(browser.text("[data-said=load]").await, said);
        browser.press("[data-field='load.cornering']", "Escape").await;
        assert_eq!(page.field("load.cornering").await, "0.7");
        assert!(page.field_errors().await.is_empty());
        page.type_into("travel", "20").await;
        page.shows(Shown::at(&example(), Axle::Front, 20.0, 0.0)).await;
        page.type_into("travel", "30x").await;
        page.shows(Shown::at(&example(), Axle::Front, 20.0, 0.0)).await;
        browser.press("[data-field=travel]", "Escape").await;
        assert_eq!(page.field("travel").await, "20");
        assert!(!page.is_wrong("travel").await);
        // A right text is taken back as well, as in the table of points.
        page.type_and_stay("travel", "35").await;
        browser.press_here("Escape").await;
        page.shows(Shown::at(&example(), Axle::Front, 20.0, 0.0)).await;
    });
}

#[test]
fn undo_brings_back_the_number_over_a_wrong_text() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.type_into(HEIGHT, "480").await;
        page.paste_into(HEIGHT, "abc").await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.field(HEIGHT).await, "482");
        assert!(page.field_errors().await.is_empty());
    });
}

#[test]
fn numbers_of_car_and_wheel_count_and_may_be_missing() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "\u{2212}1,5").await;
        page.type_into("vehicle.wheelbase", "2500").await;
        let mut expected = front_changed(|corner| corner.wheel.camber = -1.5);
        expected.vehicle.wheelbase = Some(2500.0);
        page.shows(Shown::of(&expected, Axle::Front)).await;

        page.paste_into("vehicle.cg_height", "").await;
        expected.vehicle.cg_height = None;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        assert!(page.field_errors().await.is_empty());

        page.paste_into("vehicle.front_mass_share", "44").await;
        let errors = page.field_errors().await;
        assert!(
            errors.len() == 1
                && errors[0].contains("Mass on the front wheels must lie between 0 and 1; it is 44"),
            "{errors:?}"
        );
        assert!(errors[0].contains("44") && errors[0].contains('1'), "{errors:?}");
        page.shows(Shown::of(&expected, Axle::Front)).await;
    });
}

#[test]
fn a_number_may_have_another_unit_behind_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("car").await;
        let mut expected = example();
        for (field, typed, shown) in [
            ("vehicle.mass", "3300 lb", "1496.85"),
            ("vehicle.wheelbase", "103 1/2\"", "2628.9"),
            ("vehicle.brake_front_share", "70 %", "0.7"),
            ("front.wheel.toe", "0°06′", "0.1"),
        ] {
            page.type_into(field, typed).await;
            assert!(page.field_errors().await.is_empty(), "{typed}");
            // Once the field is left it shows what stands in the setup.
            page.browser.click("header h1").await;
            page.browser
                .wait_until(&format!(
                    "document.querySelector('[data-field=\"{field}\"]').value === '{shown}'"
                ))
                .await;
        }
        expected.vehicle.mass = Some(1_496.85);
        expected.vehicle.wheelbase = Some(2628.9);
        expected.vehicle.brake_front_share = Some(0.7);
        expected.front.as_mut().expect("a front").wheel.toe = 0.1;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        // Of another kind it is refused as it was written.
        page.type_into("vehicle.mass", "12 mm").await;
        assert!(page.field_errors().await[0].contains("12 mm"));
        page.shows(Shown::of(&expected, Axle::Front)).await;
        page.type_into("travel", "1 in").await;
        page.shows(Shown::at(&expected, Axle::Front, 25.4, 0.0)).await;
    });
}

/// An arrow key changes a number by what is little of its kind.
#[test]
fn arrow_keys_step_by_what_is_little_of_the_unit() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        for (field, shown) in [
            ("vehicle.front_mass_share", "0.45"),
            ("front.wheel.camber", "\u{2212}0.7"),
            ("vehicle.mass", "1481"),
        ] {
            browser.press(&format!("[data-field=\"{field}\"]"), "ArrowUp").await;
            assert_eq!(page.field(field).await, shown, "{field}");
        }
        assert!(page.field_errors().await.is_empty());
    });
}

/// What a tyre's size says of the loaded radius can be taken where none was measured.
#[test]
fn the_radius_that_a_tyre_s_size_gives_can_be_taken() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("tyre", "205/50 R16").await;
        let size = Size::read("205/50 R16").expect("a size");
        browser.click("[data-do=take-radius]").await;
        let radius = size.loaded_radius_estimate().round();
        let mut expected = front_changed(|corner| corner.wheel.loaded_radius = radius);
        expected.front.as_mut().expect("a front").wheel.tyre = Some("205/50 R16".into());
        page.tab("readings").await;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        assert_eq!(browser.count("[data-do=take-radius]").await, 0, "it is taken");
        page.undo().await;
        browser.wait_until("document.querySelectorAll('[data-do=take-radius]').length === 1").await;
    });
}

/// Escape takes back what was typed, and does no more; a share in hundredths is told how it is read.
#[test]
fn escape_takes_back_what_was_typed() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.choose_tile("caster").await;
        page.tab("car").await;
        for typed in ["-3", "steep"] {
            page.type_and_stay("front.wheel.camber", typed).await;
            browser.press_here("Escape").await;
            browser.wait_until("document.querySelector('[data-headline=camber_gain]').exact < 0").await;
            assert_eq!(page.field("front.wheel.camber").await, "\u{2212}0.8");
            assert!(page.field_errors().await.is_empty(), "{typed}");
        }
        assert_eq!(browser.attribute("[data-tile=caster]", "aria-pressed").await.as_deref(), Some("true"));
        browser.press_here("Escape").await;
        browser.wait_until("document.querySelector('[data-tile=caster]').ariaPressed === 'false'").await;
        page.type_into("vehicle.front_mass_share", "44").await;
        assert!(page.field_errors().await[0].contains("44 % is read too"));
        page.type_into("vehicle.front_mass_share", "44 %").await;
        assert!(page.field_errors().await.is_empty());
    });
}

#[test]
fn a_tyre_size_is_read_and_another_text_kept() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("tyre", "P215/65R15").await;
        assert!(
            browser.text("[data-hint=tyre]").await.starts_with("Section 215 mm, rim 381 mm, diameter 661 mm")
        );
        page.type_into("tyre", "round and black").await;
        assert!(browser.text("[data-hint=tyre]").await.starts_with("“round and black” is not a tyre size"));
        assert_eq!(page.field("tyre").await, "round and black");
        let typed = front_changed(|corner| corner.wheel.tyre = Some("round and black".into()));
        page.shows(Shown::of(&typed, Axle::Front)).await;
    });
}

#[test]
fn a_fault_under_the_last_field_in_sight_comes_into_sight() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        let field = "document.querySelector('input[data-field=\"vehicle.mass\"]')";
        browser.eval(&format!("{field}.scrollIntoView({{block: 'end'}})")).await;
        let below = "(r => r.bottom - document.querySelector('#panel-car').getBoundingClientRect().bottom)";
        let hidden = browser.eval(&format!("{below}({field}.getBoundingClientRect())")).await;
        assert!(hidden.as_f64().is_some_and(|pixels| pixels > -20.0), "it stands at the edge: {hidden}");
        page.type_and_stay("vehicle.mass", "heavy").await;
        browser.wait_until("document.querySelector('#panel-car .field-error')").await;
        let sentence = "document.querySelector('#panel-car .field-error').getBoundingClientRect()";
        let over = browser.eval(&format!("{below}({sentence})")).await;
        assert!(over.as_f64().is_some_and(|pixels| pixels <= 1.0), "{over} pixels below the edge");
    });
}

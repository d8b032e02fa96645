//! Rocker, bars, rim, disc, parts, stops: what stands beside the members, as fields and on the
//! sheet. What the page holds is read back by the link that it writes.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{
    setup::{Axle, Brakes, Corner, Document, Drive, Part, example},
    springing::{SPRING_STEEL, bar_rate, coil_rate},
};
use web_app::sharing::decode;

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// The front corner of the setup that the page holds.
async fn front(page: &Page) -> Corner {
    document(page).await.front.expect("a front corner")
}

async fn document(page: &Page) -> Document {
    decode(&page.link().await).expect("the page's own link")
}

#[test]
fn numbers_of_wheel_and_stops_are_typed_refused_undone_kept_and_shared() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        for (field, typed) in [
            ("front.wheel.tyre_rate", "231,5"),
            ("front.wheel.rim.width", "203"),
            ("front.wheel.rim.offset", "\u{2212}12"),
            ("front.wheel.brake_disc.diameter", "355"),
            ("front.wheel.brake_disc.thickness", "30.5"),
            ("front.wheel.brake_disc.inset", ""),
            ("front.bump_travel", "72.5"),
            ("front.rebound_travel", ""),
            ("front.rack_travel", "71"),
            ("vehicle.regeneration_share", "0.4"),
            ("vehicle.regeneration_front_share", "0.25"),
        ] {
            page.paste_into(field, typed).await;
        }
        assert!(page.field_errors().await.is_empty(), "{:?}", page.field_errors().await);
        let mut expected = front_changed(|corner| {
            corner.wheel.tyre_rate = Some(231.5);
            let rim = corner.wheel.rim.as_mut().expect("a rim");
            (rim.width, rim.offset) = (203.0, -12.0);
            let disc = corner.wheel.brake_disc.as_mut().expect("a disc");
            (disc.diameter, disc.thickness, disc.inset) = (355.0, 30.5, 0.0);
            corner.bump_travel = Some(72.5);
            corner.rebound_travel = None;
            corner.rack_travel = Some(71.0);
        });
        expected.vehicle.regeneration_share = Some(0.4);
        expected.vehicle.regeneration_front_share = Some(0.25);
        assert_eq!(document(&page).await, expected);

        for (field, good, wrong, sentence) in [
            ("front.wheel.rim.width", "203", "", "this field is empty"),
            ("front.wheel.tyre_rate", "231.5", "stiff", "“stiff” is not a number"),
            (
                "front.bump_travel",
                "72.5",
                "-20",
                "Travel to the bump stop must lie between 1 and 2000 mm; it is −20",
            ),
            (
                "vehicle.regeneration_share",
                "0.4",
                "40",
                "Regeneration in the braking must lie between 0 and 1",
            ),
        ] {
            page.paste_into(field, wrong).await;
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{field}: {errors:?}");
            assert_eq!(document(&page).await, expected, "{field}");
            // A number in range takes the wrong text's place.
            page.paste_into(field, good).await;
            assert!(page.field_errors().await.is_empty());
        }
        assert_eq!(document(&page).await, expected);
        page.paste_into("front.bump_travel", "60").await;
        page.undo().await;
        assert_eq!(document(&page).await, expected);
        page.reload().await;
        assert_eq!(document(&page).await, expected);

        let link = page.link().await;
        let page = Page::open_link(browser.clone(), &link).await;
        assert_eq!(document(&page).await, expected);
        page.shows(Shown::of(&expected, Axle::Front)).await;
    });
}

#[test]
fn parts_are_named_weighed_and_summed() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        assert!(browser.text("[data-sum=unsprung]").await.contains("45.5 kg"));
        browser.click("[data-add=unsprung]").await;
        page.type_into("front.unsprung[4].name", "duct").await;
        page.type_into("front.unsprung[4].mass", "1,5").await;
        page.type_into("front.unsprung[4].share", "0.5").await;
        let part = Part { name: "duct".into(), mass: 1.5, share: Some(0.5) };
        let expected = front_changed(|corner| corner.unsprung.push(part));
        assert_eq!(document(&page).await, expected);
        // 45.5 and half of 1.5, shown to a tenth.
        let sum = browser.text("[data-sum=unsprung]").await;
        assert!(sum.contains("46.3 kg") || sum.contains("46.2 kg"), "{sum}");
        page.paste_into("front.unsprung[4].share", "2").await;
        assert!(
            page.field_errors().await.join("").contains("Share of part 5 must lie between 0 and 1; it is 2")
        );
        assert_eq!(document(&page).await, expected);
        browser.click("[aria-label=\"Remove part 5\"]").await;
        assert_eq!(document(&page).await, example());
        page.undo().await;
        assert_eq!(document(&page).await, expected);
    });
}

#[test]
fn brakes_drive_rim_and_disc_are_chosen() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        browser.choose("[data-choice=\"front.brakes\"]", "second").await;
        browser.choose("[data-choice=\"front.drive\"]", "second").await;
        browser.click("[data-remove=\"wheel.rim\"]").await;
        let corner = front(&page).await;
        assert_eq!((corner.brakes, corner.drive, corner.wheel.rim), (Brakes::Inboard, Drive::Hub, None));
        browser.click("[data-add=\"wheel.rim\"]").await;
        assert!(front(&page).await.wheel.rim.is_some());
        for _ in 0..4 {
            page.undo().await;
        }
        assert_eq!(document(&page).await, example());
    });
}

#[test]
fn a_drop_link_is_dragged_where_it_stands_and_where_the_wheel_has_risen() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        for (travel, view, path) in
            [("0", "front", "anti_roll_bar.carried"), ("40", "side", "anti_roll_bar.arm_end")]
        {
            page.type_into("travel", travel).await;
            let handle = format!("{view}:{path}");
            let before = page.point(path).await;
            let start = page.place(&handle).await;
            page.drag(&handle, 8, -6).await;
            let end = page.place(&handle).await;
            let after = page.point(path).await;
            assert!(before[2] < after[2], "{handle}: {before:?} {after:?}");
            assert!(end.1 < start.1, "{handle}: {start:?} {end:?}");
            let changed = front_changed(|corner| {
                let bar = corner.anti_roll_bar.as_mut().expect("a bar");
                if view == "front" {
                    bar.carried = after;
                } else {
                    bar.arm_end = after;
                }
            });
            page.shows(Shown::at(&changed, Axle::Front, travel.parse().expect("a number"), 0.0)).await;
            page.undo().await;
            assert_eq!(page.point(path).await.map(f64::to_bits), before.map(f64::to_bits));
        }
        // Not before: the link's field and the notice of it take room from the sheet.
        assert_eq!(document(&page).await, example());
    });
}

#[test]
fn a_spring_stands_on_an_added_rocker_and_the_page_says_when_it_is_gone() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        browser.click("[data-add=rocker]").await;
        let rocker = front(&page).await.rocker.expect("a rocker");
        page.type_into("rocker.rod_end.z", "625").await;
        browser.choose("[data-carrier=spring]", "rocker").await;
        let mut expected = front_changed(|corner| {
            corner.rocker = Some(rocker);
            corner.rocker.as_mut().expect("a rocker").rod_end[2] = 625.0;
            corner.spring.as_mut().expect("a spring").on = "rocker".into();
        });
        assert_eq!(document(&page).await, expected);
        page.shows(Shown::of(&expected, Axle::Front)).await;
        page.type_into("travel", "25").await;
        page.shows(Shown::at(&expected, Axle::Front, 25.0, 0.0)).await;
        page.type_into("travel", "0").await;

        page.remove_member("rocker").await;
        let corner = expected.front.as_mut().expect("a front corner");
        corner.rocker = None;
        page.shows(Shown::of(&expected, Axle::Front)).await;
        let notice = page.notice().await;
        assert!(notice.contains("spring stands on “rocker”, which is gone"), "{notice}");
    });
}

#[test]
fn the_sliders_end_at_the_stops() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let ends = async |slider: &str| {
            let css = format!("[data-slider={slider}]");
            let end = async |name| browser.attribute(&css, name).await.unwrap_or_default();
            (end("min").await, end("max").await)
        };
        assert_eq!(ends("travel").await, ("-85".into(), "80".into()));
        assert_eq!(ends("rack").await, ("-68".into(), "68".into()));
        page.tab("car").await;
        page.type_into("front.bump_travel", "65").await;
        page.paste_into("front.rebound_travel", "").await;
        assert_eq!(ends("travel").await, ("-100".into(), "65".into()));
        page.press_on_slider("travel", "End").await;
        let changed = front_changed(|corner| {
            corner.bump_travel = Some(65.0);
            corner.rebound_travel = None;
        });
        page.shows(Shown::at(&changed, Axle::Front, 65.0, 0.0)).await;
    });
}

#[test]
fn what_lies_beyond_a_stop_and_a_tyre_off_the_ground_are_told() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.count("[data-beyond]").await, 0);
        page.type_into("travel", "100").await;
        assert_eq!(
            browser.text("[data-beyond=travel]").await.replace('\u{a0}', " "),
            "20.0 mm beyond the bump stop"
        );
        page.type_into("travel", "-90").await;
        browser
            .wait_until("document.querySelector('[data-beyond=travel]').textContent.includes('5.0\u{a0}mm beyond the rebound stop')")
            .await;
        page.type_into("rack", "70").await;
        assert_eq!(
            browser.text("[data-beyond=rack]").await.replace('\u{a0}', " "),
            "2.0 mm beyond the left stop"
        );
        page.move_to("80", "68").await;
        browser.wait_until("!document.querySelector('[data-beyond]')").await;

        page.tab("car").await;
        assert_eq!(browser.count("[data-said=ground]").await, 0);
        page.type_into("front.wheel.loaded_radius", "330").await;
        let said = browser.text("[data-said=ground]").await.replace('\u{a0}', " ");
        assert!(said.starts_with("By this the tyre stands 18 mm into the ground"), "{said}");
        page.type_into("front.wheel.loaded_radius", "290").await;
        browser
            .wait_until("document.querySelector('[data-said=ground]').textContent.includes('22\u{a0}mm above the ground')")
            .await;
        page.undo().await;
        page.undo().await;
        browser.wait_until("!document.querySelector('[data-said=ground]')").await;
    });
}

/// A spring's and a bar's rate from what a calliper measures, in either unit, taken in one step.
#[test]
fn a_rate_is_found_from_wire_and_coils_and_taken() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let opened =
            |part: &str| format!("document.querySelector('[data-member={part}] details').open = true");
        browser.eval(&opened("spring")).await;
        page.type_into("spring.from.wire", "12").await;
        page.type_into("spring.from.coil", "112").await;
        assert_eq!(browser.count("[data-take=spring]").await, 0, "nothing is told of what is not all given");
        page.type_into("spring.from.coils", "6").await;
        // Of the mean diameter: 79 300 · 12⁴/(8 · 6 · 100³).
        let rate = coil_rate(SPRING_STEEL, 12.0, 100.0, 6.0).expect("in range");
        let said = browser.text("[data-said='spring.rate']").await.replace('\u{a0}', " ");
        assert!(said.starts_with(&format!("{rate:.1} N/mm")), "{said}");
        browser.click("[data-take=spring]").await;
        assert_eq!(page.field("front.spring.rate").await, format!("{rate:.1}"));
        assert!(page.can_undo().await);
        page.undo().await;
        assert_eq!(page.field("front.spring.rate").await, "62");
        // Wire through wire is no spring.
        page.type_into("spring.from.coil", "20").await;
        let errors = page.field_errors().await.concat();
        assert!(
            errors.contains("Coils, outer diameter, must lie between 24 and 1000 mm; it is 20"),
            "{errors}"
        );
        assert_eq!(browser.count("[data-take=spring]").await, 0);
        // A hollow bar in inches.
        browser.choose("[data-choice=units]", "in").await;
        browser.eval(&opened("anti_roll_bar")).await;
        page.type_into("anti_roll_bar.from.outer", "7/8").await;
        page.type_into("anti_roll_bar.from.length", "36").await;
        page.type_into("anti_roll_bar.from.inner", "5/8").await;
        let rate = bar_rate(SPRING_STEEL, 22.225, 15.875, 914.4).expect("in range");
        let said = browser.text("[data-said='anti_roll_bar.rate']").await.replace('\u{a0}', " ");
        // 1 lbf·ft is 1.355 818 N·m.
        assert!(said.starts_with(&format!("{:.1} lbf·ft/°", rate / 1.355_818)), "{said}: {rate}");
        browser.click("[data-take=anti_roll_bar]").await;
        browser.choose("[data-choice=units]", "mm").await;
        // What stood there in lbf·ft/° stands there in N·m/°.
        let taken = (rate / 1.355_818 * 10.0).round() / 10.0 * 1.355_818;
        let field = page.field("front.anti_roll_bar.rate").await.parse::<f64>().expect("a number");
        assert!((field - taken).abs() < 1e-3, "{field} {taken}");
    });
}

/// What was measured so far stays when the table is made anew, and every field says the unit that it reads.
#[test]
fn what_was_measured_of_a_part_stays() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        browser.eval("document.querySelectorAll('#panel-pivots details').forEach(e => e.open = true)").await;
        page.type_into("spring.from.wire", "12").await;
        page.type_into("anti_roll_bar.from.inner", "16").await;
        browser.type_into("[data-member=lower-lateral] input.member-name", "track arm").await;
        browser.wait_until("document.querySelector('[data-member=\"track arm\"]')").await;
        assert_eq!(page.field("spring.from.wire").await, "12");
        page.show_axle(Axle::Rear).await;
        page.show_axle(Axle::Front).await;
        assert_eq!(page.field("spring.from.wire").await, "12");
        browser.choose("[data-choice=units]", "in").await;
        let inner = "[data-field='anti_roll_bar.from.inner']";
        let label = browser.attribute(inner, "aria-label").await.unwrap_or_default();
        assert_eq!(label, "Bore, in, empty: solid");
        assert_eq!(page.field("anti_roll_bar.from.inner").await, "0.629921");
    });
}

/// So does a text that is wrong, with its sentence, in the row that it was typed into.
#[test]
fn a_wrong_text_in_the_table_outlives_a_new_member() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let cell = "links[1].inboard.y";
        page.type_into(cell, "12abc").await;
        let errors = page.field_errors().await;
        let stays = async |cell: &str| {
            browser
                .wait_until(&format!("document.querySelector('[data-field=\"{cell}\"]')?.value === '12abc'"))
                .await;
            assert!(page.is_wrong(cell).await);
            assert_eq!(page.field_errors().await, errors);
        };
        assert!(!errors.is_empty());
        page.add_link().await;
        stays(cell).await;
        page.show_axle(Axle::Rear).await;
        assert!(!page.is_wrong("links[0].inboard.y").await && page.field_errors().await.is_empty());
        page.show_axle(Axle::Front).await;
        stays(cell).await;
        // The link before it gone, its place is another.
        page.remove_member("lower-lateral").await;
        stays("links[0].inboard.y").await;
        assert!(!page.is_wrong(cell).await);
        page.undo().await;
        stays(cell).await;
        // The point moved, the text has had its time.
        page.drag("front:links[1].inboard", 20, 0).await;
        browser
            .wait_until(&format!("document.querySelector('[data-field=\"{cell}\"]').value !== '12abc'"))
            .await;
        page.add_link().await;
        assert!(!page.is_wrong(cell).await);
    });
}

/// A menu shows what the document says, whatever was picked in it before.
#[test]
fn the_menu_of_carriers_follows_undo_and_redo() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        let menu = "[data-carrier=spring]";
        let before = browser.value(menu).await;
        let other = "[...document.querySelector('[data-carrier=spring]').options].map(o => o.value).find(v => v !== document.querySelector('[data-carrier=spring]').value)";
        let other = browser.eval(other).await.as_str().expect("another carrier").to_owned();
        browser.choose(menu, &other).await;
        for _ in 0..2 {
            assert_eq!(browser.value(menu).await, other);
            page.undo().await;
            assert_eq!(browser.value(menu).await, before);
            page.redo().await;
        }
        assert_eq!(browser.value(menu).await, other);
    });
}

/// A field that is taken away while the cursor stands in it has nothing more to say.
#[test]
fn a_field_may_go_with_the_cursor_in_it() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.add_link().await;
        browser.wait_until("document.querySelector('[data-field=\"links[3].inboard.y\"]')").await;
        page.type_and_stay("links[3].inboard.y", "410").await;
        browser.press_here("Control+z").await;
        browser.press_here("Control+z").await;
        browser.wait_until("!document.querySelector('[data-field=\"links[3].inboard.y\"]')").await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert!(browser.console_errors().await.is_empty(), "{:?}", browser.console_errors().await);
        // The next gesture is one of its own.
        page.type_into("arms[0].ball_joint.z", "492").await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

//! Corners that cannot be read, and every layout of the menu.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::setup::{Axle, Document, example};
use web_app::edit::{Edit, MemberKind};
use web_app::presets::Preset;

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// What the core says about the front corner of a document that it refuses.
fn refused(document: &Document) -> Shown {
    let shown = Shown::of(document, Axle::Front);
    assert!(shown.wrong.is_some(), "the core refuses it");
    shown
}

#[test]
fn two_pivots_at_one_place_are_named_and_one_step_back_brings_the_numbers_back() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        for (letter, text) in [("x", "-128"), ("y", "452"), ("z", "452")] {
            page.type_into(&format!("arms[0].front_pivot.{letter}"), text).await;
        }
        let document = front_changed(|corner| corner.arms[0].front_pivot = corner.arms[0].rear_pivot);
        let expected = refused(&document);
        let sentence = expected.wrong.clone().unwrap_or_default();
        assert!(
            sentence.starts_with("“upper-arm, front pivot” and “upper-arm, rear pivot” stand at one place"),
            "{sentence}"
        );
        page.shows(expected).await;
        // What was typed stays to be put right.
        assert_eq!(
            page.point("arms[0].front_pivot").await.map(f64::to_bits),
            [-128.0, 452.0, 452.0].map(f64::to_bits)
        );
        assert!(page.shapes("front").await > 0, "the points are still drawn");
        for view in ["front", "side", "plan"] {
            let rings = page.browser.count(&format!("g[data-view={view}] > circle.fault")).await;
            assert_eq!(rings, 2, "the two pivots are ringed in {view}");
        }

        page.undo().await;
        let document = front_changed(|corner| {
            let [_, _, z] = corner.arms[0].front_pivot;
            let [x, y, _] = corner.arms[0].rear_pivot;
            corner.arms[0].front_pivot = [x, y, z];
        });
        page.shows(Shown::of(&document, Axle::Front)).await;
        page.undo().await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn a_link_too_few_and_a_link_too_many_are_counted() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        assert_eq!(page.freedoms().await, "5");

        page.remove_member("lower-forward").await;
        page.shows(refused(&front_changed(|corner| drop(corner.links.remove(1))))).await;
        assert_eq!(page.freedoms().await, "4");
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;

        page.add_link().await;
        let edit = Edit::AddMember { axle: Axle::Front, kind: MemberKind::Link };
        page.shows(refused(&edit.apply(&example()).expect("room for a link"))).await;
        assert_eq!(page.freedoms().await, "6");
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
        assert_eq!(page.freedoms().await, "5");
    });
}

#[test]
fn a_spring_whose_carrier_is_gone_is_named() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.remove_member("lower-lateral").await;
        page.add_link().await;
        let changed = front_changed(|corner| drop(corner.links.remove(0)));
        let edit = Edit::AddMember { axle: Axle::Front, kind: MemberKind::Link };
        let expected = refused(&edit.apply(&changed).expect("room for a link"));
        let sentence = expected.wrong.clone().unwrap_or_default();
        assert!(sentence.contains("front.spring"), "{sentence}");
        page.shows(expected).await;
        page.undo().await;
        page.undo().await;
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

#[test]
fn the_other_axle_is_not_disturbed_by_a_corner_that_cannot_be_read() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.tab("pivots").await;
        page.remove_member("tie-rod").await;
        page.shows(refused(&front_changed(|corner| drop(corner.links.remove(2))))).await;
        page.show_axle(Axle::Rear).await;
        page.shows(Shown::of(&example(), Axle::Rear)).await;
    });
}

#[test]
fn every_layout_is_drawn_and_read_on_both_axles() {
    for axle in [Axle::Front, Axle::Rear] {
        browse(Look::default(), async |browser| {
            let page = Page::open(browser).await;
            page.show_axle(axle).await;
            let mut document = example();
            let wheelbase = document.vehicle.wheelbase.expect("the example has one");
            for preset in Preset::ALL {
                page.choose_layout(preset.name()).await;
                *document.corner_mut(axle).expect("a corner") = preset.corner(axle, wheelbase);
                let expected = Shown::of(&document, axle);
                assert_eq!(expected.wrong, None, "{}", preset.name());
                page.shows(expected).await;
                for view in ["front", "side", "plan"] {
                    assert!(page.shapes(view).await >= 6, "{}, {view}", preset.name());
                }
                assert!(page.notice().await.starts_with(preset.name()));
            }
            for _ in Preset::ALL {
                page.undo().await;
            }
            page.shows(Shown::of(&example(), axle)).await;
        });
    }
}

//! A reading is chosen and draws itself.

use cornerwise_tests::browser::{Look, browse};
use geometry_core::{
    construction::{Construction, Scheme},
    linkage::Linkage,
    readings::{Quantity, Reader},
    setup::{Axle, Corner, Side, example},
    solve::{Follower, State},
};
use web_app::{
    describe::finding::{self, Found},
    presets::Preset,
    sharing,
};

use crate::{core::front_changed, page::Page};

/// What the page has to say of a reading of the example's front corner.
fn said(corner: &Corner, quantity: Quantity, travel: f64) -> String {
    let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
    let mut follower = Follower::new(&linkage);
    assert!(follower.go_to(State { travel, rack: 0.0 }).stop().is_none(), "in reach");
    let position = follower.position();
    let readings = Reader::new(&linkage, &example().vehicle, Axle::Front).read(position);
    let found = Found {
        construction: Construction::of(quantity, corner, &linkage, position, &readings),
        in_order: Scheme::of(corner, &linkage, position).is_some(),
    };
    finding::sentence(quantity, Axle::Front, &found)
}

/// Waits until the page says of the chosen reading what the core does.
async fn says(page: &Page, expected: &str) {
    let spaces = |text: &str| text.replace('\u{a0}', " ");
    let expected = spaces(expected);
    for _ in 0..100 {
        if spaces(&page.finding().await) == expected {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    assert_eq!(spaces(&page.finding().await), expected);
}

#[test]
fn the_roll_centre_is_drawn_both_ways_and_the_difference_told() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let corner = example().front.expect("a front corner");
        assert_eq!(page.found("front", "exact").await, 0);
        page.choose_reading("roll_centre_height").await;
        for class in ["given", "exact", "shortcut", "measure", "plane"] {
            assert!(page.found("front", class).await > 0, "{class}");
        }
        let standing = said(&corner, Quantity::RollCentreHeight, 0.0);
        assert!(standing.contains("The lines' crossing says") && standing.contains("mm"), "{standing}");
        says(&page, &standing).await;
        assert_eq!(page.chosen().await.as_deref(), Some("roll_centre_height"));

        // It goes along as the wheel travels.
        page.type_into("travel", "30").await;
        let bumped = said(&corner, Quantity::RollCentreHeight, 30.0);
        assert_ne!(standing, bumped);
        says(&page, &bumped).await;
        assert!(!page.can_undo().await, "choosing changes no document");
        assert!(page.browser.console_errors().await.is_empty());
    });
}

#[test]
fn caster_is_an_angle_at_the_axis_in_the_side_view() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        page.choose_tile("caster").await;
        assert_eq!(page.chosen().await.as_deref(), Some("caster"));
        assert_eq!(page.found("side", "exact.axis").await, 1);
        assert_eq!(page.found("side", "shortcut.axis").await, 1);
        assert_eq!(page.found("side", "exact.measure").await, 1, "the arc");
        let corner = example().front.expect("a front corner");
        says(&page, &said(&corner, Quantity::Caster, 0.0)).await;
    });
}

#[test]
fn keys_choose_and_escape_leaves() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        let usual = page.shapes("front").await;
        page.choose_by_key("caster").await;
        assert_eq!(page.chosen().await.as_deref(), Some("caster"));
        page.browser.press_here("Escape").await;
        assert_eq!(page.chosen().await, None);
        assert_eq!(page.found("front", "exact").await, 0);
        assert_eq!(page.shapes("front").await, usual, "the usual lines are back");
        page.choose_reading("camber").await;
        page.choose_tile("bump_steer").await;
        assert_eq!(page.chosen().await.as_deref(), Some("bump_steer"), "one at a time");
        page.choose_tile("bump_steer").await;
        assert_eq!(page.chosen().await, None);
    });
}

#[test]
fn five_links_have_no_shortcut_to_the_roll_centre_and_the_page_says_so() {
    browse(Look::default(), async |browser| {
        // Outboard ends spread round the knuckle: no two of them are clearly a pair.
        let mut corner = Preset::FiveLinks.corner(Axle::Front, 2600.0);
        let ends =
            [[130.0, 640.0, 480.0], [-130.0, 640.0, 480.0], [130.0, 699.0, 200.0], [-130.0, 694.0, 200.0]];
        for (link, end) in corner.links.iter_mut().zip(ends) {
            link.outboard = end;
        }
        let expected = said(&corner, Quantity::RollCentreHeight, 0.0);
        assert!(expected.contains("No shortcut"), "{expected}");
        let link = sharing::encode(&front_changed(|front| *front = corner));
        let page = Page::open_link(browser, &format!("#{link}")).await;
        page.choose_reading("roll_centre_height").await;
        says(&page, &expected).await;
        assert_eq!(page.found("front", "shortcut").await, 0);
        assert!(page.found("front", "exact").await > 0);
    });
}

#[test]
fn every_reading_can_be_chosen_on_every_layout() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser).await;
        for layout in Preset::ALL {
            page.choose_layout(layout.name()).await;
            for quantity in Quantity::ALL {
                page.choose_by_key(quantity.name()).await;
                assert!(!page.finding().await.is_empty(), "{quantity:?} of {}", layout.name());
            }
            page.browser.press_here("Escape").await;
        }
        let broken = page.browser.eval("document.querySelector('.drawing').innerHTML.includes('NaN')").await;
        assert_eq!(broken, serde_json::Value::Bool(false));
        assert!(page.browser.console_errors().await.is_empty());
    });
}

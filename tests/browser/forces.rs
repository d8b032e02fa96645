//! Forces under a load: the table, what is missing, wrong texts, the arrows on the sheet.

use std::collections::BTreeMap;

use cornerwise_tests::browser::{Browser, Look, Media, browse};
use geometry_core::{
    linkage::Linkage,
    setup::{Axle, Document, Side, example},
    solve::{Follower, State},
    statics::{Case, Given, Load, LoadAxes, LoadPoint, ReactedBy, Statics},
};
use serde_json::Value;
use web_app::{
    describe::forces::{self as words, CaseKind, Found},
    presets::Preset,
    sharing,
};

use crate::page::Page;

/// What the page has to show of a load case: every row's number by its key, and the sentence.
fn expected(
    document: &Document,
    axle: Axle,
    case: Case,
    travel: f64,
    given: &Given,
) -> (BTreeMap<String, f64>, String) {
    let corner = document.corner(axle).expect("a corner");
    let linkage = Linkage::new(corner, Side::Left).expect("a linkage");
    let mut follower = Follower::new(&linkage);
    let state = State { travel, rack: 0.0 };
    assert!(follower.go_to(state).stop().is_none(), "in reach");
    let statics = Statics::new(corner, &linkage);
    let loads = statics.loads(&case, &document.vehicle, axle).expect("all is given");
    let forces = statics.forces(follower.position(), &loads, given).expect("it is held");
    let mut numbers = BTreeMap::new();
    for row in words::table(corner, Side::Left, &forces).into_iter().flat_map(|group| group.rows) {
        numbers.insert(row.key, row.value);
    }
    let kick = statics.steering_kick(follower.position());
    if let Some(kick) = kick {
        numbers.insert("kick driving".into(), kick.driving);
        numbers.insert("kick regenerative_braking".into(), kick.regenerative_braking);
        numbers.insert("kick friction_braking".into(), kick.friction_braking);
    }
    let found =
        Found { case, axle, side: Side::Left, state, loads, pushes: vec![], forces: Ok(forces), kick };
    (numbers, words::sentence(&found))
}

/// The same as the page shows it.
async fn shown(browser: &Browser) -> BTreeMap<String, f64> {
    let all = "[...document.querySelectorAll('#panel-forces [data-value]')].map(e => \
               [e.dataset.force || 'kick ' + e.dataset.kick, e.dataset.value])";
    let all = browser.eval(all).await;
    let rows = all.as_array().into_iter().flatten();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    rows.map(|row| (text(&row[0]), text(&row[1]).parse().unwrap_or(f64::NAN))).collect()
}

/// Waits until the page shows what it has to, bit for bit.
async fn shows(browser: &Browser, (numbers, sentence): &(BTreeMap<String, f64>, String)) {
    let bits = |all: &BTreeMap<String, f64>| -> BTreeMap<String, u64> {
        all.iter().map(|(key, value)| (key.clone(), value.to_bits())).collect()
    };
    for _ in 0..150 {
        if bits(&shown(browser).await) == bits(numbers) {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(20)).await;
    }
    let found = shown(browser).await;
    assert_eq!(bits(&found), bits(numbers), "page {found:#?}\ncore {numbers:#?}");
    let said = browser.text("[data-said=load]").await;
    assert_eq!(said.replace('\u{a0}', " "), sentence.replace('\u{a0}', " "));
}

/// The sheet says of which load case its arrows are.
#[test]
fn the_paper_names_the_load_case_and_the_panel_says_how_loads_are_shared() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        assert_eq!(browser.count("[data-said=shared]").await, 0);
        choose_case(&browser, CaseKind::Cornering).await;
        browser.wait_until("document.querySelector('[data-said=shared]')").await;
        browser.show_in(Media { paper: true, ..Media::default() }).await;
        let written = "[...document.querySelectorAll('.print-sheet text')].map(e => e.textContent).join('|')";
        browser.wait_until(&format!("{written}.includes('; forces: cornering, 0.90 g')")).await;
    });
}

async fn choose_case(browser: &Browser, kind: CaseKind) {
    browser.choose("[data-choice=\"load.case\"]", kind.name()).await;
}

/// How many arrows of a class a view shows.
async fn arrows(browser: &Browser, view: &str, class: &str) -> usize {
    browser.count(&format!("g[data-view={view}] > polyline.force.{class}")).await
}

#[test]
fn forces_and_kick_are_the_cores_for_every_case() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let document = example();
        assert!(shown(&browser).await.is_empty(), "nothing is computed for a closed panel");
        page.tab("forces").await;
        let of = |case, travel| expected(&document, Axle::Front, case, travel, &Given::default());
        shows(&browser, &of(Case::Standing {}, 0.0)).await;
        choose_case(&browser, CaseKind::Cornering).await;
        shows(&browser, &of(Case::Cornering { g: 0.9 }, 0.0)).await;
        page.type_into("load.cornering", "\u{2212}0,7").await;
        shows(&browser, &of(Case::Cornering { g: -0.7 }, 0.0)).await;
        choose_case(&browser, CaseKind::FrictionBraking).await;
        shows(&browser, &of(Case::FrictionBraking { g: 1.0 }, 0.0)).await;
        choose_case(&browser, CaseKind::RegenerativeBraking).await;
        shows(&browser, &of(Case::RegenerativeBraking { g: 0.3 }, 0.0)).await;
        choose_case(&browser, CaseKind::BlendedBraking).await;
        shows(&browser, &of(Case::BlendedBraking { g: 1.0 }, 0.0)).await;
        choose_case(&browser, CaseKind::Driving).await;
        shows(&browser, &of(Case::Driving { g: 0.4 }, 0.0)).await;
        choose_case(&browser, CaseKind::Bump).await;
        page.type_into("load.bump", "2.5").await;
        page.type_into("travel", "35").await;
        shows(&browser, &of(Case::Bump { times: 2.5 }, 35.0)).await;
        assert!(!page.can_undo().await, "a load case is no part of the document");

        // The other axle, which no link steers.
        page.show_axle(Axle::Rear).await;
        let rear = expected(&document, Axle::Rear, Case::Bump { times: 2.5 }, 0.0, &Given::default());
        assert!(!rear.0.contains_key("kick driving"));
        shows(&browser, &rear).await;
        assert!(browser.text("[data-said=balance]").await.contains("left over"));
    });
}

#[test]
fn loads_of_ones_own_act_together_with_damper_and_bar() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        choose_case(&browser, CaseKind::Free).await;
        for (field, typed) in [("x", "-1500"), ("y", "800"), ("z", "4 200,5")] {
            page.paste_into(&format!("load.free[0].{field}"), typed).await;
        }
        browser.choose("[data-choice=\"load.free[0].reacted_by\"]", "shaft").await;
        browser.click("[data-add=load]").await;
        page.type_into("load.free[1].y", "-600").await;
        browser.choose("[data-choice=\"load.free[1].at\"]", "wheel_centre").await;
        browser.choose("[data-choice=\"load.free[1].reacted_by\"]", "nothing").await;
        browser.choose("[data-choice=\"load.free[1].axes\"]", "wheel").await;
        browser.click(".others summary").await;
        page.type_into("load.damper", "350").await;
        page.type_into("load.anti_roll_bar", "-60").await;
        let loads = vec![
            Load {
                at: LoadPoint::Contact,
                force: [-1500.0, 800.0, 4200.5],
                axes: LoadAxes::Vehicle,
                reacted_by: ReactedBy::Shaft,
            },
            Load {
                at: LoadPoint::WheelCentre,
                force: [0.0, -600.0, 0.0],
                axes: LoadAxes::Wheel,
                reacted_by: ReactedBy::Nothing,
            },
        ];
        let given = Given { damper: 350.0, anti_roll_bar: -60.0, torsion_bar: 0.0 };
        let document = example();
        let both = Case::Free { loads: loads.clone() };
        shows(&browser, &expected(&document, Axle::Front, both, 0.0, &given)).await;
        browser.click("[data-remove=\"load.free[0]\"]").await;
        let one = Case::Free { loads: vec![loads[1]] };
        shows(&browser, &expected(&document, Axle::Front, one, 0.0, &given)).await;
        assert_eq!(page.field("load.free[0].y").await, "\u{2212}600");
        browser.click("[data-remove=\"load.free[0]\"]").await;
        let none = Case::Free { loads: vec![] };
        shows(&browser, &expected(&document, Axle::Front, none, 0.0, &given)).await;
    });
}

#[test]
fn what_is_missing_is_named_and_its_button_opens_the_field() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.vehicle.mass = None;
        document.vehicle.cg_height = None;
        let link = sharing::encode(&document);
        let page = Page::open_link(browser.clone(), &format!("#{link}")).await;
        page.tab("forces").await;
        choose_case(&browser, CaseKind::FrictionBraking).await;
        let given = "[...document.querySelectorAll('[data-give]')].map(e => e.dataset.give)";
        let asked = async || browser.eval(given).await;
        assert_eq!(asked().await, serde_json::json!(["vehicle.mass", "vehicle.cg_height"]));
        let text = browser.text("[data-said=trouble]").await;
        assert!(text.contains("Give the mass of the car"), "{text}");
        assert_eq!(arrows(&browser, "front", "load").await, 0, "nothing is drawn of what is not known");
        // The kick needs the geometry alone.
        assert!(browser.count("[data-kick]").await == 3);

        browser.click("[data-give=\"vehicle.mass\"]").await;
        browser.wait_until("document.activeElement.dataset.field === 'vehicle.mass'").await;
        page.type_into("vehicle.mass", "1480").await;
        page.tab("forces").await;
        assert_eq!(asked().await, serde_json::json!(["vehicle.cg_height"]));
        browser.click("[data-give=\"vehicle.cg_height\"]").await;
        browser.wait_until("document.activeElement.dataset.field === 'vehicle.cg_height'").await;
        page.type_into("vehicle.cg_height", "465").await;
        page.tab("forces").await;
        let case = Case::FrictionBraking { g: 1.0 };
        shows(&browser, &expected(&example(), Axle::Front, case, 0.0, &Given::default())).await;
        // Loads of one's own need no number of the car.
        page.undo().await;
        page.undo().await;
        choose_case(&browser, CaseKind::Free).await;
        assert!(arrows(&browser, "front", "load").await > 0);
    });
}

#[test]
fn a_wrong_text_stays_with_its_error_and_the_forces_as_they_were() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        choose_case(&browser, CaseKind::FrictionBraking).await;
        let before = shown(&browser).await;
        for (typed, sentence) in [
            ("hard", "“hard” is not a number"),
            ("", "this field is empty"),
            ("12", "Deceleration must lie between −10 and 10 g; it is 12"),
            ("1e999", "larger than any number"),
        ] {
            page.paste_into("load.friction_braking", typed).await;
            let errors = page.field_errors().await;
            assert!(errors.len() == 1 && errors[0].contains(sentence), "{typed}: {errors:?}");
            assert_eq!(page.field("load.friction_braking").await, typed);
            assert!(page.is_wrong("load.friction_braking").await);
            assert_eq!(shown(&browser).await, before, "{typed}");
        }
        // Looked away from, it is still there.
        choose_case(&browser, CaseKind::Standing).await;
        page.tab("readings").await;
        page.tab("forces").await;
        choose_case(&browser, CaseKind::FrictionBraking).await;
        assert_eq!(page.field("load.friction_braking").await, "1e999");
        page.paste_into("load.friction_braking", "0.8").await;
        assert!(page.field_errors().await.is_empty());
        let case = Case::FrictionBraking { g: 0.8 };
        shows(&browser, &expected(&example(), Axle::Front, case, 0.0, &Given::default())).await;
        choose_case(&browser, CaseKind::Free).await;
        page.paste_into("load.free[0].z", "2e7").await;
        assert!(page.field_errors().await.join("").contains("Load 1, up must lie between"));
    });
}

#[test]
fn arrows_stand_in_three_views_while_forces_are_looked_at_and_turn_with_the_load() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let usual = page.shapes("front").await;
        page.tab("forces").await;
        // The front view has one of each in its legend.
        for (view, count) in [("front", 2), ("side", 1)] {
            assert_eq!(arrows(&browser, view, "load").await, count, "{view}");
            let along = arrows(&browser, view, "pulled").await
                + arrows(&browser, view, "pushed").await
                + arrows(&browser, view, "across").await;
            // From the left the front corner's links are seen nearly end on.
            let least = if view == "front" { 6 } else { 3 };
            assert!(along > least, "{view}: {along}");
        }
        // The name of the point that is touched stands where no number does.
        for point in ["arms[0].ball_joint", "links[2].outboard", "damper.body"] {
            browser.click(&format!("[data-handle=\"front:{point}\"]")).await;
            let under_it = "(() => { const name = document.querySelector('.touch .point-name').getBoundingClientRect(); \
                return [...document.querySelectorAll('g[data-view=front] > text')].filter(text => { \
                const other = text.getBoundingClientRect(); \
                return other.left < name.right && name.left < other.right && other.top + 4 < name.bottom \
                && name.top + 4 < other.bottom; }).map(text => text.textContent); })()";
            assert_eq!(browser.eval(under_it).await, Value::Array(Vec::new()), "{point}");
        }
        let scale = browser.text("g[data-view=front] > text.force-scale").await;
        assert!(scale.starts_with("arrows: ") && scale.ends_with(" N per mm"), "{scale}");

        choose_case(&browser, CaseKind::Free).await;
        page.type_into("load.free[0].z", "0").await;
        page.type_into("load.free[0].y", "2000").await;
        let counts = async |view: &'static str| {
            (arrows(&browser, view, "pulled").await, arrows(&browser, view, "pushed").await)
        };
        let mut one = Vec::new();
        for view in ["front", "side", "plan"] {
            one.push(counts(view).await);
        }
        assert!(one.iter().all(|(pulled, pushed)| *pulled > 0 && *pushed > 0), "{one:?}");
        let words = browser.text("#panel-forces .forces-answer").await;
        assert!(words.contains("pulled") && words.contains("pushed"));
        page.type_into("load.free[0].y", "\u{2212}2000").await;
        let mut other = Vec::new();
        for view in ["front", "side", "plan"] {
            let (pulled, pushed) = counts(view).await;
            other.push((pushed, pulled));
        }
        assert_eq!(one, other, "every arrow along a member turns round");

        page.tab("readings").await;
        assert_eq!(arrows(&browser, "front", "load").await, 0);
        assert_eq!(page.shapes("front").await, usual, "the usual lines are back");
        page.tab("forces").await;
        browser.click("[data-do=keep-forces]").await;
        page.tab("readings").await;
        // Across the car: from the left it would be seen end on.
        assert_eq!(arrows(&browser, "front", "load").await, 2, "kept on the sheet, and in the legend");
        page.choose_reading("roll_centre_height").await;
        assert!(page.found("front", "exact").await > 0, "a chosen reading is drawn as well");
    });
}

#[test]
fn forces_follow_a_dragged_point() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        let before = shown(&browser).await;
        page.drag("front:arms[0].ball_joint", -20, 10).await;
        let after = shown(&browser).await;
        assert_eq!(before.len(), after.len());
        assert_ne!(before, after);
        // A corner that cannot be read says so.
        page.tab("pivots").await;
        page.add_link().await;
        page.tab("forces").await;
        assert!(browser.text("#panel-forces").await.contains("No linkage to read"));
    });
}

#[test]
fn every_layout_has_its_forces() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("forces").await;
        for layout in Preset::ALL {
            page.choose_layout(layout.name()).await;
            for kind in [CaseKind::BlendedBraking, CaseKind::Free] {
                choose_case(&browser, kind).await;
                assert!(!browser.text("[data-said=load]").await.is_empty(), "{kind:?} of {}", layout.name());
                let numbers = shown(&browser).await;
                assert!(numbers.values().all(|number| number.is_finite()), "{kind:?} {}", layout.name());
            }
        }
        let broken = browser.eval("document.querySelector('.drawing').innerHTML.includes('NaN')").await;
        assert_eq!(broken, Value::Bool(false));
    });
}

#[test]
fn a_row_shows_its_point_and_a_phone_is_wide_enough() {
    for dark in [false, true] {
        browse(Look { width: 390, height: 844, dark }, async |browser| {
            let page = Page::open(browser.clone()).await;
            page.tab("forces").await;
            choose_case(&browser, CaseKind::Free).await;
            browser.click(".others summary").await;
            assert!(!page.is_too_wide().await);
            browser.click("tr:has([data-force=\"links[2]\"]) button").await;
            let selected = browser.attribute("circle.handle.selected", "data-handle").await;
            assert!(selected.is_some_and(|handle| handle.ends_with("links[2].outboard")));
        });
    }
}

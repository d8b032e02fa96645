//! Numbers in the reader's units: everywhere, in both directions, and no part of the setup.

use cornerwise_tests::browser::{Browser, Look, Media, browse};
use geometry_core::{
    readings::Quantity,
    setup::{Axle, Document, example},
};

use crate::{core::Shown, page::Page};

/// mm in an inch, N in a pound-force (NIST Special Publication 811, appendix B.8, from memory).
const INCH: f64 = 25.4;
const POUND_FORCE: f64 = 4.448_222;

async fn choose(browser: &Browser, unit: &str) {
    browser.choose("[data-choice=units]", unit).await;
    let other = if unit == "in" { "in" } else { "mm" };
    let told =
        format!("document.querySelector('[data-headline=scrub_radius]').textContent.endsWith('{other}')");
    browser.wait_until(&told).await;
    // What a screen reader is told once things are at rest.
    let spoken = format!("document.querySelector('.page > p.spoken').textContent.includes('\u{a0}{unit}')");
    browser.wait_until(&spoken).await;
}

/// What is written anywhere on the page, or told to a screen reader, that has a metric unit. Not looked at: menus of
/// units, what a field accepts, and words behind a fold.
async fn metric(browser: &Browser) -> String {
    let script = r"(() => {
        const metric = /(?:^|\d[\s\u00a0]?|,[\s\u00a0]|\/|in )(?:mm|kg|kN|N)(?![\p{L}\d’'·]|\. [A-Z])|\d[\s\u00a0]m(?![\p{L}\d’'])|N·m/u;
        const told = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        while (walk.nextNode()) told.push([walk.currentNode.parentElement, walk.currentNode.nodeValue]);
        for (const element of document.body.querySelectorAll('[aria-label], [title], [aria-valuetext]')) {
            for (const name of ['aria-label', 'title', 'aria-valuetext']) {
                told.push([element, element.getAttribute(name) || '']);
            }
        }
        const left = '[data-choice=measure], [data-choice=units], details, script, style, [data-said=units]';
        const found = told.filter(([e, text]) => metric.test(text) && !e.closest(left));
        return [...new Set(found.map(([, text]) => text.trim()))].join(' | ');
    })()";
    browser.eval(script).await.as_str().unwrap_or_default().to_owned()
}

fn front(document: &Document, quantity: Quantity) -> f64 {
    Shown::of(document, Axle::Front).reading(quantity).expect("a reading")
}

#[test]
fn no_number_is_left_in_other_units() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.show("both").await;
        page.show("ghosts").await;
        page.show("axles").await;
        browser.click("[data-do=trust]").await;
        browser.wait_until("document.querySelector('[data-trust=toe]')").await;
        assert!(metric(&browser).await.contains("mm"), "the search finds what is there");
        choose(&browser, "in").await;
        for tab in page.tabs().await {
            page.tab(&tab).await;
            if tab == "matters" {
                browser.wait_until("document.querySelector('[data-derivative]')").await;
            }
            browser.wait_until("document.querySelector('.beside:not([data-behind])')").await;
            assert_eq!(metric(&browser).await, "", "{tab}");
        }
        // Beside a reference, with a chosen reading, with arrows, as a table of curves.
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "19").await;
        for reading in ["scrub_radius", "roll_centre_height", "camber_gain", "screw_pitch"] {
            page.tab("readings").await;
            page.choose_reading(reading).await;
            assert_eq!(metric(&browser).await, "", "{reading}");
        }
        page.choose_reading("screw_pitch").await;
        page.tab("forces").await;
        browser.wait_until("document.querySelector('.drawing .force')").await;
        browser.click("[data-do=curve-table]").await;
        browser.wait_until("document.querySelector('[data-curve-numbers]')").await;
        assert_eq!(metric(&browser).await, "");
        // And on paper.
        browser.show_in(Media { paper: true, ..Media::default() }).await;
        browser.wait_until("!!document.querySelector('.print-sheet svg')").await;
        assert_eq!(metric(&browser).await, "");
    });
}

/// Each number told is the core's in the table's units, digits and all.
#[test]
fn what_is_told_is_the_same_in_both_units() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let metric = page.headline("scrub_radius").await;
        choose(&browser, "in").await;
        let document = example();
        for (reading, told) in [
            (Quantity::ScrubRadius, format!("{:.3}\u{a0}in", front(&document, Quantity::ScrubRadius) / INCH)),
            (
                Quantity::RollCentreHeight,
                format!("{:.3}\u{a0}in", front(&document, Quantity::RollCentreHeight) / INCH),
            ),
            (Quantity::CamberGain, format!("{:.3}°/in", front(&document, Quantity::CamberGain) * INCH)),
            (
                Quantity::FrontViewSwingArm,
                format!("{:.3}\u{a0}in", front(&document, Quantity::FrontViewSwingArm) / INCH),
            ),
            (
                Quantity::ScrewPitch,
                format!("{:.3}\u{a0}in/rad", front(&document, Quantity::ScrewPitch) / INCH),
            ),
            (Quantity::Camber, format!("{:.2}°", front(&document, Quantity::Camber))),
        ] {
            let css = format!("#panel-readings [data-reading={}]", reading.name());
            assert_eq!(
                browser.text(&css).await.replace(' ', "\u{a0}"),
                told.replace('-', "\u{2212}"),
                "{}",
                reading.name()
            );
        }
        // What is usual of a kingpin's offset, −18 to 20 mm.
        let usual = "document.querySelector('[data-reading=scrub_radius]').closest('tr').querySelector('.usual').textContent";
        assert_eq!(browser.eval(usual).await.as_str(), Some("usual \u{2212}0.7 to 0.8\u{a0}in"));
        // A force: 1480 kg, 44 % in front, half of it on this wheel, 9.80665 m/s².
        page.tab("forces").await;
        let pounds = 1480.0 * 0.44 / 2.0 * 9.80665 / POUND_FORCE;
        let sentence = browser.text("[data-said=load]").await.replace('\u{a0}', " ");
        assert!(sentence.contains(&format!("{pounds:.0} lbf up at the contact")), "{sentence}");
        // Back again to the letter.
        choose(&browser, "mm").await;
        assert_eq!(page.headline("scrub_radius").await, metric);
        assert!(!page.can_undo().await, "units are no edit");
    });
}

#[test]
fn what_is_typed_is_in_the_units_shown() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        choose(&browser, "in").await;
        page.tab("car").await;
        // The field says what it is in, and shows the setup's own.
        assert_eq!(
            page.field("vehicle.wheelbase").await,
            format!("{:.3}", example().vehicle.wheelbase.expect("a wheelbase") / INCH)
        );
        let label = browser.attribute("[data-field='vehicle.wheelbase']", "aria-label").await;
        assert_eq!(label.as_deref(), Some("Wheelbase, in"));
        let css = format!(
            "document.querySelector('[data-headline=\"{}\"]').exact",
            Quantity::AntiBrakingFriction.name()
        );
        let anti = async || browser.eval(&css).await;
        for (typed, wheelbase) in
            [("100", 2540.0), ("2700 mm", 2700.0), ("8 ft 6 in", 2590.8), ("2620,5 mm", 2620.5)]
        {
            page.type_into("vehicle.wheelbase", typed).await;
            let mut expected = example();
            expected.vehicle.wheelbase = Some(wheelbase);
            assert_eq!(
                anti().await.as_f64(),
                Some(front(&expected, Quantity::AntiBrakingFriction)),
                "{typed}"
            );
        }
        page.type_into("vehicle.mass", "3000").await;
        assert_eq!(page.field("vehicle.mass").await, "3000");
        choose(&browser, "mm").await;
        assert_eq!(page.field("vehicle.mass").await, "1360.777");
        // A wrong text outlives another choice of units.
        page.type_into("vehicle.wheelbase", "12abc").await;
        choose(&browser, "in").await;
        assert_eq!(page.field("vehicle.wheelbase").await, "12abc");
        assert!(page.is_wrong("vehicle.wheelbase").await);
        // What stands in a field, typed once more, is the number that stands there and no other.
        page.type_into("front.wheel.loaded_radius", "12.2835").await;
        assert_eq!(
            browser.eval("document.querySelector('[data-reading=roll_centre_height]').exact").await.as_f64(),
            Shown::of(&example(), Axle::Front).reading(Quantity::RollCentreHeight)
        );
        // A reading of another kind is wanted by what its field says.
        page.tab("matters").await;
        browser.choose("[data-choice='matters.quantity']", "roll_centre_height").await;
        let wanted = "document.querySelector('[data-field=\"matters.wanted\"]').value";
        browser.wait_until(&format!("{wanted} === '0.01'")).await;
        browser.choose("[data-choice='matters.quantity']", "camber").await;
        browser.wait_until(&format!("{wanted} === '0.25'")).await;
        // The slider's own field.
        page.move_to("1", "0").await;
        let expected = Shown::at(&example(), Axle::Front, INCH, 0.0).reading(Quantity::Camber);
        browser.wait_until("document.querySelector('[data-reading=camber]').exact !== -0.8").await;
        let camber = browser.eval("document.querySelector('[data-reading=camber]').exact").await;
        assert_eq!(camber.as_f64(), expected);
    });
}

/// What stands in a field is in the unit beside it, whatever it was typed in: also of a field that was empty, and of a
/// text that was wrong before.
#[test]
fn a_text_is_never_beside_another_unit() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        page.type_into("front.wheel.tyre_rate", "").await;
        page.type_into("front.wheel.tyre_rate", "200").await;
        choose(&browser, "in").await;
        // 1142.03 lbf/in: 200 N/mm over 4.448222 N and 25.4 mm.
        let told = format!("{:.2}", 200.0 * INCH / POUND_FORCE);
        browser
            .wait_until(&format!(
                "document.querySelector('[data-field=\"front.wheel.tyre_rate\"]').value === '{told}'"
            ))
            .await;
        choose(&browser, "mm").await;
        // Too small a radius in mm, and in inches the one that was meant.
        page.type_into("front.wheel.loaded_radius", "12.25").await;
        assert!(page.is_wrong("front.wheel.loaded_radius").await);
        choose(&browser, "in").await;
        browser
            .wait_until(
                "document.querySelector('[data-field=\"front.wheel.loaded_radius\"]').ariaInvalid !== 'true'",
            )
            .await;
        assert!(page.field_errors().await.is_empty());
        let expected = crate::core::front_changed(|corner| {
            corner.wheel.loaded_radius = 12.25 * INCH;
            corner.wheel.tyre_rate = Some(200.0);
        });
        page.shows(Shown::of(&expected, Axle::Front)).await;
        // An error is said in the units of the field.
        page.type_into("front.wheel.loaded_radius", "1").await;
        let errors = page.field_errors().await.concat();
        assert!(
            errors.starts_with("Loaded radius must lie between 1.96851 and 78.7401 in; it is 1"),
            "{errors}"
        );
        // The arrow keys leave no digits behind.
        page.type_into("front.wheel.loaded_radius", "12.25").await;
        browser.press("[data-field='front.wheel.loaded_radius']", "ArrowUp").await;
        assert_eq!(page.field("front.wheel.loaded_radius").await, "12.3");
        browser.press("[data-field='front.wheel.loaded_radius']", "ArrowDown").await;
        page.shows(Shown::of(&expected, Axle::Front)).await;
    });
}

/// Curves are drawn anew in the units chosen, with round numbers at their axes, and sliders reach their ends.
#[test]
fn curves_and_sliders_follow_the_units() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let ends = async || {
            let text =
                browser.attribute("[data-curve=roll_centre_height]", "data-values").await.expect("a range");
            text.split(' ').map(|end| end.parse().expect("a number")).collect::<Vec<f64>>()
        };
        let round = |end: f64, one: f64| (end / one - (end / one).round()).abs() < 1e-6;
        browser.wait_until("document.querySelector('[data-curve=roll_centre_height]').dataset.values").await;
        let metric = ends().await;
        assert!(metric.iter().all(|end| round(*end, 10.0)), "{metric:?}");
        choose(&browser, "in").await;
        let before = format!("{} {}", metric[0], metric[1]);
        browser
            .wait_until(&format!(
                "document.querySelector('[data-curve=roll_centre_height]').dataset.values !== '{before}'"
            ))
            .await;
        let inches = ends().await;
        assert!(inches.iter().all(|end| round(*end, INCH)), "{inches:?}");
        // The stops at 80 and −85 mm are no round inches.
        for (key, stop) in [("End", 80.0), ("Home", -85.0)] {
            page.press_on_slider("travel", key).await;
            page.shows(Shown::at(&example(), Axle::Front, stop, 0.0)).await;
            assert_eq!(browser.count("[data-beyond=travel]").await, 0);
        }
        page.type_into("travel", "1").await;
        page.press_on_slider("travel", "ArrowRight").await;
        assert_eq!(page.field("travel").await, "1.025");
        page.press_on_slider("travel", "ArrowLeft").await;
        page.press_on_slider("travel", "ArrowLeft").await;
        assert_eq!(page.field("travel").await, "0.975");
    });
}

/// A choice of the reader's: it outlives a reload, and a link to the setup does not carry it.
#[test]
fn the_units_are_the_readers_own() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        let link = page.link().await;
        choose(&browser, "in").await;
        assert_eq!(page.link().await, link);
        page.reload().await;
        assert_eq!(browser.value("[data-choice=units]").await, "in");
        assert!(page.headline("scrub_radius").await.ends_with("in"));
        // What nobody has said is round in both units.
        let measured = async || [page.field("trust.length").await, page.field("trust.height").await];
        assert_eq!(measured().await, ["0.08", "0.8"]);
        choose(&browser, "mm").await;
        assert_eq!(measured().await, ["2", "20"]);
        browser.click("[data-do=trust]").await;
        page.type_into("trust.length", "3").await;
        choose(&browser, "in").await;
        assert_eq!(measured().await, ["0.11811", "0.8"]);
        // The points' own choice knows fractions, and takes all else along.
        page.tab("pivots").await;
        browser.choose("[data-choice=measure]", "mm").await;
        browser.wait_until("document.querySelector('[data-choice=units]').value === 'mm'").await;
        browser.choose("[data-choice=measure]", "inch-fractions").await;
        browser.wait_until("document.querySelector('[data-choice=units]').value === 'in'").await;
        assert!(page.headline("scrub_radius").await.ends_with("in"));
    });
}

/// The bar on the sheet is as long as it says.
#[test]
fn the_scale_bar_is_of_the_drawing() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        // Pixels of the bar over pixels between two points that are known.
        let bar = "(() => { const [a, b] = document.querySelector('.scale-bar').getAttribute('points').split(' ').map(p => Number(p.split(',')[0])); return b - a; })()";
        let length = async || browser.eval(bar).await.as_f64().expect("a bar");
        let name = async || browser.text(".scale-name").await.replace('\u{a0}', " ");
        let document = example();
        let corner = document.corner(Axle::Front).expect("a corner");
        let (joint, hub) = (corner.arms[0].ball_joint, corner.wheel.centre);
        let scale = async || {
            let ((_, high), (_, low)) =
                (page.place("front:arms[0].ball_joint").await, page.place("front:wheel.centre").await);
            (low - high) / (joint[2] - hub[2])
        };
        for (unit, one) in [("mm", 1.0), ("in", INCH)] {
            choose(&browser, unit).await;
            for zoom in ["Zoom in", "Zoom in", "Zoom in", "Zoom out", "Zoom out", "Zoom out", "Zoom out"] {
                browser.click(&format!("[aria-label='{zoom}']")).await;
                let name = name().await;
                let told: f64 =
                    name.strip_suffix(&format!(" {unit}")).expect("its unit").parse().expect("a number");
                let (found, expected) = (length().await, told * one * scale().await);
                assert!((found - expected).abs() < 0.02 * expected + 1.0, "{name}: {found} for {expected}");
                assert!((30.0..=131.0).contains(&found), "{name}: {found}");
            }
        }
    });
}

/// The longest numbers are those in inches: at the least width that WCAG asks for (1.4.10) nothing scrolls sideways.
#[test]
fn inches_fit_a_narrow_phone() {
    browse(Look { width: 320, height: 700, ..Look::default() }, async |browser| {
        let page = Page::open(browser.clone()).await;
        choose(&browser, "in").await;
        for tab in page.tabs().await {
            page.tab(&tab).await;
            assert!(!page.is_too_wide().await, "{tab}");
        }
    });
}

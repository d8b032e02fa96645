//! A right corner that is described by itself, and what happens to it.

use cornerwise_tests::browser::{Browser, Look, Media, browse};
use geometry_core::{
    readings::Quantity,
    setup::{Axle, example},
};
use web_app::sharing::encode;

use crate::beside::keep;
use crate::core::Shown;
use crate::page::Page;

/// Describes the right corner separately, as it is, and shows it.
async fn show_right(page: &Page) {
    page.tab("car").await;
    page.browser.choose("[data-choice=right]", "separate").await;
    page.browser.click("[data-side=right]").await;
}

/// The number of the reference in a chart's head, in full.
async fn on_chart(browser: &Browser, quantity: Quantity, place: &str) -> Option<f64> {
    let name = quantity.name();
    let number =
        format!("document.querySelector('[data-curve-now=\"{name}\"] [data-{place}=front]')?.exact ?? null");
    browser.eval(&number).await.as_f64()
}

/// Both cars are one: the right side is described anew and nothing else, so that a rack to the left steers both alike.
#[test]
fn a_right_corner_beside_a_car_without_one_is_no_other() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        keep(&browser).await;
        show_right(&page).await;
        page.move_to("12", "20").await;
        page.tab("readings").await;
        let none = |panel: &str, least: usize| {
            format!(
                "(all => all.length > {least} && all.every(e => e.textContent === 'no difference'))\
                 ([...document.querySelectorAll('#panel-{panel} .difference')])"
            )
        };
        browser.wait_until(&none("readings", 10)).await;
        page.tab("forces").await;
        browser.wait_until(&none("forces", 5)).await;
        // The curves show it as well, against travel and against the rack.
        for against in ["travel", "rack"] {
            browser.choose("select[data-do=curves-against]", against).await;
            let same = "(head => head.querySelector('[data-reference-value=front]')?.exact === head.querySelector('[data-axle-value=front]')?.exact)\
                        (document.querySelector('[data-curve-now=toe]'))";
            browser.wait_until(same).await;
            let toe = on_chart(&browser, Quantity::Toe, "reference-value").await.expect("a toe");
            assert!(toe.abs() > 1.0, "steered: {toe}");
        }
    });
}

#[test]
fn curves_of_a_right_corner_lie_beside_the_references_right_one() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        show_right(&page).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        keep(&browser).await;
        let values = async || {
            [
                on_chart(&browser, Quantity::Camber, "axle-value").await,
                on_chart(&browser, Quantity::Camber, "reference-value").await,
            ]
        };
        page.move_to("40", "0").await;
        browser
            .wait_until("document.querySelector('[data-curve-now=camber] [data-axle-value]').exact < -1")
            .await;
        let [right, beside] = values().await;
        assert!(right.is_some() && right == beside, "{right:?} {beside:?}");
        browser.click("[data-side=left]").await;
        let left = Shown::at(&example(), Axle::Front, 40.0, 0.0).reading(Quantity::Camber).expect("a camber");
        browser
            .wait_until(&format!(
                "document.querySelector('[data-curve-now=camber] [data-axle-value]').exact === {left}"
            ))
            .await;
        let [now, beside] = values().await;
        assert!(now == beside && now != right, "{now:?} {beside:?} {right:?}");
    });
}

/// What plays would bring the left corner back, which alone leans with both wheels.
#[test]
fn the_right_corner_stays_where_the_body_was_leaning_by_itself() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        browser.choose("[data-choice=right]", "separate").await;
        browser.click("[data-play=roll]").await;
        browser.wait_until("Math.abs(parseFloat(document.querySelector('[data-field=roll]').value.replace('\u{2212}', '-'))) > 0.2").await;
        browser.click("[data-side=right]").await;
        let right = "document.querySelector('[data-side=right]').ariaPressed === 'true'";
        browser.wait_until(right).await;
        browser.wait_until("document.querySelector('[data-play=roll]').ariaPressed === 'false'").await;
        // Frames enough for one that was asked for before.
        tokio::time::sleep(std::time::Duration::from_millis(300)).await;
        browser.wait_until(right).await;
        // Upright the body is already.
        page.type_into("roll", "wide").await;
        browser.wait_until(right).await;
        assert!(page.is_wrong("roll").await);
        page.type_into("roll", "2").await;
        browser.wait_until("document.querySelector('[data-side=left]').ariaPressed === 'true'").await;
    });
}

#[test]
fn a_right_corner_s_side_view_is_called_the_same_on_paper() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        show_right(&page).await;
        browser.show_in(Media { paper: true, ..Media::default() }).await;
        browser.wait_until("document.querySelector('.print-sheet svg')").await;
        let names = "[...document.querySelectorAll('.print-sheet text')].map(e => e.textContent).filter(text => text.startsWith('View from'))";
        assert_eq!(browser.eval(names).await, serde_json::json!(["View from the right, mirrored"]));
    });
}

/// One that describes nothing of an axle is given to describe it.
#[test]
fn an_axle_that_is_not_described_stays_in_sight() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.rear = None;
        let page = Page::open_link(browser.clone(), &encode(&document)).await;
        page.show_axle(Axle::Rear).await;
        page.tab("car").await;
        page.type_into("title", "Front only").await;
        page.type_into("vehicle.wheelbase", "2600").await;
        let rear = "document.querySelector('[data-axle=rear]').ariaPressed === 'true'";
        browser.wait_until(rear).await;
        page.choose_layout("Strut and lower wishbone").await;
        browser.wait_until(rear).await;
        document.vehicle.wheelbase = Some(2600.0);
        // Gone again, the one that is left is shown.
        page.undo().await;
        browser.wait_until("document.querySelector('[data-axle=front]').ariaPressed === 'true'").await;
        page.shows(Shown::of(&document, Axle::Front)).await;
    });
}

/// A rack that moves nothing has no slider to bring it back.
#[test]
fn a_corner_that_steers_no_more_stands_straight() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.move_to("10", "20").await;
        page.tab("pivots").await;
        browser.click("[data-steers]:checked").await;
        browser.wait_until("document.querySelector('.no-rack')").await;
        let link = page.link().await;
        assert!(link.contains("travel=10") && !link.contains("rack="), "{link}");
        page.undo().await;
        page.shows(Shown::at(&example(), Axle::Front, 10.0, 0.0)).await;
    });
}

/// A link asks for the left corner where it does not ask for the right one: both wheels are shown from its side.
#[test]
fn a_link_leads_from_the_right_corner_to_what_it_asks_for() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("car").await;
        browser.choose("[data-choice=right]", "separate").await;
        page.show("both").await;
        let link = page.link().await;
        show_right(&page).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        let pressed = |css: &str| format!("document.querySelector('{css}').ariaPressed");
        assert_eq!(browser.eval(&pressed("[data-show=both]")).await, "false");
        page.paste_onto("body", &link).await;
        browser.wait_until(&format!("{} === 'true'", pressed("[data-show=both]"))).await;
        assert_eq!(browser.eval(&pressed("[data-side=left]")).await, "true");
        page.shows(Shown::of(&example(), Axle::Front)).await;
    });
}

/// What is said over the drawing is seen: not under the curves, nor each under the other.
#[test]
fn what_is_said_over_the_drawing_is_seen() {
    for look in [
        Look::default(),
        Look { width: 1024, height: 768, dark: true },
        Look { width: 390, height: 844, dark: false },
    ] {
        browse(look, async |browser| {
            let mut document = example();
            document.rear = None;
            let page = Page::open_link(browser.clone(), &encode(&document)).await;
            page.show("axles").await;
            show_right(&page).await;
            page.tab("readings").await;
            page.choose_by_key("caster").await;
            // On a phone the paper stays in sight over the curves.
            browser.eval("scrollTo(0, 0)").await;
            let seen = "(() => { const box = css => document.querySelector(css).getBoundingClientRect(), \
                apart = (a, b) => a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top, \
                paper = box('.paper'), notes = ['axles', 'mirrored'].map(said => box(`[data-said=${said}]`)); \
                return notes.every(note => note.width > 0 && note.left >= paper.left && note.right <= paper.right \
                    && note.bottom <= paper.bottom && apart(note, box('.curves'))) && apart(...notes); })()";
            browser.wait_until(seen).await;
            // The drawing says which side it shows.
            let label = browser.attribute("svg.drawing", "aria-label").await.unwrap_or_default();
            assert!(label.contains("View from the right, mirrored"), "{label}");
        });
    }
}

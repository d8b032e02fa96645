//! The sheet on paper.

use cornerwise_tests::browser::{Browser, Look, Media, browse};
use geometry_core::setup::{Axle, example};
use miniz_oxide::inflate::decompress_to_vec_zlib;
use serde_json::{Value, json};
use web_app::{edit::mirror_image, sharing::encode};

use crate::core::{Shown, front_changed};
use crate::page::Page;

/// How many pages a PDF has: page objects, which Chromium writes plainly and Firefox packs with others.
fn pages(pdf: &[u8]) -> usize {
    let mut text = String::from_utf8_lossy(pdf).into_owned();
    let packed = |at: &usize| pdf[*at..].starts_with(b"/Type /ObjStm");
    for at in (0..pdf.len()).filter(packed) {
        let begin = pdf[at..].windows(7).position(|bytes| bytes == b"stream\n").expect("a stream");
        let objects = decompress_to_vec_zlib(&pdf[at + begin + 7..]).expect("packed objects");
        text.push_str(&String::from_utf8_lossy(&objects));
    }
    ["\n", " ", "/"].map(|after| text.matches(&format!("/Type /Page{after}")).count()).iter().sum()
}

/// Lays the page out for paper without printing it, or back again.
async fn on_paper(browser: &Browser, paper: bool) {
    browser.show_in(Media { dark: true, paper, ..Media::default() }).await;
    let there = if paper { "!!" } else { "!" };
    browser.wait_until(&format!("{there}document.querySelector('.print-sheet svg')")).await;
}

/// All that is written on the paper.
async fn written(browser: &Browser) -> String {
    let text = "[...document.querySelectorAll('.print-sheet text')].map(e => e.textContent).join('|')";
    browser.eval(text).await.as_str().unwrap_or_default().to_owned()
}

/// Both wheels are drawn: the numbers are those of the left one, and the sheet says so.
#[test]
fn the_paper_says_whose_numbers_it_holds() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.show("both").await;
        browser.click("[data-do=trust]").await;
        browser.wait_until("document.querySelector('[data-trust=toe]')").await;
        let plain = |text: String| text.replace('\u{a0}', " ");
        let doubt = plain(browser.text("td [data-trust=scrub_radius]").await);
        on_paper(&browser, true).await;
        let text = plain(written(&browser).await);
        assert!(text.contains("Front axle, numbers of the left wheel: one wishbone"), "{text}");
        assert!(text.contains(&format!("{doubt}; contact outboard")), "{doubt}: {text}");
        assert!(text.contains("lengths to ± 2 mm") && text.contains("wheel travel, mm"), "{text}");
        on_paper(&browser, false).await;
        // Beside a reference the column is that of the differences.
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        browser.wait_until("document.querySelector('[data-reference]')").await;
        browser.wait_until("document.querySelector('.beside:not([data-behind])')").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        assert!(text.contains("no difference") && text.contains("the reference is the same car"), "{text}");
        on_paper(&browser, false).await;
        page.tab("pivots").await;
        page.type_into("arms[0].ball_joint.z", "490").await;
        browser.wait_until("document.querySelector('td [data-trust-difference=scrub_radius]')").await;
        let of = async |name: &str| {
            let css = format!("document.querySelector('td [data-{name}=scrub_radius]').textContent");
            browser.eval(&css).await.as_str().unwrap_or_default().to_owned()
        };
        let (by, doubt) = (of("difference").await, of("trust-difference").await);
        on_paper(&browser, true).await;
        let bare =
            |text: &str| text.trim_end_matches(|c: char| !c.is_ascii_digit()).replace("difference ", "");
        let (text, by, doubt) = (plain(written(&browser).await), bare(&plain(by)), bare(&plain(doubt)));
        assert!(text.contains(&format!("{by} {doubt}")) && by.starts_with('+'), "{by} {doubt}: {text}");
        assert!(text.contains("Note: An invented"), "the note finds room as well: {text}");
    });
}

/// A4 and A3 in centimetres, upright.
const A4: (f64, f64) = (21.0, 29.7);
const A3: (f64, f64) = (29.7, 42.0);

#[test]
fn one_sheet_comes_out_on_a4_and_on_a3() {
    browse(Look { dark: true, ..Look::default() }, async |browser| {
        let page = Page::open(browser.clone()).await;
        assert_eq!(browser.count(".print-sheet *").await, 0, "nothing of it is there on the screen");
        for (width, height) in [A4, A3] {
            let pdf = browser.print(width, height).await;
            assert_eq!(pages(&pdf), 1);
            assert!(pdf.len() > 10_000, "{} bytes are an empty sheet", pdf.len());
        }
        page.choose_layout("Five-link").await;
        page.choose_tile("roll_centre_height").await;
        assert_eq!(pages(&browser.print(A4.0, A4.1).await), 1);
        browser.wait_until("!document.querySelector('.print-sheet svg')").await;
        page.choose_tile("roll_centre_height").await;
    });
}

#[test]
fn the_paper_is_white_and_holds_drawing_numbers_title_block_and_caution() {
    browse(Look { dark: true, ..Look::default() }, async |browser| {
        let page = Page::open(browser.clone()).await;
        page.move_to("25", "-10").await;
        page.shows(Shown::at(&example(), Axle::Front, 25.0, -10.0)).await;
        on_paper(&browser, true).await;
        assert!(page.brightness().await == 765, "white");
        let text = written(&browser).await.replace('\u{a0}', " ");
        for words in [
            "Alder hill-climb coupé",
            "Front left corner: one wishbone and three links",
            "travel 25.0 mm (bump), rack −10.0 mm (right)",
            "First-angle projection",
            "1 : 10",
            "alder-hill-climb-coupé.json",
            "Front view",
            "Plan view",
            "Roll centre height",
            "top leans in",
            "Computed numbers do not make a car safe.",
            "1/1",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        let day = browser.eval("(d => [d.getFullYear(), d.getMonth() + 1, d.getDate()].map(n => String(n).padStart(2, '0')).join('-'))(new Date())").await;
        assert!(text.contains(day.as_str().expect("a date")), "{day}");
        for shown in ["button", "input", ".headline", ".work"] {
            let seen =
                format!("[...document.querySelectorAll('{shown}')].some(e => e.getClientRects().length)");
            assert_eq!(browser.eval(&seen).await, Value::Bool(false), "{shown}");
        }
        let ink = "getComputedStyle(document.querySelector('.print-sheet .member')).stroke";
        assert_eq!(browser.eval(ink).await, "rgb(0, 0, 0)");
        // No text beyond the frame.
        let beyond = "(() => { const s = document.querySelector('.print-sheet svg').getBoundingClientRect(); \
            return [...document.querySelectorAll('.print-sheet > svg > text')].filter(e => { const r = e.getBoundingClientRect(); \
            return r.left < s.left || r.right > s.right || r.bottom > s.bottom; }).map(e => e.textContent); })()";
        assert_eq!(browser.eval(beyond).await, json!([]));
        on_paper(&browser, false).await;
    });
}

#[test]
fn the_reference_is_printed_with_its_numbers_and_thin_lines() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        browser.click("[data-menu=reference]").await;
        browser.click("[data-do=keep-reference]").await;
        page.tab("car").await;
        page.type_into("front.wheel.camber", "-2.25").await;
        page.shows(Shown::of(&front_changed(|corner| corner.wheel.camber = -2.25), Axle::Front)).await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        for words in [
            "this setup",
            "reference",
            "difference",
            "−2.25°",
            "|−0.80|",
            "−1.45°",
            "“Alder hill-climb coupé”",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        assert!(browser.count(".print-sheet .beneath > *").await > 20);
        assert_eq!(browser.count(".print-sheet polyline.reference").await, 4);
        on_paper(&browser, false).await;
    });
}

#[test]
fn a_corner_that_is_no_linkage_is_printed_with_what_is_wrong() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.tab("pivots").await;
        page.remove_member("tie-rod").await;
        let broken = front_changed(|corner| {
            corner.links.pop();
        });
        page.shows(Shown::of(&broken, Axle::Front)).await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        assert!(text.contains("No linkage"), "{text}");
        assert!(
            !browser
                .eval("document.querySelector('.print-sheet').innerHTML.includes('NaN')")
                .await
                .as_bool()
                .unwrap_or(true)
        );
        on_paper(&browser, false).await;
    });
}

#[test]
fn the_button_asks_the_browser_to_print() {
    browse(Look::default(), async |browser| {
        browser.run_before_pages("window.print = () => { window.asked = true }").await;
        Page::open(browser.clone()).await;
        browser.click("[data-do=print]").await;
        browser.wait_until("window.asked").await;
    });
}

/// Points, how the wheel is set, and what is worth a second look.
#[test]
fn the_paper_holds_the_points_and_what_is_worth_a_second_look() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.move_to("30", "0").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await.replace('\u{2212}', "-").replace('\u{a0}', " ");
        let corner = example().front.expect("a front corner");
        for (name, [x, y, z]) in [
            ("wheel centre", corner.wheel.centre),
            ("upper-arm, ball joint", corner.arms[0].ball_joint),
            ("tie-rod, inboard", corner.links[2].inboard),
        ] {
            let row = format!("|{name}|{x:.1}|{y:.1}|{z:.1}");
            assert!(text.contains(&row), "{row}: {text}");
        }
        let set = "Set there: loaded radius 312.0 mm, camber -0.80°, toe 0.05°; tie-rod steers";
        assert!(text.contains("Points at travel 0, rack 0, mm") && text.contains(set), "{text}");
        for note in [
            "Rates: spring 62 N/mm, anti-roll bar 28 N·m/°",
            "Car: wheelbase 2640 mm, mass 1480 kg, centre of gravity 465 mm up",
            "Shares in front: mass 44 %, braking 64 %, drive 30 %",
        ] {
            assert!(text.contains(note), "{note}: {text}");
        }
        assert!(!text.contains("second look"), "{text}");
        on_paper(&browser, false).await;
        page.tab("car").await;
        // A share whose hundredfold is no round number of a computer's.
        page.type_into("vehicle.brake_front_share", "0.57").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await.replace('\u{a0}', " ");
        assert!(text.contains("mass 44 %, braking 57 %, drive 30 %"), "{text}");
        on_paper(&browser, false).await;
        page.type_into("front.wheel.toe", "4").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        assert!(text.contains("Worth a second look: Toe is 4.0°"), "{text}");
        on_paper(&browser, false).await;
        browser.wait_until("!document.querySelector('.oddities').hidden").await;
        browser.click(".oddities summary").await;
        browser.click(".oddities li button:last-child").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        assert!(!text.contains("second look"), "it is meant: {text}");
    });
}

#[test]
fn a_right_corner_s_points_are_printed_on_the_right() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.front_right = document.front.as_ref().map(mirror_image);
        Page::open_link(browser.clone(), &encode(&document)).await;
        browser.click("[data-side=right]").await;
        on_paper(&browser, true).await;
        let text = written(&browser).await;
        assert!(text.contains("|wheel centre|0.0|\u{2212}790.0|312.0"), "{text}");
    });
}

/// With a load chosen the sheet can be handed over: which member carries what, beside the note.
#[test]
fn what_the_members_carry_and_the_note_are_printed() {
    browse(Look::default(), async |browser| {
        let mut document = example();
        document.note = "Measured on the lift. ".repeat(40);
        let page = Page::open_link(browser.clone(), &encode(&document)).await;
        on_paper(&browser, true).await;
        let plain = async || written(&browser).await.replace('\u{a0}', " ");
        let text = plain().await;
        assert!(
            !text.contains("Along the members") && text.contains("Note: Measured on the lift."),
            "{text}"
        );
        assert!(text.contains(" …"), "as much of it as there is room for: {text}");
        on_paper(&browser, false).await;
        page.tab("forces").await;
        let shown = browser.text("[data-force='links[1]']").await;
        let shown = shown.replace('\u{a0}', " ");
        on_paper(&browser, true).await;
        let text = plain().await;
        assert!(text.contains("Along the members") && text.contains("Joints: what each"), "{text}");
        assert!(text.contains(&format!("lower-forward|{shown}")), "{shown}: {text}");
        // Nothing runs over the frame.
        let over = "[...document.querySelectorAll('.print-sheet text')].filter(e => { const r = e.getBoundingClientRect(), \
                    f = document.querySelector('.print-sheet .frame').getBoundingClientRect(); \
                    return r.bottom > f.bottom + 1 || r.right > f.right + 1; }).map(e => e.textContent).join('|')";
        assert_eq!(browser.eval(over).await, "");
    });
}

/// What has left the frame since the sheet was fitted is not cut off on paper.
#[test]
fn the_paper_holds_what_stands_outside_the_sheets_frame() {
    browse(Look::default(), async |browser| {
        let page = Page::open(browser.clone()).await;
        page.move_to("40", "65").await;
        on_paper(&browser, true).await;
        let within = "[...document.querySelectorAll('.print-sheet .tyre')].map(tyre => { \
            const pane = tyre.closest('svg').getBoundingClientRect(), box = tyre.getBoundingClientRect(); \
            return box.left >= pane.left && box.right <= pane.right && box.top >= pane.top && box.bottom <= pane.bottom; })";
        let within = browser.eval(within).await;
        let all = within.as_array().expect("tyres in three views");
        assert!(all.len() >= 3 && all.iter().all(|tyre| *tyre == true), "{within}");
    });
}

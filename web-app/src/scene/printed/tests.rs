//! The printed sheet's shapes.

use geometry_core::Vec3;

use super::*;

fn frame(reach: f64) -> Frame {
    Frame::around([Vec3::new(reach, 400.0, 600.0)], &Vec3::new(0.0, 790.0, 312.0), 312.0)
}

fn printed() -> Printed {
    Printed {
        facts: Facts {
            title: "A <b> & “c”".into(),
            corner: "Front left corner: five links".into(),
            mirrored: false,
            state: "travel 0 mm, rack 0 mm".into(),
            date: "2026-11-25".into(),
            file: "a-b-c.json".into(),
            reference: None,
            trouble: Vec::new(),
            note: "measured on the lift".into(),
            measured: None,
        },
        rows: vec![
            Row::Heading("How does the wheel stand?".into()),
            Row::Reading {
                name: "Camber".into(),
                value: "−0.80°".into(),
                reference: None,
                words: "top leans in".into(),
            },
            Row::PointHeads("Where are its points?".into()),
            Row::Point { name: "wheel centre".into(), place: ["0.0", "790.0", "312.0"].map(Into::into) },
        ],
        curves: vec![Curve { reach: 100.0, title: "Camber, °".into(), ..Curve::default() }; 4],
        chosen: 4,
    }
}

/// Who chose more curves than there is room for is told.
#[test]
fn curves_without_room_are_counted() {
    let text =
        |chosen| markup(&Printed { chosen, ..printed() }, frame(300.0), Stance::DESIGN, |_, _| String::new());
    assert!(!text(4).contains("chosen curves"));
    assert!(text(8).contains("4 of 8 chosen curves have room here"));
    assert_eq!(text(8).matches("Camber, °").count(), 4);
}

#[test]
fn the_scale_is_a_standards_and_what_is_drawn_has_it() {
    for (reach, expected) in [(300.0, Some(10)), (700.0, Some(15)), (1500.0, Some(20)), (40_000.0, None)] {
        let (sheet, scale) = sheet(frame(reach));
        assert_eq!(scale, expected, "{reach}");
        if let Some(scale) = scale {
            let mm_of_paper = sheet.scale() / PIXELS;
            assert!((mm_of_paper * f64::from(scale) - 1.0).abs() < 1e-12);
        }
    }
}

#[test]
fn the_sheet_says_what_a_title_block_must_and_texts_stay_texts() {
    let text = markup(&printed(), frame(300.0), Stance::DESIGN, |_, _| String::new());
    for words in [
        "A &lt;b&gt; &amp; “c”",
        "1 : 10",
        "200\u{a0}mm",
        "First-angle projection",
        "1/1",
        "2026-11-25",
        "a-b-c.json",
        "licensed",
        "Where are its points?",
        "790.0",
    ] {
        assert!(text.contains(words), "{words}");
    }
    assert!(!text.contains("NaN") && !text.contains("inf"));
    let far = markup(&printed(), frame(40_000.0), Stance::DESIGN, |_, _| String::new());
    assert!(far.contains("not to scale") && !far.contains("1 : "));
}

/// Whatever else is to be said, the caution is said whole.
#[test]
fn no_trouble_cuts_the_caution_off() {
    let mut long = printed();
    long.facts.trouble = vec!["This is wrong with it, and quite a long sentence tells what. ".repeat(3); 4];
    long.facts.measured = Some("± beside a reading: what is uncertain of it.".repeat(3));
    let text = markup(&long, frame(300.0), Stance::DESIGN, |_, _| String::new());
    let written: Vec<&str> = text.split("<text").filter_map(|one| one.split(['>', '<']).nth(1)).collect();
    assert!(written.join(" ").contains("leave settings to licensed practice."), "{written:?}");
    assert!(written.join(" ").contains("This is wrong with it"), "{written:?}");
}

#[test]
fn a_long_title_is_squeezed_and_then_cut() {
    let mut long = printed();
    long.facts.title = "abc ".repeat(50);
    let text = markup(&long, frame(300.0), Stance::DESIGN, |_, _| String::new());
    assert!(text.contains("textLength") && text.contains('…'));
}

#[test]
fn a_text_is_broken_into_lines_between_words() {
    let lines = paper::lines("one two three four", 20.0, 2.4);
    assert!(lines.len() > 1);
    assert_eq!(lines.join(" "), "one two three four");
    assert_eq!(paper::lines("", 20.0, 2.4), [""]);
}

//! Tyre sizes against standard dimensions and a worked example.

use geometry_core::tyre::Size;

/// UN Regulation 30 / ETRTO design overall diameters. Relation and values from memory;
/// 205/65R15 → 647 seen at 2ndhandtyresales.com.au/blog/1425. To the whole millimetre,
/// which they are rounded to.
#[test]
fn overall_diameters_are_the_standards() {
    for (text, diameter) in [
        ("205/55R16", 632.0),
        ("195/65R15", 635.0),
        ("225/45R17", 634.0),
        ("175/65R14", 584.0),
        ("185/65R15", 621.0),
        ("205/65R15", 647.0),
    ] {
        let size = Size::read(text).expect("a size");
        assert!((size.diameter - diameter).abs() <= 1e-9, "{text}: {} is not {diameter}", size.diameter);
    }
}

/// P215/65R15: outer radius 330.25 mm, 0.96 of it loaded, 317.04 mm (page text seen at
/// mechguru.com, tire rolling circumference example; a rule of thumb). The page takes
/// 25.4 mm an inch and no rounding. Tolerance 1.1 mm.
#[test]
fn the_loaded_radius_is_the_rules() {
    let size = Size::read("P215/65R15").expect("a size");
    assert!((size.diameter / 2.0 - 330.25).abs() <= 1.1, "{}", size.diameter / 2.0);
    assert!((size.loaded_radius_estimate() - 317.04).abs() <= 1.1, "{}", size.loaded_radius_estimate());
}

/// ETRTO: a radial tyre rolls 3.05 overall diameters in one turn at 60 km/h. From memory.
/// To the whole millimetre.
#[test]
fn the_rolling_circumference_is_the_rules() {
    for (text, circumference) in [("205/55R16", 1928.0), ("195/65R15", 1937.0), ("175/65R14", 1781.0)] {
        let size = Size::read(text).expect("a size");
        let found = size.rolling_circumference_estimate();
        assert!((found - circumference).abs() <= 0.5, "{text}: {found} is not {circumference}");
    }
}

//! Labels that do not lie on each other, on joints or on lines, as far as there is room.
//!
//! Each text asks for its place; in the order of writing it gets the one nearby that costs least:
//! leaving the pane costs most, then covering a joint and lying on another text, then each pixel
//! of a line beneath it, then the way from the place asked for.

use super::{Anchor, Layer, Shape};
use crate::view::Rectangle;

/// Pixels that a letter of a label takes, about, and a line of letters.
pub const LETTER: [f64; 2] = [6.8, 15.0];
/// Pixels by which a label may move up and down: the lines of writing around its place.
const ROWS: [f64; 9] = [0.0, -15.0, 15.0, -30.0, 30.0, 45.0, -45.0, 60.0, -60.0];
/// Pixels between a label and the sides of its pane, and between it and top and foot.
const EDGE: [f64; 2] = [5.0, 1.0];
/// Pixels between a mark and a label that changes sides.
const SIDES: f64 = 16.0;
/// Pixels: a label that stands farther from what it belongs to has a line to there.
const NEAR: f64 = 32.0;
/// Cost of a pixel of overlap with a text, of one outside the pane, of a covered joint, of a
/// pixel of line, and of a pixel of way.
const COST: [f64; 5] = [40.0, 150.0, 60.0, 1.0, 0.6];
/// Texts with this in their class stand where they are put.
const FIXED: &str = "legend";

/// Moves the texts of a view. Those of the last layer, the corner itself, choose first. `taken` is
/// where something is written already. Gives a line for each text that may move, from what it belongs to to where it
/// stands; one without points where that is near, or where it belongs to nothing in sight. `letters` is how large they are, as
/// the sheet says.
pub fn settle(layers: &mut [Layer], pane: &Rectangle, taken: &[Rectangle], letters: f64) -> Layer {
    let mut leaders = Vec::new();
    let [aside, above] = EDGE;
    let pane = &Rectangle {
        left: pane.left + aside,
        top: pane.top + above,
        right: pane.right - aside,
        bottom: pane.bottom - above,
    };
    let mut taken = taken.to_vec();
    for shape in layers.iter().flat_map(|layer| &layer.shapes) {
        if let Shape::Text { class, at, text, anchor, .. } = shape
            && class.contains(FIXED)
        {
            taken.push(extent(*at, text, *anchor, letters));
        }
    }
    for layer in (0..layers.len()).rev() {
        for i in 0..layers[layer].shapes.len() {
            let Shape::Text { class, at, text, anchor, of } = &layers[layer].shapes[i] else { continue };
            if class.contains(FIXED) {
                continue;
            }
            let wanted = Wanted { at: *at, text, anchor: *anchor, letters };
            let place = place(&wanted, layers, pane, &taken);
            let label = extent(place, text, *anchor, letters);
            leaders.push(leader(*of, &label));
            taken.push(label);
            if let Shape::Text { at, .. } = &mut layers[layer].shapes[i] {
                *at = place;
            }
        }
    }
    Layer { class: Some("leaders"), shapes: leaders }
}

/// The line to a label from what it belongs to.
fn leader(of: Option<[f64; 2]>, label: &Rectangle) -> Shape {
    let line =
        of.map(|of| [of, [of[0].clamp(label.left, label.right), of[1].clamp(label.top, label.bottom)]]);
    let far = line.filter(|[of, end]| (end[0] - of[0]).hypot(end[1] - of[1]) > NEAR);
    Shape::Line { class: "leader", points: far.map(Vec::from).unwrap_or_default(), closed: false }
}

/// A text and the place that it asks for.
struct Wanted<'a> {
    at: [f64; 2],
    text: &'a str,
    anchor: Anchor,
    letters: f64,
}

/// The place near the one asked for that costs least.
fn place(wanted: &Wanted<'_>, layers: &[Layer], pane: &Rectangle, taken: &[Rectangle]) -> [f64; 2] {
    let Wanted { at: asked, text, anchor, letters } = *wanted;
    let width = letters * width(text);
    let flipped = match anchor {
        Anchor::Start => -(width + SIDES),
        Anchor::Middle => 0.0,
        Anchor::End => width + SIDES,
    };
    let mut best = (f64::INFINITY, asked);
    for dx in [0.0, flipped] {
        for dy in ROWS.map(|row| letters * row) {
            let mut at = [asked[0] + dx, asked[1] + dy];
            let mut rectangle = extent(at, text, anchor, letters);
            // Into the pane, where that is large enough.
            let inward = [
                inward([rectangle.left, rectangle.right], [pane.left, pane.right]),
                inward([rectangle.top, rectangle.bottom], [pane.top, pane.bottom]),
            ];
            at = [at[0] + inward[0], at[1] + inward[1]];
            rectangle = extent(at, text, anchor, letters);
            let way = COST[4] * (dx.abs().min(60.0) + dy.abs() + inward[0].abs() + inward[1].abs());
            // Most labels have room where they ask for it, and no other place is as near.
            if way < best.0 {
                let cost = way + cost(&rectangle, layers, pane, taken, best.0 - way);
                if cost < best.0 {
                    best = (cost, at);
                }
            }
        }
    }
    best.1
}

/// By how much what reaches from here to there has to move to lie within bounds; not so far that it would leave them
/// on the other side.
fn inward([from, to]: [f64; 2], [least, most]: [f64; 2]) -> f64 {
    (least - from).max(0.0).min((most - to).max(0.0)) - (to - most).max(0.0).min((from - least).max(0.0))
}

/// What a place costs; where it costs `limit` or more, some number from there on.
fn cost(label: &Rectangle, layers: &[Layer], pane: &Rectangle, taken: &[Rectangle], limit: f64) -> f64 {
    let over = taken.iter().map(|other| overlap(label, other)).sum::<f64>();
    let beyond = (pane.left - label.left).max(0.0)
        + (label.right - pane.right).max(0.0)
        + (pane.top - label.top).max(0.0)
        + (label.bottom - pane.bottom).max(0.0);
    let mut cost = COST[0] * over + COST[1] * beyond;
    for shape in layers.iter().flat_map(|layer| &layer.shapes) {
        if cost >= limit {
            break;
        }
        match shape {
            Shape::Line { points, closed, .. } => {
                let closing = points.last().zip(points.first()).filter(|_| *closed);
                let sides =
                    points.windows(2).map(|two| (two[0], two[1])).chain(closing.map(|(a, b)| (*a, *b)));
                for (a, b) in sides {
                    if let Some((a, b)) = label.clip(a, b) {
                        cost += COST[3] * (b[0] - a[0]).hypot(b[1] - a[1]);
                    }
                }
            }
            Shape::Circle { at: [x, y], radius, .. } => {
                let wide = Rectangle {
                    left: label.left - radius,
                    top: label.top - radius,
                    right: label.right + radius,
                    bottom: label.bottom + radius,
                };
                cost += if *radius < 12.0 && wide.holds([*x, *y]) { COST[2] } else { 0.0 };
            }
            Shape::Text { .. } => {}
        }
    }
    cost
}

/// Pixels of a text, about, where the page is not in large type.
#[must_use]
pub fn width(text: &str) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a label has a few dozen letters")]
    let letters = text.chars().count() as f64;
    LETTER[0] * letters
}

/// Where a text lies whose foot stands at a place, in letters so many times as large.
#[must_use]
pub fn extent([x, y]: [f64; 2], text: &str, anchor: Anchor, letters: f64) -> Rectangle {
    let width = letters * width(text);
    let left = match anchor {
        Anchor::Start => x,
        Anchor::Middle => x - width / 2.0,
        Anchor::End => x - width,
    };
    let line = letters * LETTER[1];
    Rectangle { left, top: y - 0.75 * line, right: left + width, bottom: y + 0.25 * line }
}

/// The root of the area that two rectangles share, in pixels.
fn overlap(a: &Rectangle, b: &Rectangle) -> f64 {
    let wide = a.right.min(b.right) - a.left.max(b.left);
    let high = a.bottom.min(b.bottom) - a.top.max(b.top);
    if wide > 0.0 && high > 0.0 { (wide * high).sqrt() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PANE: Rectangle = Rectangle { left: 0.0, top: 0.0, right: 400.0, bottom: 300.0 };

    fn text(x: f64, y: f64, words: &str) -> Shape {
        Shape::Text { class: "note", at: [x, y], text: words.into(), anchor: Anchor::Start, of: Some([x, y]) }
    }

    /// Moves texts that stand in one layer.
    fn settle(shapes: &mut Vec<Shape>, pane: &Rectangle, taken: &[Rectangle]) {
        let mut layers = [Layer { class: None, shapes: std::mem::take(shapes) }];
        super::settle(&mut layers, pane, taken, 1.0);
        let [Layer { shapes: settled, .. }] = layers;
        *shapes = settled;
    }

    fn extents(shapes: &[Shape]) -> Vec<Rectangle> {
        let of = |shape: &Shape| match shape {
            Shape::Text { at, text, anchor, .. } => Some(extent(*at, text, *anchor, 1.0)),
            _ => None,
        };
        shapes.iter().filter_map(of).collect()
    }

    #[test]
    fn a_label_with_room_stays_where_it_asked_to_be() {
        let mut shapes = vec![text(100.0, 100.0, "roll centre")];
        settle(&mut shapes, &PANE, &[]);
        assert_eq!(shapes, [text(100.0, 100.0, "roll centre")]);
    }

    #[test]
    fn labels_in_one_place_part() {
        let mut shapes: Vec<Shape> =
            (0..6).map(|i| text(150.0 + f64::from(i), 150.0, "axis, 44 mm")).collect();
        settle(&mut shapes, &PANE, &[]);
        let found = extents(&shapes);
        for (i, a) in found.iter().enumerate() {
            for b in &found[i + 1..] {
                assert!(overlap(a, b) == 0.0, "{a:?} lies on {b:?}");
            }
        }
    }

    #[test]
    fn labels_of_several_layers_part_and_the_last_layer_s_stay() {
        let layer = |class| Layer { class, shapes: vec![text(150.0, 150.0, "bump, 80 mm")] };
        let mut layers = [layer(Some("ghost")), layer(Some("right")), layer(None)];
        super::settle(&mut layers, &PANE, &[], 1.0);
        let found: Vec<_> = layers.iter().flat_map(|layer| extents(&layer.shapes)).collect();
        assert_eq!(layers[2], layer(None));
        for (i, a) in found.iter().enumerate() {
            for b in &found[i + 1..] {
                assert!(overlap(a, b) == 0.0, "{a:?} lies on {b:?}");
            }
        }
    }

    #[test]
    fn a_label_leaves_a_line_a_joint_and_what_is_written() {
        let ground =
            Shape::Line { class: "ground", points: vec![[0.0, 100.0], [400.0, 100.0]], closed: false };
        let joint = Shape::Circle { class: "joint", at: [120.0, 80.0], radius: 5.0 };
        let name = Rectangle { left: 90.0, top: 105.0, right: 250.0, bottom: 125.0 };
        let mut shapes = vec![ground.clone(), joint.clone(), text(100.0, 103.0, "73.0 mm")];
        settle(&mut shapes, &PANE, &[name]);
        let label = extents(&shapes)[0];
        assert!(label.clip([0.0, 100.0], [400.0, 100.0]).is_none(), "{label:?} lies on the ground");
        assert!(!label.holds([120.0, 80.0]) && overlap(&label, &name) == 0.0, "{label:?}");
        assert_eq!(shapes[..2], [ground, joint], "nothing else moves");
    }

    #[test]
    fn only_a_label_that_went_far_has_a_line_to_its_place() {
        let mut layers = [Layer { class: None, shapes: vec![text(150.0, 150.0, "roll centre"); 7] }];
        let leaders = super::settle(&mut layers, &PANE, &[], 1.0);
        assert_eq!(leaders.shapes.len(), 7);
        let mut far = 0;
        for (leader, label) in leaders.shapes.iter().zip(extents(&layers[0].shapes)) {
            let Shape::Line { points, .. } = leader else { panic!("{leader:?}") };
            match points[..] {
                [] => assert!(label.top - NEAR <= 150.0 && 150.0 <= label.bottom + NEAR, "{label:?}"),
                [asked, end] => {
                    far += 1;
                    assert_eq!(asked, [150.0, 150.0]);
                    assert!(label.holds(end), "{label:?} does not begin at {end:?}");
                    assert!((end[0] - asked[0]).hypot(end[1] - asked[1]) > NEAR);
                }
                _ => panic!("{points:?}"),
            }
        }
        // Five rows stand around the place; the others had to go farther.
        assert_eq!(far, 2, "{:?}", extents(&layers[0].shapes));
    }

    #[test]
    fn a_label_at_the_foot_of_its_pane_is_not_cut_off() {
        let mut shapes = vec![text(100.0, 298.0, "steering axis")];
        settle(&mut shapes, &PANE, &[]);
        let found = extents(&shapes)[0];
        assert!(found.bottom <= PANE.bottom && found.bottom > PANE.bottom - 4.0, "{found:?}");
    }

    #[test]
    fn a_label_at_the_edge_comes_in() {
        let mut shapes = vec![text(380.0, 100.0, "side-view centre")];
        settle(&mut shapes, &PANE, &[]);
        assert!(extents(&shapes)[0].right <= PANE.right);
    }

    #[test]
    fn a_legend_stands_and_others_leave_it() {
        let legend = Shape::Text {
            class: "note legend",
            at: [50.0, 60.0],
            text: "exact 73.0 mm".into(),
            anchor: Anchor::Start,
            of: None,
        };
        let mut shapes = vec![text(52.0, 61.0, "roll centre"), legend.clone()];
        settle(&mut shapes, &PANE, &[]);
        assert_eq!(shapes[1], legend);
        let found = extents(&shapes);
        assert!(overlap(&found[0], &found[1]) == 0.0);
    }
}

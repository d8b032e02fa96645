//! The shapes that stand in a group of the drawing. While a point is dragged most of them stay
//! as they are: only what changed is written, so that the browser lays out and paints only that.

use web_sys::Element;

use crate::scene::{
    Layer,
    markup::{Change, changes, markup_of_layers, same_kind},
};

/// What stands in a group, and the elements that show it.
#[derive(Debug, Default)]
pub struct Drawn {
    layers: Vec<Layer>,
    /// One for each shape, in their order.
    elements: Vec<Element>,
}

impl Drawn {
    /// Shows layers in the group, which is the same at every call.
    pub fn show(&mut self, group: &Element, layers: Vec<Layer>) {
        if !self.has_kinds_of(&layers) {
            group.set_inner_html(&markup_of_layers(&layers));
            self.elements = elements_of(group, &layers);
            self.layers = layers;
            return;
        }
        let before = self.layers.iter().flat_map(|layer| &layer.shapes);
        let after = layers.iter().flat_map(|layer| &layer.shapes);
        for ((before, after), element) in before.zip(after).zip(&self.elements) {
            changes(before, after, &mut |change| match change {
                // A name that the page itself gives is always a good one.
                Change::Attribute(name, value) => element.set_attribute(name, value).unwrap_or_default(),
                Change::Words(words) => write(element, words),
            });
        }
        self.layers = layers;
    }

    /// Whether the elements that stand can show these layers.
    fn has_kinds_of(&self, layers: &[Layer]) -> bool {
        let same = |(a, b): (&Layer, &Layer)| {
            a.class == b.class
                && a.shapes.len() == b.shapes.len()
                && a.shapes.iter().zip(&b.shapes).all(|(a, b)| same_kind(a, b))
        };
        let shapes = self.layers.iter().map(|layer| layer.shapes.len()).sum::<usize>();
        self.elements.len() == shapes
            && self.layers.len() == layers.len()
            && self.layers.iter().zip(layers).all(same)
    }
}

/// Writes into the text that stands: another one would be laid out from the start.
fn write(element: &Element, words: &str) {
    match element.first_child() {
        Some(text) => text.set_node_value(Some(words)),
        None => element.set_text_content(Some(words)),
    }
}

/// The elements of the shapes just written into a group.
fn elements_of(group: &Element, layers: &[Layer]) -> Vec<Element> {
    let mut elements = Vec::new();
    let mut next = group.first_element_child();
    for layer in layers {
        if layer.class.is_some() {
            let Some(inner) = next.take() else { break };
            next = inner.next_element_sibling();
            let mut shape = inner.first_element_child();
            while let Some(element) = shape.take() {
                shape = element.next_element_sibling();
                elements.push(element);
            }
        } else {
            for _ in &layer.shapes {
                let Some(element) = next.take() else { break };
                next = element.next_element_sibling();
                elements.push(element);
            }
        }
    }
    elements
}

//! Numbers in the page that are written straight into their places. While a point is dragged dozens change with
//! every move; an effect of its own for each would cost more than all that is computed.

use leptos::{html, prelude::*};
use wasm_bindgen::JsValue;
use web_sys::{HtmlElement, Node};

use super::sight::Sight;

/// A number with its unit, or what stands in its place; copied freely, gone with the component that made it.
///
/// Its element carries the number in full precision as the property `exact`, for programs and tests: the text is
/// rounded for people.
#[derive(Debug, Clone, Copy)]
pub struct Live(StoredValue<Shown, LocalStorage>);

#[derive(Debug, Default)]
struct Shown {
    text: String,
    /// How many letters the style sheet knows of, where it asks for that.
    letters: Option<usize>,
    exact: Option<f64>,
    place: Option<Place>,
    /// Where it stands, if that may be out of sight.
    sight: Option<Sight>,
    /// Whether another text stands in the place, until it is of use to write this one.
    is_behind: bool,
}

/// An element, and the text in it.
#[derive(Debug)]
struct Place {
    element: HtmlElement,
    text: Node,
}

impl Live {
    /// Nothing yet, and nowhere.
    #[must_use]
    pub fn new() -> Self {
        Self(StoredValue::new_local(Shown::default()))
    }

    /// The same, telling the style sheet as `--letters` how many it shows.
    #[must_use]
    pub fn counting() -> Self {
        Self(StoredValue::new_local(Shown { letters: Some(0), ..Shown::default() }))
    }

    /// The same, standing where it may be out of sight.
    #[must_use]
    pub fn within(self, sight: Sight) -> Self {
        self.0.update_value(|shown| shown.sight = Some(sight));
        self
    }

    /// Whether it is still there.
    #[must_use]
    pub fn lives(self) -> bool {
        self.0.try_with_value(|_| ()).is_some()
    }

    /// Shows a number that reads as this text.
    pub fn show(self, exact: Option<f64>, text: &str) {
        // Gone with its component: nothing to show it in.
        let _ = self.0.try_update_value(|shown| {
            if shown.exact != exact {
                shown.exact = exact;
                shown.write_exact();
            }
            if shown.text != text {
                text.clone_into(&mut shown.text);
                if shown.is_behind {
                    return;
                }
                shown.is_behind = shown.sight.is_some_and(|sight| !sight.takes(self));
                if !shown.is_behind {
                    shown.write_text();
                }
            }
        });
    }

    /// Writes what has waited.
    pub(super) fn write(self) {
        // As above.
        let _ = self.0.try_update_value(|shown| {
            if std::mem::take(&mut shown.is_behind) {
                shown.write_text();
            }
        });
    }

    /// The element in which it stands, from when that is in the page.
    #[must_use]
    pub fn place(self) -> NodeRef<html::Span> {
        let place = NodeRef::<html::Span>::new();
        Effect::new(move |_| {
            if let Some(element) = place.get() {
                let element: HtmlElement = element.into();
                // Empty as long as its component is being put together; a text to write into from now on.
                element.set_text_content(Some("\u{a0}"));
                let Some(text) = element.first_child() else { return };
                self.0.try_update_value(|shown| {
                    shown.place = Some(Place { element, text });
                    shown.letters = shown.letters.map(|_| 0);
                    shown.write_exact();
                    shown.write_text();
                });
            }
        });
        place
    }
}

impl Default for Live {
    fn default() -> Self {
        Self::new()
    }
}

impl Shown {
    fn write_text(&mut self) {
        let Some(place) = &self.place else { return };
        place.text.set_node_value(Some(&self.text));
        let letters = self.text.chars().count();
        if self.letters.is_some_and(|told| told != letters) {
            self.letters = Some(letters);
            // A number always is a good value.
            place.element.style().set_property("--letters", &letters.to_string()).unwrap_or_default();
        }
    }

    fn write_exact(&self) {
        thread_local! {
            static NAME: JsValue = JsValue::from_str("exact");
        }
        if let Some(place) = &self.place {
            let exact = self.exact.map_or(JsValue::NULL, JsValue::from_f64);
            // An element takes any property.
            NAME.with(|name| js_sys::Reflect::set(&place.element, name, &exact)).unwrap_or_default();
        }
    }
}

//! Where a pointer is, with the fractions of a pixel that browsers tell.

use wasm_bindgen::{JsCast, prelude::wasm_bindgen};
use web_sys::MouseEvent;

#[wasm_bindgen]
extern "C" {
    /// An event of a pointer, mouse or wheel: web-sys cuts its coordinates to whole pixels, of which one may be several
    /// millimetres on the sheet.
    #[wasm_bindgen(extends = MouseEvent)]
    type Precise;

    #[wasm_bindgen(method, getter, js_name = clientX)]
    fn x(this: &Precise) -> f64;

    #[wasm_bindgen(method, getter, js_name = clientY)]
    fn y(this: &Precise) -> f64;
}

/// CSS pixels of the window, to the right and down.
pub fn place(event: &MouseEvent) -> [f64; 2] {
    let precise: &Precise = event.unchecked_ref();
    [precise.x(), precise.y()]
}

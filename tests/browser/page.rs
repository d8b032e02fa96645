//! The page as a person uses it, so that tests read as intentions.

use cornerwise_tests::browser::Browser;
use serde_json::Value;

/// The open page.
pub(crate) struct Page {
    browser: Browser,
}

impl Page {
    /// Opens the page as it is for someone who has never been there.
    pub(crate) async fn open(browser: Browser) -> Self {
        browser.open_file("").await;
        Self { browser }
    }

    /// Milliseconds from asking for the page to its first drawing.
    pub(crate) async fn start_time(&self) -> f64 {
        self.browser.eval("Number(document.body.dataset.started)").await.as_f64().unwrap_or(f64::NAN)
    }

    /// Whether the page itself is there, and not just the shell around it.
    pub(crate) async fn has_content(&self) -> bool {
        let shown = self.browser.eval("document.getElementById('app').childElementCount > 0");
        let waiting = self.browser.eval("!document.getElementById('status').hidden");
        shown.await == Value::Bool(true) && waiting.await == Value::Bool(false)
    }

    /// How many things the page has asked for beside itself.
    pub(crate) async fn requests(&self) -> u64 {
        self.browser
            .eval("performance.getEntriesByType('resource').length")
            .await
            .as_u64()
            .unwrap_or(u64::MAX)
    }

    /// Whether the browser stops the page from reaching anything, even this machine.
    pub(crate) async fn is_refused_a_request(&self) -> bool {
        self.browser.eval("(window.refused = null, fetch('http://127.0.0.1:9/').then(() => refused = false, () => refused = true), 0)").await;
        self.browser.wait_until("window.refused !== null").await;
        self.browser.eval("window.refused").await == Value::Bool(true)
    }

    /// How light the paper is, from 0 to 765.
    pub(crate) async fn brightness(&self) -> i64 {
        let sum = "getComputedStyle(document.body).backgroundColor.match(/\\d+/g).slice(0, 3).reduce((a, b) => a + +b, 0)";
        self.browser.eval(sum).await.as_i64().unwrap_or(-1)
    }

    /// Types a wheel travel in mm into its field, digits as a person writes them.
    pub(crate) async fn type_travel(&self, text: &str) {
        self.browser.type_into(TRAVEL_FIELD, text).await;
    }

    /// What stands in the field of the wheel travel.
    pub(crate) async fn travel(&self) -> String {
        self.browser.value(TRAVEL_FIELD).await
    }

    /// Presses keys on the slider of the wheel travel.
    pub(crate) async fn press_on_travel(&self, keys: &str) {
        self.browser.press("[data-slider=travel]", keys).await;
    }

    /// Drags a point of the front view by CSS pixels to the right and down.
    pub(crate) async fn drag_in_front_view(&self, point: &str, right: i32, down: i32) {
        self.browser.drag(&handle(point), right, down).await;
    }

    /// Where a point of the front view stands on the sheet, in CSS pixels.
    pub(crate) async fn place_in_front_view(&self, point: &str) -> (f64, f64) {
        let number = async |name| {
            let text = self.browser.attribute(&handle(point), name).await;
            text.and_then(|text| text.parse().ok()).unwrap_or(f64::NAN)
        };
        (number("cx").await, number("cy").await)
    }

    /// Takes the last change back.
    pub(crate) async fn undo(&self) {
        self.browser.click("[data-do=undo]").await;
    }
}

const TRAVEL_FIELD: &str = "[data-field=travel]";

fn handle(point: &str) -> String {
    format!("[data-handle=\"front:{point}\"]")
}

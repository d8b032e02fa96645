//! A real browser that opens the built page, one for each test.
//!
//! A test says what it wants and what it does; [`browse`] starts the browser, closes it whatever happens, and fails
//! the test for any error in the browser's console that the test did not take by [`Browser::console_errors`].
//!
//! The variable `CORNERWISE_BROWSER` says which browser: `chromium`, which it is when nothing is said, or `firefox`.
//! Every test runs in both. Where the drivers have no common word for something, Chromium is asked by its developer
//! tools and Firefox by `WebDriver BiDi` and its own settings.

use std::future::Future;
use std::panic::{AssertUnwindSafe, resume_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use fantoccini::actions::{
    Actions, InputSource, KeyAction, KeyActions, MOUSE_BUTTON_LEFT, MouseActions, PointerAction, TouchActions,
};
use fantoccini::elements::Element;
use fantoccini::key::Key;
use fantoccini::wd::{
    PrintConfigurationBuilder, PrintMargins, PrintOrientation, PrintSize, WebDriverCompatibleCommand,
};
use fantoccini::{Client, ClientBuilder, Locator};
use futures_util::FutureExt;
use http::Method;
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tokio::sync::{Mutex, Semaphore};
use url::{ParseError, Url};

use crate::bidi::Bidi;
use crate::driver::Driver;
pub use crate::driver::Program;

/// How long a whole test may take.
const TEST_LIMIT: Duration = Duration::from_mins(2);
/// How long a test waits for something to appear.
const WAIT_LIMIT: Duration = Duration::from_secs(20);
/// How many browsers run at the same time at most.
static BROWSERS: Semaphore = Semaphore::const_new(4);

/// What the page is shown on.
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// Width of the page in CSS pixels.
    pub width: u32,
    /// Height of the page in CSS pixels.
    pub height: u32,
    /// Whether the system asks for dark colours.
    pub dark: bool,
}

impl Default for Look {
    /// A laptop, light.
    fn default() -> Self {
        Self { width: 1440, height: 900, dark: false }
    }
}

/// What the system around the page asks for, and whether the page is laid out for paper.
#[derive(Debug, Clone, Copy, Default)]
pub struct Media {
    /// Whether dark colours are asked for.
    pub dark: bool,
    /// Whether less motion is asked for.
    pub less_motion: bool,
    /// Whether the page is laid out for paper, as before printing.
    pub paper: bool,
}

/// Runs one test in a browser of its own, the one that `CORNERWISE_BROWSER` names.
pub fn browse<T: Future<Output = ()>>(look: Look, test: impl FnOnce(Browser) -> T) {
    browse_in(Program::chosen(), look, test);
}

/// Runs one test in a browser of its own, whichever is chosen: for what is compared from run to run.
pub fn browse_in<T: Future<Output = ()>>(program: Program, look: Look, test: impl FnOnce(Browser) -> T) {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    runtime.block_on(async {
        let _turn = BROWSERS.acquire().await.expect("never closed");
        let driver = Driver::start(program).await;
        let browser = Browser::connect(program, &driver, look).await;
        let inside = async {
            browser.show_as(look).await;
            test(browser.clone()).await;
            let errors = browser.console_errors().await;
            assert!(errors.is_empty(), "the browser's console holds errors:\n{}", errors.join("\n"));
        };
        let outcome = AssertUnwindSafe(tokio::time::timeout(TEST_LIMIT, inside)).catch_unwind().await;
        // A browser that has crashed is closed already; what the test found matters more.
        let _ = browser.client.close().await;
        drop(driver);
        match outcome {
            Ok(Ok(())) => {}
            Ok(Err(_)) => panic!("the test took longer than {TEST_LIMIT:?}"),
            Err(panic) => resume_unwind(panic),
        }
    });
}

/// A browser with one page. Elements are named by CSS selectors; what is not there fails the test.
#[derive(Debug, Clone)]
pub struct Browser {
    client: Client,
    beyond: Beyond,
    downloads: PathBuf,
}

/// By what is asked for that for which the drivers have no common word.
#[derive(Debug, Clone)]
enum Beyond {
    /// Chromium's developer tools and its log, by the driver itself.
    Chromium,
    /// Firefox: `WebDriver BiDi`, and its settings by the driver itself.
    Firefox(Arc<Mutex<Bidi>>),
}

impl Browser {
    async fn connect(program: Program, driver: &Driver, look: Look) -> Self {
        let mut builder = ClientBuilder::new(HttpConnector::new());
        let connected = builder
            .capabilities(driver.capabilities(look.width, look.height))
            .connect(&driver.address())
            .await;
        let client = connected.unwrap_or_else(|error| panic!("the browser did not start: {error}"));
        let beyond = match program {
            Program::Chromium => Beyond::Chromium,
            Program::Firefox => {
                let address = client.capabilities().and_then(|all| all.get("webSocketUrl")?.as_str());
                let page = client.window().await.expect("a window");
                let bidi = Bidi::connect(address.expect("a web socket"), page.into()).await;
                Beyond::Firefox(Arc::new(Mutex::new(bidi)))
            }
        };
        Self { client, beyond, downloads: driver.downloads() }
    }

    /// Shows the page in another size or with other system colours.
    pub async fn show_as(&self, look: Look) {
        self.resize(look.width, look.height, 1.0).await;
        self.show_in(Media { dark: look.dark, ..Media::default() }).await;
    }

    /// Shows the page in another size, in CSS pixels, on a screen that has so many pixels in each of them.
    pub async fn resize(&self, width: u32, height: u32, density: f64) {
        match &self.beyond {
            Beyond::Chromium => {
                let size = json!({ "width": width, "height": height, "deviceScaleFactor": density, "mobile": false });
                self.devtools("Emulation.setDeviceMetricsOverride", size).await;
            }
            Beyond::Firefox(bidi) => bidi.lock().await.size(width, height, density).await,
        }
    }

    /// Shows the page as another system or the printer would ask for it.
    pub async fn show_in(&self, media: Media) {
        let Media { dark, less_motion, paper } = media;
        match self.beyond {
            Beyond::Chromium => {
                let scheme = if dark { "dark" } else { "light" };
                let motion = if less_motion { "reduce" } else { "no-preference" };
                let features = json!([
                    { "name": "prefers-color-scheme", "value": scheme },
                    { "name": "prefers-reduced-motion", "value": motion },
                ]);
                let medium = if paper { "print" } else { "" };
                let media = json!({ "media": medium, "features": features });
                self.devtools("Emulation.setEmulatedMedia", media).await;
            }
            Beyond::Firefox(_) => {
                let settings = format!(
                    "gBrowser.selectedBrowser.browsingContext.mediumOverride = {paper} ? 'print' : ''; \
                     Services.prefs.setIntPref('layout.css.prefers-color-scheme.content-override', {dark} ? 0 : 1); \
                     Services.prefs.setIntPref('ui.prefersReducedMotion', {less_motion} ? 1 : 0);"
                );
                self.command("moz/context", json!({ "context": "chrome" })).await;
                let set = self.client.execute(&settings, Vec::new()).await;
                set.unwrap_or_else(|error| panic!("`{settings}` failed: {error}"));
                self.command("moz/context", json!({ "context": "content" })).await;
            }
        }
        // It reaches the page a little later. Paper is light whatever is asked for.
        let asks = |query: &str, wanted: bool| format!("matchMedia('{query}').matches === {wanted}");
        let reached = [
            asks("print", paper),
            asks("(prefers-reduced-motion: reduce)", less_motion),
            format!("({paper} || {})", asks("(prefers-color-scheme: dark)", dark)),
        ];
        self.wait_until(&reached.join(" && ")).await;
    }

    /// Prints the page on a paper of that size in centimetres, laid across, without margins; the PDF.
    pub async fn print(&self, width: f64, height: f64) -> Vec<u8> {
        let paper = PrintConfigurationBuilder::default()
            .orientation(PrintOrientation::Landscape)
            .background(true)
            .size(PrintSize { width, height })
            .margins(PrintMargins { top: 0.0, bottom: 0.0, left: 0.0, right: 0.0 })
            .build();
        let pdf = self.client.print(paper.expect("a paper")).await;
        pdf.unwrap_or_else(|error| panic!("the page cannot be printed: {error}"))
    }

    /// Opens the built page as a file, with a fragment (what follows `#`) unless it is empty, and waits until it has
    /// started.
    pub async fn open_file(&self, fragment: &str) {
        self.load_file(fragment).await;
        self.started().await;
    }

    /// Opens the built page like [`Browser::open_file`], but does not expect it to start.
    pub async fn load_file(&self, fragment: &str) {
        let mut url = Url::from_file_path(crate::page_file()).expect("an absolute path");
        if !fragment.is_empty() {
            url.set_fragment(Some(fragment));
        }
        // The same file with another fragment would not be loaded anew. From another file, for one process shows all
        // files: where Firefox leaves for a page of another process, the page left may be told, and keep its work,
        // only after the next has read what is kept.
        let empty = Url::from_file_path(concat!(env!("CARGO_MANIFEST_DIR"), "/src/empty.html"));
        self.client.goto(empty.expect("an absolute path").as_str()).await.expect("an empty page");
        self.client.goto(url.as_str()).await.unwrap_or_else(|error| panic!("{url} did not open: {error}"));
    }

    /// Runs a script in every page that is opened from now on, before the page's own: to take something away.
    pub async fn run_before_pages(&self, script: &str) {
        match &self.beyond {
            Beyond::Chromium => {
                self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({ "source": script })).await;
            }
            Beyond::Firefox(bidi) => bidi.lock().await.run_before_pages(script).await,
        }
    }

    /// Reloads the page and waits until it has started again.
    pub async fn reload(&self) {
        self.client.refresh().await.expect("a reload");
        self.started().await;
    }

    async fn started(&self) {
        self.wait_until("document.body.dataset.started || 'failed' in document.body.dataset").await;
        let failed = self.eval("'failed' in document.body.dataset && document.body.innerText").await;
        assert!(failed == Value::Bool(false), "the page did not start: {failed}");
    }

    /// The value of a JavaScript expression.
    pub async fn eval(&self, expression: &str) -> Value {
        let result = match &self.beyond {
            Beyond::Chromium => {
                let result = self.client.execute(&format!("return ({expression});"), Vec::new()).await;
                result.map_err(|error| error.to_string())
            }
            Beyond::Firefox(bidi) => bidi.lock().await.evaluate(expression).await,
        };
        result.unwrap_or_else(|why| panic!("`{expression}` failed: {why}"))
    }

    /// Waits until a JavaScript expression is true.
    pub async fn wait_until(&self, expression: &str) {
        let begin = Instant::now();
        while self.eval(&format!("!!({expression})")).await != Value::Bool(true) {
            assert!(begin.elapsed() < WAIT_LIMIT, "`{expression}` did not become true");
            tokio::time::sleep(Duration::from_millis(20)).await;
        }
    }

    /// The text that an element shows.
    pub async fn text(&self, css: &str) -> String {
        let text = self.element(css).await.text().await;
        text.unwrap_or_else(|error| panic!("`{css}` has no text: {error}"))
    }

    /// An attribute of an element, if it has that attribute.
    pub async fn attribute(&self, css: &str, name: &str) -> Option<String> {
        let value = self.element(css).await.attr(name).await;
        value.unwrap_or_else(|error| panic!("`{css}` has no attributes: {error}"))
    }

    /// What stands in a field now, which its attribute `value` does not tell.
    pub async fn value(&self, css: &str) -> String {
        let value = self.element(css).await.prop("value").await;
        value.ok().flatten().unwrap_or_else(|| panic!("`{css}` is no field"))
    }

    /// How many elements there are.
    pub async fn count(&self, css: &str) -> usize {
        self.client.find_all(Locator::Css(css)).await.map_or(0, |elements| elements.len())
    }

    /// Clicks an element; where something stands over it, as the drawing of a phone does, scrolled free first.
    pub async fn click(&self, css: &str) {
        // The drivers scroll to what is out of sight, not to what is covered.
        let free = "(e => { if (!e) return; const r = e.getBoundingClientRect(); \
            const hit = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2); \
            if (hit && !e.contains(hit) && !hit.contains(e)) e.scrollIntoView({block: 'center'}); })";
        self.eval(&format!("{free}(document.querySelector({}))", Value::from(css))).await;
        let clicked = self.element(css).await.click().await;
        clicked.unwrap_or_else(|error| panic!("`{css}` cannot be clicked: {error}"));
    }

    /// Replaces a field's text by other text, key by key, and leaves the field. For a file field the text is a path.
    pub async fn type_into(&self, css: &str, text: &str) {
        self.type_and_stay(css, text).await;
        self.leave().await;
    }

    /// Replaces a field's text like [`Browser::type_into`], but stays in the field.
    pub async fn type_and_stay(&self, css: &str, text: &str) {
        let field = self.element(css).await;
        if self.attribute(css, "type").await.as_deref() != Some("file") {
            self.press(css, "Control+a").await;
        }
        let typed = field.send_keys(text).await;
        typed.unwrap_or_else(|error| panic!("nothing can be typed into `{css}`: {error}"));
    }

    /// Replaces a field's text at one stroke, as pasting does, and leaves the field. No text empties the field.
    pub async fn paste_into(&self, css: &str, text: &str) {
        self.press(css, "Control+a").await;
        if text.is_empty() {
            self.press_here("Delete").await;
        } else {
            let insert = format!("document.execCommand('insertText', false, {})", Value::from(text));
            assert!(self.eval(&insert).await == Value::Bool(true), "`{css}` takes no text");
        }
        self.leave().await;
    }

    /// Takes the focus from what has it.
    async fn leave(&self) {
        self.eval("document.activeElement.blur()").await;
    }

    /// Chooses from a menu, by the value.
    pub async fn choose(&self, css: &str, value: &str) {
        let chosen = self.element(css).await.select_by_value(value).await;
        chosen.unwrap_or_else(|error| panic!("`{css}` does not offer `{value}`: {error}"));
    }

    /// Puts the focus on an element and presses keys there, as in [`Browser::press_here`].
    pub async fn press(&self, css: &str, keys: &str) {
        self.focus(css).await;
        self.press_here(keys).await;
    }

    /// Presses keys where the focus is: `ArrowLeft`, `Shift+ArrowUp`, `Control+z`; several parted by spaces.
    pub async fn press_here(&self, keys: &str) {
        let mut actions = KeyActions::new("keyboard".to_owned());
        for chord in keys.split_whitespace() {
            let codes: Vec<char> = chord.split('+').map(key_code).collect();
            let down = codes.iter().map(|value| KeyAction::Down { value: *value });
            let up = codes.iter().rev().map(|value| KeyAction::Up { value: *value });
            actions = down.chain(up).fold(actions, KeyActions::then);
        }
        // All at once: a hand is faster than one request after the other.
        let pressed = self.client.perform_actions(actions).await;
        pressed.unwrap_or_else(|error| panic!("{keys} cannot be pressed: {error}"));
    }

    async fn focus(&self, css: &str) {
        self.element(css).await;
        let take = format!(
            "(e => {{ e.focus(); return e === document.activeElement; }})(document.querySelector({}))",
            Value::from(css)
        );
        assert!(self.eval(&take).await == Value::Bool(true), "`{css}` cannot have the focus");
    }

    /// Takes an element by its middle and drags it with the mouse, in several small moves, by CSS pixels to the right
    /// and down.
    pub async fn drag(&self, css: &str, right: i32, down: i32) {
        let moves = self.moves_of_drag(css, right, down).await;
        self.mouse(moves).await;
    }

    /// Drags an element like [`Browser::drag`] and keeps the mouse's button down.
    pub async fn drag_and_hold(&self, css: &str, right: i32, down: i32) {
        let mut moves = self.moves_of_drag(css, right, down).await;
        moves.pop();
        self.mouse(moves).await;
    }

    /// Lets the mouse's button go, farther on by CSS pixels to the right and down.
    pub async fn let_go(&self, right: i32, down: i32) {
        let way = PointerAction::MoveBy { duration: None, x: f64::from(right), y: f64::from(down) };
        self.mouse(vec![way, PointerAction::Up { button: MOUSE_BUTTON_LEFT }]).await;
    }

    async fn mouse(&self, moves: Vec<PointerAction>) {
        let mouse = moves.into_iter().fold(MouseActions::new("mouse".to_owned()), MouseActions::then);
        let moved = self.client.perform_actions(Actions::from(mouse)).await;
        moved.unwrap_or_else(|error| panic!("the mouse cannot do this: {error}"));
    }

    /// Drags an element like [`Browser::drag`], with a finger.
    pub async fn drag_by_touch(&self, css: &str, right: i32, down: i32) {
        let moves = self.moves_of_drag(css, right, down).await;
        let finger = moves.into_iter().fold(TouchActions::new("finger".to_owned()), TouchActions::then);
        let dragged = self.client.perform_actions(Actions::from(finger)).await;
        dragged.unwrap_or_else(|error| panic!("`{css}` cannot be dragged by a finger: {error}"));
    }

    async fn moves_of_drag(&self, css: &str, right: i32, down: i32) -> Vec<PointerAction> {
        const MOVES: i32 = 8;
        let soon = Some(Duration::from_millis(16));
        let take =
            PointerAction::MoveToElement { element: self.element(css).await, duration: None, x: 0.0, y: 0.0 };
        // The driver takes whole pixels only: each move goes to where the pointer should be by then.
        let step = |whole: i32, i: i32| f64::from(whole * (i + 1) / MOVES - whole * i / MOVES);
        let moves =
            (0..MOVES).map(|i| PointerAction::MoveBy { duration: soon, x: step(right, i), y: step(down, i) });
        let mut all = vec![take, PointerAction::Down { button: MOUSE_BUTTON_LEFT }];
        all.extend(moves);
        all.push(PointerAction::Up { button: MOUSE_BUTTON_LEFT });
        all
    }

    /// Writes a picture of what is seen as a PNG file.
    pub async fn screenshot(&self, file: &Path) {
        let picture = self.client.screenshot().await.expect("a picture");
        std::fs::write(file, picture).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    }

    /// The folder into which the page's downloads go.
    pub fn downloads(&self) -> &Path {
        &self.downloads
    }

    /// Takes the errors that the browser's console has shown since the last call, policy violations among them.
    pub async fn console_errors(&self) -> Vec<String> {
        if let Beyond::Firefox(bidi) = &self.beyond {
            return bidi.lock().await.errors().await;
        }
        let log = self.command("se/log", json!({ "type": "browser" })).await;
        let entries = log.as_array().cloned().unwrap_or_default();
        let severe = entries.iter().filter(|entry| entry["level"] == "SEVERE");
        severe.map(|entry| entry["message"].as_str().unwrap_or_default().to_owned()).collect()
    }

    /// A command of Chromium's developer tools.
    async fn devtools(&self, command: &str, parameters: Value) {
        self.command("goog/cdp/execute", json!({ "cmd": command, "params": parameters })).await;
    }

    async fn command(&self, path: &'static str, body: Value) -> Value {
        let answer = self.client.issue_cmd(Extension { path, body }).await;
        answer.unwrap_or_else(|error| panic!("the browser refused {path}: {error}"))
    }

    /// The first element of that name, as soon as there is one.
    async fn element(&self, css: &str) -> Element {
        let found = self.client.wait().at_most(WAIT_LIMIT).for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|error| panic!("there is no `{css}`: {error}"))
    }
}

/// A command that a driver adds to the standard.
#[derive(Debug)]
struct Extension {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Extension {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::POST, Some(self.body.to_string()))
    }
}

/// A key's code for the driver, from its name in the browser's key events.
fn key_code(name: &str) -> char {
    let key = match name {
        "Shift" => Key::Shift,
        "Control" => Key::Control,
        "Alt" => Key::Alt,
        "ArrowLeft" => Key::Left,
        "ArrowRight" => Key::Right,
        "ArrowUp" => Key::Up,
        "ArrowDown" => Key::Down,
        "Home" => Key::Home,
        "End" => Key::End,
        "PageUp" => Key::PageUp,
        "PageDown" => Key::PageDown,
        "Enter" => Key::Enter,
        "Escape" => Key::Escape,
        "Tab" => Key::Tab,
        "Space" => Key::Space,
        "Delete" => Key::Delete,
        "Backspace" => Key::Backspace,
        letter => {
            let mut letters = letter.chars();
            return match (letters.next(), letters.next()) {
                (Some(letter), None) => letter,
                _ => panic!("there is no key `{letter}`"),
            };
        }
    };
    key.into()
}

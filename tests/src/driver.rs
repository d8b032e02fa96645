//! The programs behind a browser test: chromedriver or geckodriver, and the browser it starts.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use serde_json::{Map, Value, json};
use tokio::io::{AsyncBufReadExt, BufReader, Lines};
use tokio::process::{Child, ChildStdout, Command};
use tokio::time::timeout;

/// Which browser a test runs in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Program {
    /// Chromium by chromedriver (the variables CHROMIUM and CHROMEDRIVER, or the programs of these names).
    Chromium,
    /// Firefox by geckodriver (the variables FIREFOX and GECKODRIVER, or the programs of these names).
    Firefox,
}

impl Program {
    /// The browser that the variable `CORNERWISE_BROWSER` names, Chromium where it names none.
    ///
    /// # Panics
    ///
    /// When it names another.
    pub fn chosen() -> Self {
        let name = std::env::var_os("CORNERWISE_BROWSER").unwrap_or_else(|| "chromium".into());
        Self::named(&name.to_string_lossy()).unwrap_or_else(|why| panic!("CORNERWISE_BROWSER: {why}"))
    }

    /// The browser of that name.
    ///
    /// # Errors
    ///
    /// The names there are, when it is none of them.
    pub fn named(name: &str) -> Result<Self, String> {
        match name {
            "chromium" => Ok(Self::Chromium),
            "firefox" => Ok(Self::Firefox),
            _ => Err(format!("“{name}” is no browser of these tests; there are chromium and firefox")),
        }
    }

    fn driver(self) -> OsString {
        let (variable, name) = match self {
            Self::Chromium => ("CHROMEDRIVER", "chromedriver"),
            Self::Firefox => ("GECKODRIVER", "geckodriver"),
        };
        std::env::var_os(variable).unwrap_or_else(|| name.into())
    }

    /// What the driver is told beside its port.
    fn arguments(self) -> &'static [&'static str] {
        match self {
            Self::Chromium => &[],
            // A port for each, and a say in Firefox's own settings, as for what a page's system asks for.
            Self::Firefox => &["--websocket-port=0", "--allow-system-access"],
        }
    }

    /// What the driver says before the number of its port.
    fn before_port(self) -> &'static str {
        match self {
            Self::Chromium => "started successfully on port ",
            Self::Firefox => "Listening on 127.0.0.1:",
        }
    }
}

/// How long a driver may take to say where it listens.
const START_LIMIT: Duration = Duration::from_secs(30);

/// A running driver with an empty folder for its browser; both are gone when this is dropped.
pub(crate) struct Driver {
    program: Program,
    port: u16,
    folder: PathBuf,
    // Dropping it ends the process.
    _process: Child,
    // Kept open, or the driver would fail when it writes.
    _output: Lines<BufReader<ChildStdout>>,
}

impl Driver {
    /// Starts a browser's driver on a free port.
    pub(crate) async fn start(kind: Program) -> Self {
        let program = kind.driver();
        let mut command = Command::new(&program);
        command
            .arg("--port=0")
            .args(kind.arguments())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .kill_on_drop(true);
        let mut process = command.spawn().unwrap_or_else(|error| {
            panic!("{} cannot be started ({error}); `cargo xtask test` installs it", program.display())
        });
        let output = process.stdout.take().expect("the output was asked for");
        let mut lines = BufReader::new(output).lines();
        let port = timeout(START_LIMIT, listening_port(&mut lines, kind.before_port())).await;
        let port = port.ok().flatten().expect("the driver did not say on which port it listens");
        Self { program: kind, port, folder: new_folder(), _process: process, _output: lines }
    }

    /// Where commands are sent.
    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// Where the browser puts files that the page saves.
    pub(crate) fn downloads(&self) -> PathBuf {
        self.folder.join("downloads")
    }

    /// What the browser is asked to be: headless, quiet, without a past, with its console recorded where it can be.
    pub(crate) fn capabilities(&self, width: u32, height: u32) -> Map<String, Value> {
        match self.program {
            Program::Chromium => self.of_chromium(width, height),
            Program::Firefox => self.of_firefox(),
        }
    }

    fn of_firefox(&self) -> Map<String, Value> {
        let mut options = json!({
            // Larger than any page in it: what stands outside the window cannot be touched.
            "args": ["-headless", "--width=2100", "--height=1400"],
            "prefs": {
                // A user's settings, which a driver changes: the store of a file is the file's own.
                "security.fileuri.strict_origin_policy": true,
                "remote.prefs.recommended": false,
                "browser.shell.checkDefaultBrowser": false,
                "browser.aboutwelcome.enabled": false,
                "datareporting.policy.dataSubmissionEnabled": false,
                "toolkit.telemetry.enabled": false,
                "app.update.enabled": false,
                "browser.download.folderList": 2,
                "browser.download.dir": self.downloads(),
            },
        });
        if let Some(browser) = std::env::var_os("FIREFOX") {
            options["binary"] = Value::from(browser.to_string_lossy());
        }
        let wanted = json!({ "moz:firefoxOptions": options, "webSocketUrl": true });
        wanted.as_object().cloned().unwrap_or_default()
    }

    fn of_chromium(&self, width: u32, height: u32) -> Map<String, Value> {
        let arguments = [
            "--headless".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-gpu".to_owned(),
            "--disable-quic".to_owned(),
            "--no-first-run".to_owned(),
            "--disable-background-networking".to_owned(),
            "--disable-component-update".to_owned(),
            "--disable-sync".to_owned(),
            // Small shared memory in containers ends pages without a word.
            "--disable-dev-shm-usage".to_owned(),
            "--hide-scrollbars".to_owned(),
            format!("--window-size={width},{height}"),
            format!("--user-data-dir={}", self.folder.join("profile").display()),
        ];
        let mut options = json!({
            "args": arguments,
            "prefs": { "download.default_directory": self.downloads(), "download.prompt_for_download": false },
        });
        if let Some(browser) = browser_program() {
            options["binary"] = Value::from(browser.to_string_lossy());
        }
        let wanted = json!({ "goog:chromeOptions": options, "goog:loggingPrefs": { "browser": "ALL" } });
        wanted.as_object().cloned().unwrap_or_default()
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // A folder left behind in the system's own place for such things does no harm.
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// Reads the driver's output until it names its port.
async fn listening_port(lines: &mut Lines<BufReader<ChildStdout>>, before: &str) -> Option<u16> {
    while let Ok(Some(line)) = lines.next_line().await {
        if let Some((_, rest)) = line.split_once(before) {
            let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
            return digits.parse().ok();
        }
    }
    None
}

/// A new folder that no other test has.
fn new_folder() -> PathBuf {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("cornerwise-browser-{}-{count}", std::process::id()));
    // What an earlier process of the same number may have left.
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("downloads")).expect("a folder for the browser");
    folder
}

/// The browser: the variable CHROMIUM, or the first that is found; none leaves the choice to chromedriver.
fn browser_program() -> Option<OsString> {
    if let Some(named) = std::env::var_os("CHROMIUM") {
        return Some(named);
    }
    let folders = std::env::var_os("PATH")?;
    let names = ["chromium", "chromium-browser", "google-chrome"];
    let mut places = std::env::split_paths(&folders).flat_map(|folder| names.map(|name| folder.join(name)));
    places.find(|file| Path::is_file(file)).map(PathBuf::into_os_string)
}

//! `WebDriver BiDi`, the standard by which a browser speaks unasked: how Firefox sizes a page, runs scripts among a
//! page's own and before them, and tells of its console.

use futures_util::{SinkExt, StreamExt};
use serde_json::{Value, json};
use tokio::net::TcpStream;
use tokio_tungstenite::tungstenite::Message;
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async};

/// A conversation with a browser about its one page.
#[derive(Debug)]
pub(crate) struct Bidi {
    socket: WebSocketStream<MaybeTlsStream<TcpStream>>,
    page: String,
    commands: u64,
    errors: Vec<String>,
}

impl Bidi {
    /// Begins the conversation at a session's address, about the page of that name.
    pub(crate) async fn connect(address: &str, page: String) -> Self {
        let connected = connect_async(address).await;
        let (socket, _) = connected.unwrap_or_else(|error| panic!("{address} does not answer: {error}"));
        let mut bidi = Self { socket, page, commands: 0, errors: Vec::new() };
        bidi.command("session.subscribe", json!({ "events": ["log.entryAdded"] })).await;
        bidi
    }

    /// Gives the page a size in CSS pixels and each of these pixels so many of the screen's.
    pub(crate) async fn size(&mut self, width: u32, height: u32, density: f64) {
        let size = json!({
            "context": self.page,
            "viewport": { "width": width, "height": height },
            "devicePixelRatio": density,
        });
        self.command("browsingContext.setViewport", size).await;
    }

    /// Runs a script in every page from now on, before the page's own.
    pub(crate) async fn run_before_pages(&mut self, script: &str) {
        let script = format!("() => {{ {script}\n}}");
        self.command("script.addPreloadScript", json!({ "functionDeclaration": script })).await;
    }

    /// The value of an expression among the page's own scripts: what the driver runs in Firefox stands in a room of its
    /// own beside them and does not see all of their names.
    pub(crate) async fn evaluate(&mut self, expression: &str) -> Result<Value, String> {
        let asked = json!({
            "expression": format!("JSON.stringify(({expression}) ?? null)"),
            "target": { "context": self.page },
            "awaitPromise": false,
        });
        let answer = self.command("script.evaluate", asked).await;
        match answer["result"]["value"].as_str() {
            Some(text) => serde_json::from_str(text).map_err(|error| error.to_string()),
            None => Err(answer["exceptionDetails"]["text"].to_string()),
        }
    }

    /// Takes the errors that the console has shown since the last call.
    pub(crate) async fn errors(&mut self) -> Vec<String> {
        // The answer comes from the page, after all that the page has told before.
        let nothing = json!({ "expression": "0", "target": { "context": self.page }, "awaitPromise": false });
        self.command("script.evaluate", nothing).await;
        std::mem::take(&mut self.errors)
    }

    async fn command(&mut self, method: &str, parameters: Value) -> Value {
        self.commands += 1;
        let asked = json!({ "id": self.commands, "method": method, "params": parameters });
        let sent = self.socket.send(Message::text(asked.to_string())).await;
        sent.unwrap_or_else(|error| panic!("{method} cannot be asked for: {error}"));
        loop {
            let mut heard = self.hear().await.unwrap_or_else(|why| panic!("{method} is not answered: {why}"));
            if heard["id"] == self.commands {
                assert!(heard["type"] == "success", "the browser refused {method}: {}", heard["message"]);
                return heard["result"].take();
            }
            let entry = &heard["params"];
            if heard["method"] == "log.entryAdded" && entry["level"] == "error" {
                self.errors.push(entry["text"].as_str().unwrap_or_default().to_owned());
            }
        }
    }

    /// What the browser says next.
    async fn hear(&mut self) -> Result<Value, String> {
        loop {
            match self.socket.next().await {
                Some(Ok(Message::Text(text))) => {
                    return serde_json::from_str(&text).map_err(|error| error.to_string());
                }
                // The socket answers these by itself.
                Some(Ok(Message::Ping(_) | Message::Pong(_))) => {}
                Some(Ok(other)) => return Err(format!("{other:?} is no answer")),
                Some(Err(error)) => return Err(error.to_string()),
                None => return Err("the browser has hung up".to_owned()),
            }
        }
    }
}

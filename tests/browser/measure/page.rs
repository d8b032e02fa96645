//! How fast the page follows a drag, with everything open that can be.

use cornerwise_tests::browser::{Browser, Look, Program, browse_in};
use cornerwise_tests::page_file;

use super::{RUNS, number, tell};

/// Moves of one drag.
const MOVES: u32 = 240;

/// One drag of a point, a move for each frame. The time of a move is what the browser works for it: the event with all
/// that follows from it at once, then the frame from its first callback, whoever asked for that, until the painting is
/// handed on, which is when a message sent from that frame arrives. Waiting for the screen's next frame is not counted.
const DRAG: &str = "(window.dragged = null, (async () => {
    if (!window.began) {
        window.began = {frame: 0, at: 0};
        const ask = requestAnimationFrame.bind(window);
        window.requestAnimationFrame = call => ask(frame => {
            if (frame !== began.frame) window.began = {frame, at: performance.now()};
            call(frame);
        });
        // A chart begins with its place wiped; what is drawn aside is no part of the page.
        window.charts = 0;
        const wipe = CanvasRenderingContext2D.prototype.clearRect;
        CanvasRenderingContext2D.prototype.clearRect = function (...all) {
            if (this.canvas.isConnected) window.charts++;
            wipe.apply(this, all);
        };
    }
    window.charts = 0;
    const handle = document.querySelector('[data-handle=\"front:arms[0].ball_joint\"]');
    const box = handle.getBoundingClientRect();
    const at = [box.x + box.width / 2, box.y + box.height / 2];
    const send = (kind, i) => handle.dispatchEvent(new PointerEvent(kind, {bubbles: true, cancelable: true, button: 0,
        buttons: 1, pointerId: 1, isPrimary: true, clientX: at[0] + 12 * Math.sin(i / 9), clientY: at[1] + 8 * Math.sin(i / 7)}));
    const long = [];
    const watch = new PerformanceObserver(list => list.getEntries().forEach(task => long.push(task.duration)));
    watch.observe({entryTypes: ['longtask']});
    handle.setPointerCapture = () => {};
    send('pointerdown', 0);
    const times = [], events = [], frames = [];
    for (let i = 1; i <= MOVES; i++) {
        await new Promise(resolve => setTimeout(resolve));
        const frame = new Promise(resolve => requestAnimationFrame(() => {
            const channel = new MessageChannel();
            channel.port1.onmessage = () => resolve(performance.now() - began.at);
            channel.port2.postMessage(0);
        }));
        const start = performance.now();
        send('pointermove', i);
        await Promise.resolve();
        const event = performance.now() - start;
        const painted = await frame;
        times.push(event + painted);
        events.push(event);
        frames.push(painted);
    }
    window.chartsOfMoves = window.charts;
    send('pointerup', MOVES);
    await new Promise(resolve => setTimeout(resolve, 300));
    watch.disconnect();
    window.dragged = [times, events, frames, long, window.chartsOfMoves / MOVES];
})(), 0)";

/// Prints the page's size, its start and its speed under the hand.
pub(super) fn measure() {
    let size = std::fs::metadata(page_file()).map_or(0, |file| file.len());
    println!("bench: page_size {size} B  the one file, at most 900000");
    browse_in(Program::Chromium, Look::default(), async |browser| {
        let mut times = Vec::new();
        for _ in 0..RUNS {
            browser.open_file("").await;
            times.push(number(&browser, "Number(document.body.dataset.started)").await);
        }
        tell("page_drawn", "ms", "from navigation to the first drawing, over file://, at most 300", times);
        drag(&browser, "plain", "as the page opens").await;
        open_everything(&browser).await;
        let charts = number(&browser, "document.querySelectorAll('[data-curve]').length").await;
        println!("bench: charts {charts} charts  while dragging with everything open");
        drag(&browser, "full", "twelve curves of both axles open").await;
    });
}

/// Twelve curves of both axles.
async fn open_everything(browser: &Browser) {
    let wanted = "localStorage.setItem('cornerwise.curves', 'travel both camber toe roll_centre_height \
        spring_motion_ratio caster kingpin_inclination scrub_radius mechanical_trail bump_steer half_track_change \
        hub_offset anti.braking_friction')";
    browser.eval(wanted).await;
    browser.reload().await;
}

async fn drag(browser: &Browser, name: &str, words: &str) {
    for _ in 0..2 {
        // The first drag is for the browser to compile what is used.
        browser.eval(&DRAG.replace("MOVES", &MOVES.to_string())).await;
        browser.wait_until("window.dragged").await;
    }
    let found = browser.eval("window.dragged").await;
    for (part, which, unit) in [
        (0, "move", "input to painted frame"),
        (1, "event", "the event alone"),
        (2, "frame", "the frame alone"),
    ] {
        let mut times: Vec<f64> =
            found[part].as_array().into_iter().flatten().filter_map(serde_json::Value::as_f64).collect();
        times.sort_by(f64::total_cmp);
        let at = |share: usize| times.get(times.len() * share / 100).copied().unwrap_or(f64::NAN);
        println!(
            "bench: drag_{name}_{which}_p95 {:.1} ms  {unit}, {words}; of {} moves the median {:.1}, the most {:.1}{}",
            at(95),
            times.len(),
            at(50),
            times.last().copied().unwrap_or(f64::NAN),
            if part == 0 { "; at most 8" } else { "" }
        );
    }
    let charts = found[4].as_f64().unwrap_or(f64::NAN);
    println!(
        "bench: drag_{name}_charts {charts:.1} charts  drawn a move, {words}; the others come in the next frames"
    );
    let long = found[3].as_array().map_or(0, Vec::len);
    println!(
        "bench: drag_{name}_long_tasks {long} tasks  of 50 ms and more, as the browser counts them, {words}"
    );
}

//! How long the page takes to appear, and how long one position of a wheel takes to compute, in the page's own
//! WebAssembly and natively: the same work in both.
#![allow(clippy::print_stdout, reason = "the measurements are this program's output")]

use std::time::Instant;

use cornerwise_tests::browser::{Browser, Look, browse};
use web_app::hooks::{BENCH_POSITIONS, Work, run_sweeps};

/// Times that each measurement is repeated; the median and the extremes are printed.
const RUNS: usize = 15;
/// Sweeps in one run: long against the browser's clock, which tells a tenth of a millisecond at best.
const SWEEPS: u32 = 100;

fn main() {
    println!("                                              median      least       most");
    browse(Look::default(), async |browser| {
        let mut times = Vec::new();
        for _ in 0..RUNS {
            browser.open_file("").await;
            times.push(number(&browser, "Number(document.body.dataset.started)").await);
        }
        print("page opened as a file, until drawn", "ms", times);
        for (name, readings) in
            [("one position in the page", false), ("one position with all readings", true)]
        {
            let mut times = Vec::new();
            for _ in 0..RUNS {
                let timed = format!(
                    "(begin => (wasm_bindgen.measure({readings}, {SWEEPS}), performance.now() - begin))(performance.now())"
                );
                let milliseconds = number(&browser, &timed).await;
                times.push(milliseconds * 1000.0 / positions());
            }
            print(name, "µs", times);
        }
    });
    for (name, work) in
        [("one position natively", Work::Solve), ("one position with all readings", Work::Readings)]
    {
        let times = (0..RUNS).map(|_| {
            let begin = Instant::now();
            std::hint::black_box(run_sweeps(work, SWEEPS));
            begin.elapsed().as_secs_f64() * 1e6 / positions()
        });
        print(name, "µs", times.collect());
    }
}

/// How many positions one run computes.
#[allow(clippy::cast_precision_loss, reason = "a few thousand")]
fn positions() -> f64 {
    f64::from(SWEEPS) * BENCH_POSITIONS as f64
}

async fn number(browser: &Browser, expression: &str) -> f64 {
    browser.eval(expression).await.as_f64().unwrap_or(f64::NAN)
}

fn print(name: &str, unit: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    if let (Some(least), Some(median), Some(most)) = (times.first(), times.get(RUNS / 2), times.last()) {
        println!("{name:<40} {median:>8.2} {unit} {least:>8.2} {unit} {most:>8.2} {unit}");
    }
}

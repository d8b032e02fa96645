//! How long the page takes to appear, and what one position of a wheel costs, in the page's own WebAssembly and
//! natively: the same work in both, in one run, so that the ratio holds on any machine.
//!
//! Each line is `bench: NAME VALUE UNIT`, then words.
#![allow(clippy::print_stdout, reason = "the measurements are this program's output")]

use std::time::Instant;

use cornerwise_tests::{
    browser::{Browser, Look, browse},
    page_file,
};
use evaluate::workload::{BENCH_POSITIONS, Work, run_sweeps};

/// Times that each measurement is repeated; the median is told, with the least and the most.
const RUNS: usize = 15;
/// Sweeps in one run: long against the browser's clock, which tells a tenth of a millisecond at best.
const SWEEPS: u32 = 200;

fn main() {
    let size = std::fs::metadata(page_file()).map_or(0, |file| file.len());
    println!("bench: page_size {size} B  the one file, at most 700000");
    let mut in_page = [f64::NAN; 2];
    browse(Look::default(), async |browser| {
        let mut times = Vec::new();
        for _ in 0..RUNS {
            browser.open_file("").await;
            times.push(number(&browser, "Number(document.body.dataset.started)").await);
        }
        tell("page_drawn", "ms", "from navigation to the first drawing, over file://", times);
        for (work, median) in WORK.into_iter().zip(&mut in_page) {
            let readings = work == Work::Readings;
            // Browsers compile again, better, what runs often: the first runs are not like the others.
            number(&browser, &format!("wasm_bindgen.measure({readings}, {})", 10 * SWEEPS)).await;
            let mut times = Vec::new();
            for _ in 0..RUNS {
                let timed = format!(
                    "(begin => (wasm_bindgen.measure({readings}, {SWEEPS}), performance.now() - begin))(performance.now())"
                );
                times.push(number(&browser, &timed).await * 1e6 / positions());
            }
            *median =
                tell(&format!("wasm_{}", name(work)), "ns", "a position in the page's WebAssembly", times);
        }
    });
    for (work, in_page) in WORK.into_iter().zip(in_page) {
        let times = (0..RUNS).map(|_| {
            let begin = Instant::now();
            std::hint::black_box(run_sweeps(work, SWEEPS));
            begin.elapsed().as_secs_f64() * 1e9 / positions()
        });
        let native = tell(&format!("native_{}", name(work)), "ns", "a position natively", times.collect());
        println!(
            "bench: wasm_over_native_{} {:.2} ×  ratio of the two medians",
            name(work),
            in_page / native
        );
    }
}

const WORK: [Work; 2] = [Work::Solve, Work::Readings];

fn name(work: Work) -> &'static str {
    match work {
        Work::Solve => "solve",
        Work::Readings => "solve_and_readings",
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

/// Prints a measurement and gives its median.
fn tell(name: &str, unit: &str, words: &str, mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    let at = |i: usize| times.get(i).copied().unwrap_or(f64::NAN);
    let (least, median, most) = (at(0), at(RUNS / 2), at(RUNS - 1));
    println!("bench: {name} {median:.1} {unit}  {words}; {least:.1} to {most:.1} in {RUNS} runs");
    median
}

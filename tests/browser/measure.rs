//! How long the page takes to appear, and what one position of a wheel costs, in the page's own WebAssembly and
//! natively: the same work in both, taken in turns in one run, so that the ratios hold on any machine.
//!
//! Each line is `bench: NAME VALUE UNIT`, then words. A time is the least of the runs: what else a machine does
//! only adds to it.
#![allow(clippy::print_stdout, reason = "the measurements are this program's output")]

use std::process::Command;
use std::time::Instant;

use cornerwise_tests::{
    browser::{Browser, Look, Program, browse_in},
    page_file,
};
use evaluate::workload::{Work, run_sweeps};

#[path = "measure/page.rs"]
mod page;

/// Times that each measurement is repeated.
const RUNS: usize = 25;
/// Sweeps in one run: long against the browser's clock, which tells a tenth of a millisecond at best.
const SWEEPS: u32 = 200;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let [work, repetitions] = &words[..] {
        // This program under a counter of instructions.
        let work = work.parse().ok().and_then(|number: usize| Work::ALL.get(number));
        let repetitions = repetitions.parse().unwrap_or(0);
        println!("{:?}", work.map(|work| run_sweeps(*work, repetitions)));
        return;
    }
    if words == ["--page"] {
        page::measure();
        return;
    }
    let size = std::fs::metadata(page_file()).map_or(0, |file| file.len());
    println!("bench: page_size {size} B  the one file, at most 900000");
    let (mut native, mut in_page) = ([f64::NAN; Work::ALL.len()], [f64::NAN; Work::ALL.len()]);
    browse_in(Program::Chromium, Look::default(), async |browser| {
        let mut times = Vec::new();
        for _ in 0..RUNS {
            browser.open_file("").await;
            times.push(number(&browser, "Number(document.body.dataset.started)").await);
        }
        tell("page_drawn", "ms", "from navigation to the first drawing, over file://", times);
        for (i, work) in Work::ALL.into_iter().enumerate() {
            let what = words_for(work);
            if work == Work::Reference {
                // No part of the page.
                let here = (0..RUNS).map(|_| natively(work)).collect();
                native[i] = tell("native_reference", "ns", &format!("{what}, natively"), here);
                continue;
            }
            // Browsers compile again, better, what runs often: the first runs are not like the others.
            number(&browser, &format!("wasm_bindgen.measure({i}, {})", 10 * SWEEPS)).await;
            let (mut here, mut there) = (Vec::new(), Vec::new());
            for _ in 0..RUNS {
                here.push(natively(work));
                let timed = format!(
                    "(begin => (wasm_bindgen.measure({i}, {SWEEPS}), performance.now() - begin))(performance.now())"
                );
                there.push(number(&browser, &timed).await * 1e6 / positions(work));
            }
            native[i] = tell(&format!("native_{}", name(work)), "ns", &format!("{what}, natively"), here);
            in_page[i] = tell(
                &format!("wasm_{}", name(work)),
                "ns",
                &format!("{what}, in the page's WebAssembly"),
                there,
            );
        }
    });
    let [solve, readings, batch, reference] = native;
    let [solve_in_page, readings_in_page, batch_in_page, _] = in_page;
    let beyond = readings - solve;
    println!(
        "bench: native_readings_beyond {beyond:.1} ns  all readings of a position beyond its solving, at most 500"
    );
    println!("bench: wasm_readings_beyond {:.1} ns  the same in the page", readings_in_page - solve_in_page);
    for (name, of, to, words) in [
        ("wasm_over_native_solve", solve_in_page, solve, "at most 1.5"),
        ("wasm_over_native_solve_and_readings", readings_in_page, readings, "at most 1.5"),
        ("wasm_over_native_batch", batch_in_page, batch, "the page has instructions of two numbers"),
        ("solve_over_reference", solve, reference, "against the plain method on this machine"),
        ("batch_over_reference", batch, reference, "against the plain method on this machine"),
    ] {
        println!("bench: {name} {:.2} ×  {words}", of / to);
    }
    count_instructions();
}

/// Nanoseconds a position of one run here.
fn natively(work: Work) -> f64 {
    let begin = Instant::now();
    std::hint::black_box(run_sweeps(work, SWEEPS));
    begin.elapsed().as_secs_f64() * 1e9 / positions(work)
}

fn name(work: Work) -> &'static str {
    match work {
        Work::Solve => "solve",
        Work::Readings => "solve_and_readings",
        Work::Batch => "batch",
        Work::Reference => "reference",
    }
}

fn words_for(work: Work) -> &'static str {
    match work {
        Work::Solve => "pose and travel motion of a position",
        Work::Readings => "the same with all readings",
        Work::Batch => "a position of one of eight corners abreast",
        Work::Reference => "a position by the plain method",
    }
}

/// How many positions one run computes.
#[allow(clippy::cast_precision_loss, reason = "a few thousand")]
fn positions(work: Work) -> f64 {
    f64::from(SWEEPS) * work.positions() as f64
}

async fn number(browser: &Browser, expression: &str) -> f64 {
    browser.eval(expression).await.as_f64().unwrap_or(f64::NAN)
}

/// Prints a measurement and gives its least.
fn tell(name: &str, unit: &str, words: &str, mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    let at = |i: usize| times.get(i).copied().unwrap_or(f64::NAN);
    let (least, median, most) = (at(0), at(RUNS / 2), at(RUNS - 1));
    println!(
        "bench: {name} {least:.1} {unit}  {words}; of {RUNS} runs the median {median:.1}, the most {most:.1}"
    );
    least
}

/// Instructions a position, as Valgrind counts them: the same on every machine, whatever else it does.
fn count_instructions() {
    for (i, work) in Work::ALL.into_iter().enumerate() {
        let name = name(work);
        match (instructions(i, 10), instructions(i, 110)) {
            (Some(few), Some(many)) => {
                let a_position = (many - few) / (100.0 * positions(work) / f64::from(SWEEPS));
                println!(
                    "bench: instructions_{name} {a_position:.0} instructions  a position natively, by callgrind"
                );
            }
            _ => println!("bench: instructions_{name} ? instructions  not counted: valgrind is not there"),
        }
    }
}

/// Instructions of so many sweeps with all that goes before them.
fn instructions(work: usize, repetitions: u32) -> Option<f64> {
    let output = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
        .arg(std::env::current_exe().ok()?)
        .args([work.to_string(), repetitions.to_string()])
        .output()
        .ok()?;
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    said.lines().find_map(|line| line.split_once("Collected :")?.1.trim().parse().ok())
}

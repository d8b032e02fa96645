//! Pictures of the built page, light and dark, on a laptop, a projector and a phone.

use std::path::PathBuf;
use std::process::ExitCode;

use cornerwise_tests::browser::{Look, Program, browse_in};

const SIZES: [(u32, u32); 3] = [(1440, 900), (1920, 1080), (390, 844)];

fn main() -> ExitCode {
    let Some(folder) = std::env::args_os().nth(1).map(PathBuf::from) else {
        eprintln!("a folder for the pictures is missing");
        return ExitCode::from(2);
    };
    browse_in(Program::Chromium, Look::default(), async |browser| {
        for (width, height) in SIZES {
            for (dark, name) in [(false, "light"), (true, "dark")] {
                browser.show_as(Look { width, height, dark }).await;
                browser.open_file("").await;
                browser.screenshot(&folder.join(format!("{width}x{height}-{name}.png"))).await;
            }
        }
    });
    ExitCode::SUCCESS
}

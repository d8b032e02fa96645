//! The rows: name, number, definition, source.

mod car;
mod springs;

use super::Rows;

/// Every row under its question.
pub const GROUPS: [Rows; 9] = [
    Rows { question: "What reaches spring, damper and bars?", rows: &springs::RATIOS },
    Rows { question: "How stiff is it at the wheel?", rows: &springs::RATES },
    Rows { question: "How fast does it bounce?", rows: &springs::BOUNCE },
    Rows { question: "How stiff is it in roll?", rows: &springs::ROLL },
    Rows { question: "What stands on the wheels?", rows: &car::LOADS },
    Rows { question: "What does the body lean about?", rows: &car::ROLL_AXIS },
    Rows { question: "What does a bend do?", rows: &car::BEND },
    Rows { question: "What does braking do?", rows: &car::BRAKING },
    Rows { question: "What does driving do?", rows: &car::DRIVING },
];

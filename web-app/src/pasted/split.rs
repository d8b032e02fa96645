//! Lines into cells, and cells into lengths with a decimal mark that is agreed on.

use super::{DecimalMark, Manner, Separator};
use crate::{
    edit::Coordinate,
    lengths::{Form, LengthError, Measure},
    numbers::NumberError,
};

/// A line's cells.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Cells {
    /// The name before the numbers.
    pub(super) name: Option<String>,
    /// The cells that are to be numbers; an empty one leaves its coordinate as it is.
    pub(super) numbers: Vec<String>,
}

impl Cells {
    /// Whether the cells name columns: no digit in any of them, and no point of that name.
    pub(super) fn is_heading(&self, known: &impl Fn(&str) -> bool) -> bool {
        let all = self.all();
        let words = all.iter().filter(|cell| !cell.is_empty()).count();
        let no_digits = all.iter().all(|cell| !cell.contains(|c: char| c.is_numeric()));
        let names = self.name.as_deref().is_some_and(known);
        no_digits && !names && (words > 1 || all.iter().any(|cell| column(cell).is_some()))
    }

    /// Whether it is words alone, of which a title consists that stands over a block: no cell can be a number, and no
    /// point is called so.
    pub(super) fn is_title(&self, known: &impl Fn(&str) -> bool) -> bool {
        let cells: Vec<&str> = self.all().into_iter().filter(|cell| !cell.is_empty()).collect();
        let in_words = |cell: &&str| {
            cell.starts_with(char::is_alphabetic) && cell.chars().nth(1).is_some_and(char::is_alphabetic)
        };
        cells.len() == 1 && cells.iter().all(in_words) && !cells.iter().any(|cell| known(cell))
    }

    /// The order of the columns that a heading names; none unless it names all three once.
    pub(super) fn order(&self) -> Option<[Coordinate; 3]> {
        let named: Vec<Coordinate> = self.all().into_iter().filter_map(column).collect();
        let all = Coordinate::ALL.iter().all(|coordinate| named.contains(coordinate));
        <[Coordinate; 3]>::try_from(named).ok().filter(|_| all)
    }

    fn all(&self) -> Vec<&str> {
        self.name.iter().chain(&self.numbers).map(String::as_str).collect()
    }
}

/// The coordinate that a column's heading names, as in `x`, `Y [mm]` or `z,mm`.
fn column(cell: &str) -> Option<Coordinate> {
    let mut letters = cell.trim().chars();
    let coordinate = match letters.next()?.to_ascii_lowercase() {
        'x' => Coordinate::X,
        'y' => Coordinate::Y,
        'z' => Coordinate::Z,
        _ => return None,
    };
    letters.next().is_none_or(|c| !c.is_alphanumeric()).then_some(coordinate)
}

/// The unit that a heading names.
pub(super) fn unit_of_heading(line: &str) -> Option<Measure> {
    let words = line.to_lowercase();
    let mut words = words.split(|c: char| !c.is_alphanumeric() && c != '"');
    words.find_map(|word| match word {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(Measure::Millimetre),
        "in" | "inch" | "inches" | "\"" => Some(Measure::InchDecimal),
        _ => None,
    })
}

/// Letters and digits alone, without capitals.
pub(super) fn letters(name: &str) -> String {
    let plain = name.to_lowercase().replace("center", "centre");
    plain.chars().filter(|c| c.is_alphanumeric()).collect()
}

/// A line's cells, parted in a manner.
pub(super) fn cells(line: &str, manner: Manner, known: &impl Fn(&str) -> bool) -> Cells {
    match manner.separator {
        Separator::Tab => of_columns(quoted(line, |c, _| c == '\t')),
        Separator::Semicolon => of_columns(quoted(line, |c, _| c == ';')),
        Separator::Comma => of_columns(quoted(line, |c, _| c == ',')),
        Separator::CommaSpace => of_columns(quoted(line, |c, next| c == ',' && next.is_none_or(is_space))),
        Separator::Spaces => {
            let line = line.trim();
            let cells = line.split("  ").map(str::trim).filter(|cell| !cell.is_empty());
            of_columns(cells.map(String::from).collect())
        }
        Separator::Space => of_words(line, manner.mark, known),
    }
}

/// A space that parts cells; the narrow and the no-break ones stand within numbers.
fn is_space(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{2009}' | '\u{202f}')
}

/// Cells between separators, with quotation marks around those that hold one.
fn quoted(line: &str, parts: impl Fn(char, Option<char>) -> bool) -> Vec<String> {
    let mut cells = Vec::new();
    let mut cell = String::new();
    let mut inside = false;
    let mut characters = line.trim_end_matches(['\r', '\n']).chars().peekable();
    while let Some(c) = characters.next() {
        if c == '"' && inside && characters.peek() == Some(&'"') {
            characters.next();
            cell.push('"');
        } else if c == '"' && (inside || cell.trim().is_empty()) {
            inside = !inside;
        } else if !inside && parts(c, characters.peek().copied()) {
            cells.push(std::mem::take(&mut cell));
        } else {
            cell.push(c);
        }
    }
    cells.push(cell);
    cells.into_iter().map(|cell| cell.trim().to_string()).collect()
}

/// A name, when there are more than three cells or the first is no number, and numbers.
fn of_columns(mut cells: Vec<String>) -> Cells {
    if let Some(cells) = of_table(&cells) {
        return cells;
    }
    // What a spreadsheet adds to the right of the block.
    while cells.len() > 3 && cells.last().is_some_and(String::is_empty) {
        let named = cells.first().is_some_and(|first| !first.is_empty() && !is_length(first));
        if cells.len() == 4 && named {
            break;
        }
        cells.pop();
    }
    let named = match cells.first() {
        Some(first) if first.is_empty() => cells.len() > 3,
        Some(first) => cells.len() > 3 || !is_length(first),
        None => false,
    };
    // A cell alone is meant as a number.
    if !named || cells.len() < 2 {
        return Cells { name: None, numbers: cells };
    }
    let name = cells.remove(0);
    Cells { name: Some(name).filter(|name| !name.is_empty()), numbers: cells }
}

/// Of a line with more cells than a name and three numbers: the only three numbers that stand together, the words
/// before them as a name, and nothing of the remarks behind them. None where that is not how it is.
fn of_table(cells: &[String]) -> Option<Cells> {
    if cells.iter().filter(|cell| !cell.is_empty()).count() < 4 || cells.len() < 5 {
        return None;
    }
    let numbers: Vec<usize> = (0..cells.len()).filter(|&i| is_length(&cells[i])).collect();
    let &[first, second, third] = &numbers[..] else { return None };
    let before: Vec<&str> =
        cells[..first].iter().map(String::as_str).filter(|cell| !cell.is_empty()).collect();
    let together = second == first + 1 && third == second + 1;
    (together && !before.is_empty())
        .then(|| Cells { name: Some(before.join(", ")), numbers: cells[first..=third].to_vec() })
}

/// Words: the last three numbers, and what is before them as a name.
fn of_words(line: &str, mark: DecimalMark, known: &impl Fn(&str) -> bool) -> Cells {
    let mut words: Vec<String> = Vec::new();
    for word in line.split(is_space).filter(|word| !word.is_empty()) {
        let whole = |before: &String| {
            before.trim_start_matches(['-', '+', '\u{2212}', '\u{2013}']).bytes().all(|b| b.is_ascii_digit())
                && before.bytes().any(|b| b.is_ascii_digit())
        };
        let is_unit = matches!(
            word.to_lowercase().as_str(),
            "mm" | "in" | "in." | "inch" | "inches" | "\"" | "\u{2033}"
        );
        let is_fraction = word.contains('/') && word.starts_with(|c: char| c.is_ascii_digit());
        match words.last_mut() {
            Some(before)
                if (is_unit && before.contains(|c: char| c.is_numeric()))
                    || (is_fraction && whole(before)) =>
            {
                before.push(' ');
                before.push_str(word);
            }
            _ => words.push(word.into()),
        }
    }
    if words.len() < 2 {
        return Cells { name: None, numbers: words };
    }
    let form = Form::default();
    let numbers = words.iter().rev().take_while(|word| length(word, mark, form).is_ok()).count();
    let usual = words.len() - numbers.min(3);
    // A name that ends in a number is recognized where a point is called so.
    let named =
        (1..=words.len()).rev().find(|&end| words.get(..end).is_some_and(|name| known(&name.join(" "))));
    let rest = words.split_off(named.unwrap_or(usual));
    let name = words.join(" ");
    Cells { name: Some(name).filter(|name| !name.is_empty()), numbers: rest }
}

/// Whether a cell can be a length, whatever its decimal mark.
fn is_length(cell: &str) -> bool {
    [DecimalMark::Point, DecimalMark::Comma].iter().any(|&mark| length(cell, mark, Form::default()).is_ok())
}

/// The document's number, mm, that a cell means when the decimal mark is agreed on: the
/// other mark then parts thousands.
///
/// # Errors
/// Why it is no length.
pub(super) fn length(cell: &str, mark: DecimalMark, form: Form) -> Result<f64, LengthError> {
    let cell = cell.trim();
    let cell = match cell.strip_suffix('.') {
        Some(rest) if rest.to_lowercase().ends_with("in") => rest,
        _ => cell,
    };
    let (decimal, thousands) = match mark {
        DecimalMark::Point => ('.', ','),
        DecimalMark::Comma => (',', '.'),
    };
    let text = || cell.chars().take(40).collect();
    let grouping = || LengthError::Number(NumberError::Grouping { text: text() });
    let digits = cell.trim_start_matches(['-', '+', '\u{2212}', '\u{2013}', ' ']);
    // `0.125` is no hundred and twenty-five, whatever parts thousands.
    let leading_zero = digits.starts_with('0') && digits.contains(thousands);
    if cell.matches(decimal).count() > 1 || leading_zero {
        return Err(grouping());
    }
    if !cell.contains([decimal, thousands]) {
        return form.read(cell);
    }
    // A thin space parts groups of three digits and nothing else.
    let plain: String = cell
        .chars()
        .map(|c| match c {
            c if c == thousands => '\u{2009}',
            c if c == decimal => '.',
            c => c,
        })
        .collect();
    // The cell is quoted as it was written.
    form.read(&plain).map_err(|error| match error {
        LengthError::Number(NumberError::Grouping { .. }) => grouping(),
        LengthError::Number(NumberError::NotANumber { .. }) => {
            LengthError::Number(NumberError::NotANumber { text: text() })
        }
        LengthError::Fraction { .. } => LengthError::Fraction { text: text() },
        other @ LengthError::Number(_) => other,
    })
}

//! A block of cells from a spreadsheet → points, and points → such a block.
//!
//! Nothing here changes the document: a block becomes a [`Reading`] of every line, to be
//! looked at before it is applied.
//!
//! The rule for what parts the cells and for the decimal mark, decided for the block as a
//! whole: where there are tabs, tabs part the cells; else semicolons, where there are any;
//! else spaces and commas are each tried. Both decimal marks are tried too. The way with
//! which most lines can be read counts. Where two ways read equally many and differ, both
//! are given back and the person is asked.

mod guess;
mod split;

use geometry_core::{
    bounds,
    setup::{Corner, Point, Side},
};

use crate::{
    describe,
    edit::{Coordinate, MemberPath, Part, PointPath},
    lengths::{Convention, Form, Measure},
};

/// The decimal mark of a block.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DecimalMark {
    /// 12.5
    #[default]
    Point,
    /// 12,5
    Comma,
}

/// The most lines that are read.
pub const MOST_LINES: usize = 400;

/// What parts the cells of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Separator {
    /// A tab.
    Tab,
    /// A semicolon.
    Semicolon,
    /// Two or more spaces.
    Spaces,
    /// A single space, or more.
    Space,
    /// A comma.
    Comma,
    /// A comma with a space behind it.
    CommaSpace,
}

/// How a block is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Manner {
    /// What parts the cells.
    pub separator: Separator,
    /// The decimal mark; the other one parts thousands.
    pub mark: DecimalMark,
}

impl Manner {
    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        let cells = match self.separator {
            Separator::Tab => "tabs",
            Separator::Semicolon => "semicolons",
            Separator::Spaces => "two or more spaces",
            Separator::Space => "spaces",
            Separator::Comma => "commas",
            Separator::CommaSpace => "a comma and a space",
        };
        let mark = match self.mark {
            DecimalMark::Point => "decimal point",
            DecimalMark::Comma => "decimal comma",
        };
        format!("cells parted by {cells}, {mark}")
    }
}

/// A point that can be pasted into.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// Which.
    pub path: PointPath,
    /// What the page calls it.
    pub name: String,
    /// Where it is, mm in the document's axes.
    pub point: Point,
}

/// The corner's points in the order of the table: wheel, members, parts.
#[must_use]
pub fn targets(corner: &Corner) -> Vec<Target> {
    let members = MemberPath::all(corner).into_iter().filter(|member| *member != MemberPath::Rocker);
    let members = members.flat_map(MemberPath::points);
    let parts = Part::CARRIED.into_iter().flat_map(Part::points);
    let all = std::iter::once(PointPath::WheelCentre).chain(members).chain(parts);
    all.filter_map(|path| {
        Some(Target { path, name: describe::point_name(path, corner), point: path.get(corner)? })
    })
    .collect()
}

/// Where lines without a name go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Start {
    /// Number of the point in the table's order, from zero.
    pub row: usize,
    /// Number of the coordinate, from zero, where fewer than three are pasted.
    pub column: usize,
}

/// What became of a line.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// A point moves.
    Point(Row),
    /// The names of the columns.
    Heading,
    /// No point has its name, the person says which is meant; what its numbers are, mm.
    Unknown(Point),
    /// It could not be read, and why.
    Wrong(String),
}

/// A point with its new place.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Which.
    pub path: PointPath,
    /// What the page calls it.
    pub name: String,
    /// Where it is, mm in the document's axes.
    pub before: Point,
    /// Where it goes.
    pub after: Point,
}

/// A line of the block.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its number in the text, from one.
    pub number: usize,
    /// Its text.
    pub text: String,
    /// Its name, where that is none of the table's.
    pub foreign: Option<Foreign>,
    /// What became of it.
    pub outcome: Outcome,
}

impl Line {
    /// Its name, where that is none of the table's.
    fn name(&self) -> Option<&str> {
        self.foreign.as_ref().map(|foreign| foreign.name.as_str())
    }
}

/// A name that is none of the table's.
#[derive(Debug, Clone, PartialEq)]
pub struct Foreign {
    /// The name.
    pub name: String,
    /// The point that is meant by it, as far as that was said.
    pub means: Option<PointPath>,
}

/// A block, read in one way.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The way.
    pub manner: Manner,
    /// Every line that is not empty.
    pub lines: Vec<Line>,
    /// The unit that the heading names.
    pub headed: Option<Measure>,
}

impl Reading {
    /// The points that were read.
    #[must_use]
    pub fn points(&self) -> Vec<(PointPath, Point)> {
        self.rows().map(|row| (row.path, row.after)).collect()
    }

    /// The lines that became points.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.lines.iter().filter_map(|line| match &line.outcome {
            Outcome::Point(row) => Some(row),
            _ => None,
        })
    }

    /// How many lines could not be read.
    #[must_use]
    pub fn unread(&self) -> usize {
        self.lines.iter().filter(|line| matches!(line.outcome, Outcome::Wrong(_))).count()
    }

    /// How many lines wait to be told which point they mean.
    #[must_use]
    pub fn unnamed(&self) -> usize {
        self.lines.iter().filter(|line| matches!(line.outcome, Outcome::Unknown(_))).count()
    }

    /// Whether all that is clearly on one side of the car's middle is on the one that is not described.
    #[must_use]
    pub fn is_of_other_side(&self) -> bool {
        /// mm: what stands on the car's middle is measured so near to it.
        const MIDDLE: f64 = 50.0;
        let aside =
            |(_, _, point): (usize, Option<PointPath>, Point)| Some(point[1]).filter(|y| y.abs() > MIDDLE);
        let sides: Vec<f64> = self.numbers().into_iter().filter_map(aside).collect();
        // One line may be a slip.
        sides.len() > 1 && sides.iter().all(|y| *y < 0.0)
    }

    /// The points that names probably mean of which nothing was said: the name, and the target's number.
    #[must_use]
    pub fn guesses(&self, targets: &[Target]) -> Vec<(String, usize)> {
        let unknown = |line: &&Line| matches!(line.outcome, Outcome::Unknown(_));
        let names: Vec<&str> = self.lines.iter().filter(unknown).filter_map(Line::name).collect();
        let guesses = guess::guesses(&names, targets);
        let free = |number: &usize| {
            targets.get(*number).is_some_and(|target| taken(&self.lines, target.path).is_none())
        };
        let pairs = names.into_iter().zip(guesses);
        pairs.filter_map(|(name, number)| Some((name.into(), number.filter(free)?))).collect()
    }

    /// The numbers of all lines that have some, whether or not it is known whose they are.
    fn numbers(&self) -> Vec<(usize, Option<PointPath>, Point)> {
        let numbers = |line: &Line| match &line.outcome {
            Outcome::Point(row) => Some((line.number, Some(row.path), row.after)),
            Outcome::Unknown(point) => Some((line.number, None, *point)),
            _ => None,
        };
        self.lines.iter().filter_map(numbers).collect()
    }
}

/// What a block is read against.
#[derive(Debug, Clone, Copy)]
pub struct Ground<'a> {
    /// The points of the table, in its order.
    pub targets: &'a [Target],
    /// Unit and axes of the block.
    pub convention: Convention,
    /// Which side's corner it is.
    pub side: Side,
    /// Where lines without a name go.
    pub start: Start,
    /// Which points other names mean, as the person has said.
    pub meant: &'a [Meant],
    /// Whether the block counts to the other side: its y with the other sign.
    pub turned: bool,
}

/// A name that is none of the table's, and the point that is meant by it.
#[derive(Debug, Clone, PartialEq)]
pub struct Meant {
    /// The name's letters and digits.
    name: String,
    path: PointPath,
    /// What the table calls the point.
    called: String,
}

impl Meant {
    /// Says that a name means a point, or no more; a name means one.
    pub fn say(all: &mut Vec<Self>, name: &str, target: Option<&Target>) {
        let name = split::letters(name);
        all.retain(|meant| meant.name != name);
        all.extend(target.map(|target| Self { name, path: target.path, called: target.name.clone() }));
    }
}

/// Whether a text pasted into one cell is a block of cells and not one number.
#[must_use]
pub fn is_block(text: &str, form: Form) -> bool {
    let text = text.trim();
    if text.contains(['\n', '\r', '\t', ';']) {
        return true;
    }
    let parted = text.split([' ', ',']).filter(|part| part.contains(|c: char| c.is_numeric())).count() > 1;
    parted && !form.read(text).is_ok_and(|value| bounds::COORDINATE.allows(value))
}

/// The ways in which a block can be read: one, or several where the person must choose.
/// Never none.
#[must_use]
pub fn read(text: &str, ground: Ground<'_>) -> Vec<Reading> {
    let separators: &[Separator] = if text.contains('\t') {
        &[Separator::Tab]
    } else if text.contains(';') {
        &[Separator::Semicolon]
    } else {
        &[Separator::Space, Separator::Spaces, Separator::Comma, Separator::CommaSpace]
    };
    let mut best: Vec<(Vec<_>, Reading)> = Vec::new();
    for &separator in separators {
        for mark in [DecimalMark::Point, DecimalMark::Comma] {
            if separator == Separator::Comma && mark == DecimalMark::Comma {
                continue;
            }
            let reading = read_as(text, Manner { separator, mark }, ground);
            let numbers = reading.numbers();
            let most = best.first().map_or(0, |(numbers, _)| numbers.len());
            if best.is_empty() || numbers.len() > most {
                best = vec![(numbers, reading)];
            } else if numbers.len() == most && most > 0 && best.iter().all(|(other, _)| *other != numbers) {
                best.push((numbers, reading));
            }
        }
    }
    best.into_iter().map(|(_, reading)| reading).collect()
}

fn read_as(text: &str, manner: Manner, ground: Ground<'_>) -> Reading {
    let known = |name: &str| !matches!(find(name, ground), Found::None);
    let lines = text.trim_start_matches('\u{feff}').lines().zip(1..);
    let mut filled =
        lines.filter(|(line, _)| line.contains(|c: char| !c.is_whitespace() && c != ';' && c != ','));
    let mut order = Coordinate::ALL;
    let mut headed = None;
    let mut parted = Vec::new();
    let mut begun = false;
    for (line, number) in filled.by_ref().take(MOST_LINES) {
        let cells = split::cells(line, manner, &known);
        // Titles may stand over the names of the columns.
        begun = begun || !(cells.is_heading(&known) || cells.is_title(&known));
        if begun {
            parted.push((line, number, Some(cells)));
        } else {
            order = cells.order().unwrap_or(order);
            headed = split::unit_of_heading(line).or(headed);
            parted.push((line, number, None));
        }
    }
    if !begun {
        // Over nothing stands no title.
        for (line, _, cells) in &mut parted {
            *cells = Some(split::cells(line, manner, &known)).filter(|cells| !cells.is_heading(&known));
        }
    }
    let columns = parted.iter().filter_map(|(_, _, cells)| cells.as_ref()).map(|cells| cells.numbers.len());
    let mut walk =
        Walk { ground, manner, order, columns: columns.max().unwrap_or(0).min(3), next: ground.start.row };
    let mut read: Vec<Line> = Vec::with_capacity(parted.len());
    for (line, number, cells) in parted {
        let name = cells.as_ref().and_then(|cells| cells.name.as_deref());
        let foreign = name.and_then(|name| {
            let means = match find(name, ground) {
                Found::Meant(number) => ground.targets.get(number).map(|target| target.path),
                Found::None => None,
                Found::Own(_) | Found::Several => return None,
            };
            Some(Foreign { name: name.trim().into(), means })
        });
        let outcome = match cells.as_ref().map(|cells| walk.line(cells)) {
            None => Outcome::Heading,
            Some(Ok(Outcome::Point(row))) => match taken(&read, row.path) {
                Some(line) => Outcome::Wrong(format!("{} was given before, in line {line}", row.name)),
                None => Outcome::Point(row),
            },
            Some(Ok(outcome)) => outcome,
            Some(Err(reason)) => Outcome::Wrong(reason),
        };
        // Without numbers it is no point, whatever it is called.
        let foreign =
            foreign.filter(|foreign| foreign.means.is_some() || matches!(outcome, Outcome::Unknown(_)));
        read.push(Line { number, text: shortened(line), foreign, outcome });
    }
    if let Some((line, number)) = filled.next() {
        let outcome =
            Outcome::Wrong(format!("only the first {MOST_LINES} lines are read; paste the rest apart"));
        read.push(Line { number, text: shortened(line), foreign: None, outcome });
    }
    Reading { manner, lines: read, headed }
}

/// The line that has moved a point already.
fn taken(lines: &[Line], path: PointPath) -> Option<usize> {
    let moves = |line: &&Line| matches!(&line.outcome, Outcome::Point(row) if row.path == path);
    lines.iter().find(moves).map(|line| line.number)
}

/// What goes on from line to line.
struct Walk<'a> {
    ground: Ground<'a>,
    manner: Manner,
    order: [Coordinate; 3],
    /// How many numbers the lines have.
    columns: usize,
    /// Where the next line without a name goes.
    next: usize,
}

impl Walk<'_> {
    fn line(&mut self, cells: &split::Cells) -> Result<Outcome, String> {
        // A line that cannot be read still takes its place, so that those after it keep theirs.
        let here = self.next;
        self.next = here.saturating_add(1);
        let found = cells.name.as_ref().map(|name| (name, find(name, self.ground)));
        let number = match found {
            None => here,
            Some((_, Found::Own(number) | Found::Meant(number))) => number,
            // Numbers that can be read tell a point of another name from any other line.
            Some((name, Found::None)) => {
                let placed = self.placed(cells, [0.0; 3]);
                return placed.map(Outcome::Unknown).map_err(|reason| {
                    let unknown = format!("no point is called “{}”", shortened(name));
                    // Of a line without numbers there is no more to say.
                    let numbers = cells.numbers.iter().any(|number| !number.is_empty());
                    if numbers { format!("{unknown}, and {reason}") } else { unknown }
                });
            }
            Some((name, Found::Several)) => {
                let name = shortened(name);
                return Err(format!("more than one point is called “{name}”; rename a member first"));
            }
        };
        self.next = number.saturating_add(1);
        let past_the_end = || "the table has no more points; give the line a name".to_owned();
        let target = self.ground.targets.get(number).ok_or_else(past_the_end)?;
        let after = self.placed(cells, target.point)?;
        Ok(Outcome::Point(Row { path: target.path, name: target.name.clone(), before: target.point, after }))
    }

    /// Where a point goes by the numbers of a line.
    fn placed(&self, cells: &split::Cells, before: Point) -> Result<Point, String> {
        let numbers = &cells.numbers;
        if let Some(name) = cells.name.as_ref().filter(|_| numbers.len() != 3) {
            let count = numbers.len();
            return Err(format!(
                "“{}” has {count} of 3 numbers behind it: x, y and z are needed",
                shortened(name)
            ));
        }
        if numbers.len() > 3 {
            return Err(format!("{} numbers; x, y and z are meant", numbers.len()));
        }
        if numbers.len() != self.columns {
            return Err(format!("{} numbers where other lines have {}", numbers.len(), self.columns));
        }
        let first = if self.columns == 3 { 0 } else { self.ground.start.column };
        if first + numbers.len() > 3 {
            return Err(format!("{} numbers do not fit into the columns from here on", numbers.len()));
        }
        let mut after = before;
        let mut given = false;
        for (i, text) in numbers.iter().enumerate() {
            let columns = if self.columns == 3 { self.order } else { Coordinate::ALL };
            let Some(&coordinate) = columns.get(first + i) else { continue };
            if text.is_empty() {
                continue;
            }
            given = true;
            let form = self.ground.convention.form(coordinate, self.ground.side);
            let value = split::length(text, self.manner.mark, form).map_err(|error| error.to_string())?;
            let turned = self.ground.turned && coordinate == Coordinate::Y;
            let value = if turned { -value } else { value };
            if !bounds::COORDINATE.allows(value) {
                let written = form.text(value);
                let unit = form.measure.symbol();
                return Err(format!("{written} {unit} is more than the 20 m that a coordinate may have"));
            }
            *coordinate.of_mut(&mut after) = value;
        }
        if !given {
            return Err("there are no numbers in it".into());
        }
        Ok(after)
    }
}

/// Whose name a name is; the numbers are those of the table.
enum Found {
    /// A point's own.
    Own(usize),
    /// None's own, but said to mean this point.
    Meant(usize),
    /// None's.
    None,
    /// Several points'.
    Several,
}

/// The point of a name: capitals, spaces and marks do not count.
fn find(name: &str, ground: Ground<'_>) -> Found {
    let targets = ground.targets;
    let wanted = split::letters(name);
    let mut own = targets.iter().enumerate().filter(|(_, target)| {
        let path = target.path.path();
        !wanted.is_empty() && (split::letters(&target.name) == wanted || split::letters(&path) == wanted)
    });
    match (own.next(), own.next()) {
        (Some((number, _)), None) => Found::Own(number),
        (Some(_), Some(_)) => Found::Several,
        (None, _) => {
            let meant = ground.meant.iter().find(|meant| meant.name == wanted);
            // A member may be gone since, or another stand in its place.
            let place = meant.and_then(|meant| {
                targets.iter().position(|target| target.path == meant.path && target.name == meant.called)
            });
            place.map_or(Found::None, Found::Meant)
        }
    }
}

/// At most sixty characters, for a sentence.
fn shortened(text: &str) -> String {
    const MOST: usize = 60;
    let text = text.trim();
    if text.chars().count() <= MOST {
        return text.into();
    }
    text.chars().take(MOST - 1).chain(['…']).collect()
}

/// The points for a spreadsheet: a line each, name, x, y and z parted by tabs; read back
/// with the same convention they are the same numbers.
#[must_use]
pub fn written(targets: &[Target], convention: Convention, side: Side) -> String {
    let line = |target: &Target| {
        let [x, y, z] = Coordinate::ALL.map(|c| convention.form(c, side).exact(c.of(target.point)));
        // A member may be called anything; a tab or a quotation mark would part the cells.
        let name = target.name.replace(['\t', '\n', '\r', '"'], " ");
        format!("{}\t{x}\t{y}\t{z}\n", name.trim())
    };
    targets.iter().map(line).collect()
}

#[cfg(test)]
mod tests;

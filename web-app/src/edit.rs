//! Every change that the page can make to the setup document, as plain data.
//!
//! A drag, a key, a table cell and a menu all become the same [`Edit`]; nothing else
//! writes the document. An edit either gives a new document in which every number and
//! text is within its range, or an [`EditError`] and the old one stays. Whether the new
//! corner can be assembled (two pivots at one place, four constraints) is not asked here:
//! a document may hold that on the way to something better, and the core says so.

mod error;
mod fresh;
mod member;
mod number_field;

use geometry_core::{
    linkage::LinkageError,
    setup::{Axle, Brakes, Corner, Document, Drive, KNUCKLE, Point, RACK_DIRECTION, example},
};

pub use error::EditError;
pub use geometry_core::setup::{Coordinate, PointPath};
pub use member::{MemberKind, MemberPath, Part};
pub use number_field::{NumberField, TextField};

/// One change to the document.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    /// Moves a point.
    SetPoint {
        /// Whose corner.
        axle: Axle,
        /// Which point.
        path: PointPath,
        /// Where to, mm in the document's axes.
        point: Point,
    },
    /// Moves several points at once, as a pasted table does; all or none.
    SetPoints {
        /// Whose corner.
        axle: Axle,
        /// Which points and where to, mm.
        points: Vec<(PointPath, Point)>,
    },
    /// Changes one coordinate of a point.
    SetCoordinate {
        /// Whose corner.
        axle: Axle,
        /// Which point.
        path: PointPath,
        /// Which coordinate.
        coordinate: Coordinate,
        /// Its new value, mm.
        value: f64,
    },
    /// Sets a number, or empties a field that may be empty.
    SetNumber {
        /// Which.
        field: NumberField,
        /// The value in the document's unit; none empties the field.
        value: Option<f64>,
    },
    /// Sets a text.
    SetText {
        /// Which.
        field: TextField,
        /// The text; an empty one empties the field.
        text: String,
    },
    /// Says which link moves with the rack, if any.
    SetSteers {
        /// Whose corner.
        axle: Axle,
        /// Number of the link; none for a corner that is not steered.
        link: Option<usize>,
    },
    /// Sets the direction of the rack; none for the usual one, to the left.
    SetRackDirection {
        /// Whose corner.
        axle: Axle,
        /// The direction; only where it points counts.
        direction: Option<Point>,
    },
    /// Adds a member with points to start from and a name of its own.
    AddMember {
        /// Whose corner.
        axle: Axle,
        /// Its kind.
        kind: MemberKind,
    },
    /// Takes a member or the rocker out. What stands on it keeps naming it, so that nothing
    /// else carries it unasked; the core says that the carrier is missing.
    RemoveMember {
        /// Whose corner.
        axle: Axle,
        /// Which.
        member: MemberPath,
    },
    /// Gives a member or the rocker another name; what stands on it goes along.
    RenameMember {
        /// Whose corner.
        axle: Axle,
        /// Which.
        member: MemberPath,
        /// The new name; spaces around it do not count.
        name: String,
    },
    /// Adds a part with points or sizes to start from.
    AddPart {
        /// Whose corner.
        axle: Axle,
        /// Which.
        part: Part,
    },
    /// Takes a part out.
    RemovePart {
        /// Whose corner.
        axle: Axle,
        /// Which.
        part: Part,
    },
    /// Says what carries the moving end of a part, or turns it.
    SetCarrier {
        /// Whose corner.
        axle: Axle,
        /// Which.
        part: Part,
        /// One of [`Part::carriers`].
        on: String,
    },
    /// Names one more part that moves with the wheel.
    AddUnsprung {
        /// Whose corner.
        axle: Axle,
    },
    /// Takes a part out of those that move with the wheel.
    RemoveUnsprung {
        /// Whose corner.
        axle: Axle,
        /// Its number, from zero.
        number: usize,
    },
    /// Says where the friction brakes are.
    SetBrakes {
        /// Whose corner.
        axle: Axle,
        /// Where.
        brakes: Brakes,
    },
    /// Says how drive and regeneration reach the wheel.
    SetDrive {
        /// Whose corner.
        axle: Axle,
        /// How.
        drive: Drive,
    },
    /// Describes the right corner by itself; it begins as the left one's mirror image.
    DescribeRight {
        /// Which axle's.
        axle: Axle,
    },
    /// Makes a change to the right corner: the change is said of its mirror image, a left
    /// corner ([`mirror_image`]), as the page shows it.
    OnRight {
        /// Which axle's.
        axle: Axle,
        /// A change of which [`Edit::corner`] is this axle.
        edit: Box<Edit>,
    },
    /// Takes out what the document says of the right corner by itself: it is the left one's
    /// mirror image again.
    MirrorRight {
        /// Which axle's.
        axle: Axle,
    },
    /// Puts a whole corner in, as a preset does, or adds one where there was none; the right
    /// corner is its mirror image.
    ReplaceCorner {
        /// Which axle's.
        axle: Axle,
        /// The corner.
        corner: Box<Corner>,
    },
    /// Puts the corner as an adjustment has left it in the place of the one before.
    AlterCorner {
        /// Which axle's.
        axle: Axle,
        /// The corner.
        corner: Box<Corner>,
    },
    /// Puts a whole document in, as opening a file or a link does.
    ReplaceDocument(Box<Document>),
}

impl Edit {
    /// The document with this change made.
    ///
    /// # Errors
    /// [`EditError`] when the change cannot be made or leaves something out of range;
    /// `document` itself is never touched.
    pub fn apply(&self, document: &Document) -> Result<Document, EditError> {
        if let Self::ReplaceDocument(new) = self {
            new.check()?;
            return Ok((**new).clone());
        }
        let mut new = document.clone();
        self.make(&mut new)?;
        new.check()?;
        Ok(new)
    }

    /// The axle whose corner alone this changes; none for what concerns more, or the car.
    #[must_use]
    pub fn corner(&self) -> Option<Axle> {
        match self {
            Self::SetPoint { axle, .. }
            | Self::SetPoints { axle, .. }
            | Self::SetCoordinate { axle, .. }
            | Self::SetSteers { axle, .. }
            | Self::SetRackDirection { axle, .. }
            | Self::AddMember { axle, .. }
            | Self::RemoveMember { axle, .. }
            | Self::RenameMember { axle, .. }
            | Self::AddPart { axle, .. }
            | Self::RemovePart { axle, .. }
            | Self::SetCarrier { axle, .. }
            | Self::AddUnsprung { axle }
            | Self::RemoveUnsprung { axle, .. }
            | Self::SetBrakes { axle, .. }
            | Self::SetDrive { axle, .. }
            | Self::AlterCorner { axle, .. }
            | Self::SetText { field: TextField::Tyre(axle) | TextField::PartName(axle, _), .. } => {
                Some(*axle)
            }
            Self::SetNumber { field, .. } => field.corner(),
            Self::SetText { field: TextField::Title | TextField::Note, .. }
            | Self::DescribeRight { .. }
            | Self::OnRight { .. }
            | Self::MirrorRight { .. }
            | Self::ReplaceCorner { .. }
            | Self::ReplaceDocument(_) => None,
        }
    }

    fn make(&self, document: &mut Document) -> Result<(), EditError> {
        match self {
            Self::SetPoint { axle, path, point } => *point_mut(document, *axle, *path)? = *point,
            Self::SetPoints { axle, points } => {
                for (path, point) in points {
                    *point_mut(document, *axle, *path)? = *point;
                }
            }
            Self::SetCoordinate { axle, path, coordinate, value } => {
                *coordinate.of_mut(point_mut(document, *axle, *path)?) = *value;
            }
            Self::SetNumber { field, value } => field.set(document, *value)?,
            Self::SetText { field, text } => match field {
                TextField::Title => document.title.clone_from(text),
                TextField::Note => document.note.clone_from(text),
                TextField::Tyre(axle) => {
                    corner_mut(document, *axle)?.wheel.tyre =
                        Some(text.clone()).filter(|text| !text.is_empty());
                }
                TextField::PartName(axle, number) => {
                    number_field::unsprung(document, *axle, *number)?.name.clone_from(text);
                }
            },
            Self::SetSteers { axle, link } => {
                let corner = corner_mut(document, *axle)?;
                if let Some(i) = link.filter(|&i| i >= corner.links.len()) {
                    return Err(EditError::NoMember { axle: *axle, member: MemberPath::Link(i) });
                }
                for (i, each) in corner.links.iter_mut().enumerate() {
                    each.steers = *link == Some(i);
                }
            }
            Self::SetRackDirection { axle, direction } => {
                corner_mut(document, *axle)?.rack_direction = *direction;
            }
            Self::AddMember { axle, kind } => {
                let corner = corner_mut(document, *axle)?;
                let there = match kind {
                    MemberKind::Arm | MemberKind::Link => false,
                    MemberKind::Strut => corner.strut.is_some(),
                    MemberKind::Hinge => corner.hinge.is_some(),
                };
                if there {
                    return Err(EditError::OnlyOneMember { axle: *axle, kind: *kind });
                }
                fresh::add_member(corner, *kind);
            }
            Self::RemoveMember { axle, member } => remove(document, *axle, *member)?,
            Self::RenameMember { axle, member, name } => rename(document, *axle, *member, name.trim())?,
            Self::AddPart { axle, part } => {
                let corner = corner_mut(document, *axle)?;
                if part.is_in(corner) {
                    return Err(EditError::OnlyOnePart { axle: *axle, part: *part });
                }
                fresh::add_part(corner, *part);
            }
            Self::RemovePart { axle, part } => {
                let corner = corner_mut(document, *axle)?;
                if !part.is_in(corner) {
                    return Err(EditError::NoPart { axle: *axle, part: *part });
                }
                part.remove(corner);
            }
            Self::SetCarrier { axle, part, on } => set_carrier(document, *axle, *part, on)?,
            Self::AddUnsprung { axle } => {
                let corner = corner_mut(document, *axle)?;
                let part = fresh::unsprung(corner);
                corner.unsprung.push(part);
            }
            Self::RemoveUnsprung { axle, number } => {
                number_field::unsprung(document, *axle, *number)?;
                drop(corner_mut(document, *axle)?.unsprung.remove(*number));
            }
            Self::SetBrakes { axle, brakes } => corner_mut(document, *axle)?.brakes = *brakes,
            Self::SetDrive { axle, drive } => corner_mut(document, *axle)?.drive = *drive,
            Self::DescribeRight { axle } => {
                let left = corner_mut(document, *axle)?;
                let mut right = mirror_image(left);
                // A rack moves both inboard ends the same way across the car.
                right.rack_direction = left.rack_direction.map(|[x, y, z]| [-x, y, -z]);
                right_slot(document, *axle).get_or_insert(right);
            }
            Self::OnRight { axle, edit } => on_right(document, *axle, edit)?,
            Self::MirrorRight { axle } => *right_slot(document, *axle) = None,
            Self::ReplaceCorner { axle, corner } => {
                // Told of the example's corners, and of none that comes in their place.
                let example = example();
                if document.note == example.note && example.corner(*axle) != Some(&**corner) {
                    document.note.clear();
                }
                *corner_slot(document, *axle) = Some((**corner).clone());
                *right_slot(document, *axle) = None;
            }
            Self::AlterCorner { axle, corner } => corner_mut(document, *axle)?.clone_from(corner),
            Self::ReplaceDocument(new) => document.clone_from(new),
        }
        Ok(())
    }
}

fn corner_slot(document: &mut Document, axle: Axle) -> &mut Option<Corner> {
    match axle {
        Axle::Front => &mut document.front,
        Axle::Rear => &mut document.rear,
    }
}

fn right_slot(document: &mut Document, axle: Axle) -> &mut Option<Corner> {
    match axle {
        Axle::Front => &mut document.front_right,
        Axle::Rear => &mut document.rear_right,
    }
}

/// A corner of the other side: a right one as a left one, whose points and rack are those
/// seen in a mirror. Zeros have no sign.
#[must_use]
pub fn mirror_image(corner: &Corner) -> Corner {
    let mut image = corner.mirrored();
    image.change_points(|_, point| *point = point.map(|value| value + 0.0));
    image.rack_direction = image.rack_direction.map(|direction| direction.map(|value| value + 0.0));
    image
}

/// Changes the right corner through its mirror image, which stands in the left one's place
/// for as long as the change takes.
fn on_right(document: &mut Document, axle: Axle, edit: &Edit) -> Result<(), EditError> {
    let right = right_slot(document, axle).as_ref().ok_or(EditError::NoRight { axle })?;
    if edit.corner() != Some(axle) {
        return Err(EditError::NoRight { axle });
    }
    let unsaid = right.rack_direction.is_none();
    let image = mirror_image(right);
    let left = corner_slot(document, axle).replace(image);
    let outcome = edit.make(document);
    let image = std::mem::replace(corner_slot(document, axle), left);
    outcome?;
    *right_slot(document, axle) = image.map(|image| {
        let mut right = mirror_image(&image);
        // What the document does not say stays unsaid, and what is taken back is said no more.
        if image.rack_direction.is_none() || unsaid && right.rack_direction == Some(RACK_DIRECTION) {
            right.rack_direction = None;
        }
        right
    });
    Ok(())
}

fn corner_mut(document: &mut Document, axle: Axle) -> Result<&mut Corner, EditError> {
    document.corner_mut(axle).ok_or(EditError::NoCorner { axle })
}

fn point_mut(document: &mut Document, axle: Axle, point: PointPath) -> Result<&mut Point, EditError> {
    point.get_mut(corner_mut(document, axle)?).ok_or(EditError::NoPoint { axle, point })
}

fn remove(document: &mut Document, axle: Axle, member: MemberPath) -> Result<(), EditError> {
    let corner = corner_mut(document, axle)?;
    if member.id(corner).is_none() {
        return Err(EditError::NoMember { axle, member });
    }
    match member {
        MemberPath::Arm(i) => drop(corner.arms.remove(i)),
        MemberPath::Link(i) => drop(corner.links.remove(i)),
        MemberPath::Strut => corner.strut = None,
        MemberPath::Hinge => corner.hinge = None,
        MemberPath::Rocker => corner.rocker = None,
    }
    Ok(())
}

fn rename(document: &mut Document, axle: Axle, member: MemberPath, name: &str) -> Result<(), EditError> {
    let corner = corner_mut(document, axle)?;
    let members = MemberPath::all(corner);
    if name.is_empty() {
        return Err(EditError::name(axle, LinkageError::NoName));
    }
    if name == KNUCKLE {
        return Err(EditError::name(axle, LinkageError::NameTaken { id: name.into() }));
    }
    let bears = |other: &MemberPath, id: &str| *other != member && other.id(corner) == Some(id);
    if members.iter().any(|other| bears(other, name)) {
        return Err(EditError::name(axle, LinkageError::NameTwice { id: name.into() }));
    }
    let old = member.id(corner).ok_or(EditError::NoMember { axle, member })?.to_string();
    // Another member of the old name, as a file may hold, goes on carrying what it carried.
    let shared = members.iter().any(|other| bears(other, &old));
    if let Some(id) = member.id_mut(corner) {
        *id = name.into();
    }
    for part in Part::CARRIED {
        if let Some(on) = part.carrier_mut(corner).filter(|on| **on == old && !shared) {
            *on = name.into();
        }
    }
    Ok(())
}

fn set_carrier(document: &mut Document, axle: Axle, part: Part, on: &str) -> Result<(), EditError> {
    let corner = corner_mut(document, axle)?;
    let known = part.carriers(corner);
    let carrier = part.carrier_mut(corner).ok_or(EditError::NoPart { axle, part })?;
    if !known.iter().any(|id| id == on) {
        let field = format!("{}.on", part.path());
        return Err(EditError::name(axle, LinkageError::UnknownCarrier { field, on: on.into(), known }));
    }
    *carrier = on.into();
    Ok(())
}

#[cfg(test)]
pub(crate) mod tests;

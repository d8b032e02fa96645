//! A setup as a link, the fragment `#s=…` of the page's address, and as the text of a file. Behind an `&` a
//! link may say what is looked at, which `session::look` reads.
//!
//! The fragment is base64url without padding of: one byte for the version, the document
//! in integers (`wire`), and a CRC-32 of all before it, least byte first, so that a link
//! that was cut or altered on its way is found out. A fragment never leaves the browser.
//!
//! What is finer than a link's quantum is rounded: a thousandth of a millimetre, a
//! ten-thousandth of a degree or of a share, ten grams of the car and one of a part, a
//! thousandth of a N/mm or N·m/°. A document of numbers on that grid comes back equal.
//!
//! A document is written in the first version that has room for all of it, so that a plain
//! one has a short link which earlier pages read too.

mod wire;

use std::fmt;

use base64ct::{Base64UrlUnpadded, Encoding as _};
use geometry_core::setup::{Document, FieldError};

/// A setup as the text of a file, JSON, and back, with errors that name the field.
pub use evaluate::{ReadError, read_document as from_json, write_document as to_json};

/// What the fragment of a shared setup begins with.
pub const PREFIX: &str = "#s=";

/// The longest code of a setup that is read, in bytes; a document with every text at its longest
/// stays well below.
pub const LONGEST: usize = 131_072;

/// The last version that is read.
const VERSION: u8 = 2;
const CHECKSUM: usize = 4;

/// Why a link holds no setup.
#[derive(Debug, Clone, PartialEq)]
pub enum LinkError {
    /// No fragment of ours in it.
    NotALink,
    /// Longer than any setup.
    TooLong {
        /// Bytes found.
        length: usize,
    },
    /// Cut or altered on its way.
    Damaged,
    /// Written by a later version of the page.
    Newer {
        /// The link's version.
        version: u8,
    },
    /// Whole, but with a field out of its range.
    Impossible(FieldError),
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotALink => {
                write!(f, "this is not a link to a Cornerwise setup; such a link has “{PREFIX}” in it")
            }
            Self::TooLong { length } => write!(
                f,
                "the link is too long for a setup: it has {length} characters; at most {LONGEST} are read"
            ),
            Self::Damaged => f.write_str(
                "the link was cut or altered on its way; copy the whole of it again, or ask for the file",
            ),
            Self::Newer { version } => write!(
                f,
                "the link was written by a newer Cornerwise (version {version}); this one reads up to version {VERSION}"
            ),
            Self::Impossible(error) => write!(f, "the link holds an impossible value: {error}"),
        }
    }
}

impl std::error::Error for LinkError {}

/// The fragment for a document, `#` included.
#[must_use]
pub fn encode(document: &Document) -> String {
    let (version, payload) = match wire::additions::Document::of(document) {
        Some(second) => (2, postcard::to_allocvec(&second)),
        None => (1, postcard::to_allocvec(&wire::Document::of(document))),
    };
    let mut bytes = vec![version];
    // Writing to memory fails only for lists of unknown length, and the wire has none.
    bytes.extend(payload.unwrap_or_default());
    bytes.extend(crc32(&bytes).to_le_bytes());
    format!("{PREFIX}{}", Base64UrlUnpadded::encode_string(&bytes))
}

/// The document of a fragment or of a whole address with one; spaces and line breaks that
/// a message put into it do not count.
///
/// # Errors
/// [`LinkError`], a sentence for the person who opened the link.
pub fn decode(link: &str) -> Result<Document, LinkError> {
    let (_, code) = link.split_once(PREFIX).ok_or(LinkError::NotALink)?;
    // What is looked at may stand behind it.
    let code = code.split('&').next().unwrap_or_default();
    if code.len() > LONGEST {
        return Err(LinkError::TooLong { length: code.len() });
    }
    let code: String = code.chars().filter(|c| !c.is_whitespace()).collect();
    let bytes = Base64UrlUnpadded::decode_vec(&code).map_err(|_| LinkError::Damaged)?;
    // Every version ends with the checksum, so that damage is not taken for a new version.
    let (checked, sum) = bytes.split_last_chunk::<CHECKSUM>().ok_or(LinkError::Damaged)?;
    if crc32(checked) != u32::from_le_bytes(*sum) {
        return Err(LinkError::Damaged);
    }
    let (&version, payload) = checked.split_first().ok_or(LinkError::Damaged)?;
    let document = match version {
        1 => whole::<wire::Document>(payload)?.document(),
        2 => whole::<wire::additions::Document>(payload)?.document(),
        0 => None,
        _ => return Err(LinkError::Newer { version }),
    };
    let document = document.ok_or(LinkError::Damaged)?;
    document.check().map_err(LinkError::Impossible)?;
    Ok(document)
}

/// What all of the bytes say, none left over.
fn whole<'a, T: serde::Deserialize<'a>>(payload: &'a [u8]) -> Result<T, LinkError> {
    match postcard::take_from_bytes(payload) {
        Ok((found, [])) => Ok(found),
        _ => Err(LinkError::Damaged),
    }
}

/// CRC-32 as in ISO/IEC/IEEE 8802-3 (Ethernet) and zip files: polynomial `0x04C1_1DB7`
/// with reflected bits, all ones before and after. It finds every change of up to 32 bits
/// in a row.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(
            sum ^ u32::from(byte),
            |sum, _| {
                if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 }
            },
        )
    })
}

#[cfg(test)]
mod tests;

//! A setup as a link, the fragment `#s=…` of the page's address, and as the text of a file.
//!
//! The fragment is base64url without padding of: one byte for the version, the document
//! in integers (`wire`), and a CRC-32 of all before it, least byte first, so that a link
//! that was cut or altered on its way is found out. A fragment never leaves the browser.
//!
//! What is finer than a link's quantum is rounded: a thousandth of a millimetre, a
//! ten-thousandth of a degree or of a share, ten grams, a thousandth of a N/mm. A
//! document of numbers on that grid comes back equal.

mod wire;

use std::fmt;

use data_encoding::BASE64URL_NOPAD;
use geometry_core::setup::{Document, FieldError};

/// A setup as the text of a file, JSON, and back, with errors that name the field.
pub use evaluate::{ReadError, read_document as from_json, write_document as to_json};

/// What the fragment of a shared setup begins with.
pub const PREFIX: &str = "#s=";

/// The longest link that is read, in bytes; a document with every text at its longest
/// stays well below.
pub const LONGEST: usize = 65_536;

const VERSION: u8 = 1;
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
                "the link was written by a newer Cornerwise (version {version}); this one reads version {VERSION}"
            ),
            Self::Impossible(error) => write!(f, "the link holds an impossible value: {error}"),
        }
    }
}

impl std::error::Error for LinkError {}

/// The fragment for a document, `#` included.
#[must_use]
pub fn encode(document: &Document) -> String {
    // Writing to memory fails only for lists of unknown length, and the wire has none.
    let payload = postcard::to_allocvec(&wire::Document::of(document)).unwrap_or_default();
    let mut bytes = vec![VERSION];
    bytes.extend(payload);
    bytes.extend(crc32(&bytes).to_le_bytes());
    format!("{PREFIX}{}", BASE64URL_NOPAD.encode(&bytes))
}

/// The document of a fragment or of a whole address with one; spaces and line breaks that
/// a message put into it do not count.
///
/// # Errors
/// [`LinkError`], a sentence for the person who opened the link.
pub fn decode(link: &str) -> Result<Document, LinkError> {
    if link.len() > LONGEST {
        return Err(LinkError::TooLong { length: link.len() });
    }
    let (_, code) = link.split_once(PREFIX).ok_or(LinkError::NotALink)?;
    let code: String = code.chars().filter(|c| !c.is_whitespace()).collect();
    let bytes = BASE64URL_NOPAD.decode(code.as_bytes()).map_err(|_| LinkError::Damaged)?;
    // Every version ends with the checksum, so that damage is not taken for a new version.
    let (checked, sum) = bytes.split_last_chunk::<CHECKSUM>().ok_or(LinkError::Damaged)?;
    if crc32(checked) != u32::from_le_bytes(*sum) {
        return Err(LinkError::Damaged);
    }
    let (&version, payload) = checked.split_first().ok_or(LinkError::Damaged)?;
    if version > VERSION {
        return Err(LinkError::Newer { version });
    }
    if version != VERSION {
        return Err(LinkError::Damaged);
    }
    let (document, rest) =
        postcard::take_from_bytes::<wire::Document>(payload).map_err(|_| LinkError::Damaged)?;
    if !rest.is_empty() {
        return Err(LinkError::Damaged);
    }
    let document = document.document().ok_or(LinkError::Damaged)?;
    document.check().map_err(LinkError::Impossible)?;
    Ok(document)
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

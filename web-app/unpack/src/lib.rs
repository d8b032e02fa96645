//! Unpacks the page's WebAssembly when the page opens.
//!
//! The page is one file, and its module by far the most of it. LZMA makes it a quarter smaller
//! than the deflate that browsers bring along; this, which unpacks it, costs a tenth of that. The
//! [`letters`] it stands in are a seventh more than its bytes.

pub mod letters;

use std::io::{self, Read as _};

use lzma_rust2::LzmaReader;
use wasm_bindgen::{JsError, prelude::wasm_bindgen};

/// Memory that unpacking may take, KiB: what packs strongest needs less.
const MEMORY: u32 = 128 * 1024;

/// What a text was packed from.
///
/// # Errors
/// What is wrong with it, where it is damaged.
pub fn unpacked(text: &str) -> Result<Vec<u8>, String> {
    let packed = letters::read(text)
        .ok_or("the packed module is damaged, or this file was read in another encoding than UTF-8")?;
    let packed = packed.as_slice();
    // The header of the format: a byte of properties, four of the dictionary's size, eight of the content's.
    let size = packed.get(5..13).and_then(|bytes| bytes.try_into().ok()).map(u64::from_le_bytes);
    let size = size.and_then(|size| usize::try_from(size).ok()).filter(|size| *size <= MOST);
    let size = size.ok_or("the packed module has no header")?;
    let failed = |error: io::Error| format!("the packed module is damaged: {error}");
    let mut content = vec![0; size];
    let mut reader = LzmaReader::new_mem_limit(packed, MEMORY, None).map_err(failed)?;
    reader.read_exact(&mut content).map_err(failed)?;
    Ok(content)
}

/// Bytes of a content: more is no page but a damaged header.
const MOST: usize = 64 << 20;

/// The same for the page.
///
/// # Errors
/// As [`unpacked`].
#[wasm_bindgen]
pub fn unpack(text: &str) -> Result<Vec<u8>, JsError> {
    unpacked(text).map_err(|error| JsError::new(&error))
}

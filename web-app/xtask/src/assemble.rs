//! The page's parts become one html file that needs nothing beside it, and no network.
//!
//! The shell in `public/index.html` is ordinary html. The files it names (style sheets, scripts, the icon) are
//! written into it, and comments in it are replaced: `<!-- policy -->`, `<!-- glue -->`, `<!-- wasm -->`, and
//! `<!-- packed NAME -->` by a file that is packed like the module, as the glue of the page's module is.

use std::io::Write as _;

use data_encoding::BASE64;
use lzma_rust2::{LzmaOptions, LzmaWriter};
use sha2::{Digest, Sha256};
use unpack::letters::spelled;

/// A compiled module with what loads it.
pub(crate) struct Module {
    /// JavaScript that loads the module and passes values in and out.
    pub(crate) glue: String,
    /// The WebAssembly module.
    pub(crate) wasm: Vec<u8>,
}

/// The compiled parts of the page.
pub(crate) struct Parts {
    /// The page itself.
    pub(crate) page: Module,
    /// What unpacks its module.
    pub(crate) unpack: Module,
}

/// How strongly what unpacks it is compressed: the most that the crate offers.
const COMPRESSION: u8 = 10;

/// How strongly the module is packed: the most there is, which takes seconds.
const STRENGTH: u32 = 9;

/// Puts the parts into the shell. `read` gives the text of a file that the shell names.
///
/// # Errors
/// A sentence, when the shell lacks one of its places, names a file that `read` cannot give, or when a script or
/// style holds text that would end it early or change on its way through the html parser.
pub(crate) fn assemble(
    shell: &str,
    parts: &Parts,
    mut read: impl FnMut(&str) -> Result<String, String>,
) -> Result<String, String> {
    let mut page = String::with_capacity(shell.len() + parts.page.glue.len() + parts.page.wasm.len());
    let mut places = Places::default();
    for line in shell.lines() {
        let content = line.trim();
        if content == "<!-- policy -->" {
            places.policy = Some(page.len());
        } else if content == "<!-- glue -->" {
            places.glue = true;
            places.script(&mut page, "the glue", &parts.unpack.glue)?;
            // The page makes a script of it when it opens; the policy allows that one by its hash.
            places.script_hashes.push(hash(&parts.page.glue));
            page.push_str(&packed_block("glue", parts.page.glue.as_bytes())?);
        } else if content == "<!-- wasm -->" {
            places.wasm = true;
            // What unpacks is packed the way that browsers unpack by themselves.
            let deflated = miniz_oxide::deflate::compress_to_vec(&parts.unpack.wasm, COMPRESSION);
            page.push_str(&block("unpack", &BASE64.encode(&deflated)));
            page.push_str(&packed_block("wasm", &parts.page.wasm)?);
        } else if let Some(name) = between(content, "<!-- packed ", " -->") {
            places.packed = true;
            page.push_str(&packed_block(name, read(name)?.as_bytes())?);
        } else if let Some(name) = between(content, "<script src=\"", "\"></script>") {
            places.script(&mut page, name, &read(name)?)?;
        } else if let Some(name) = between(content, "<link rel=\"stylesheet\" href=\"", "\">") {
            places.style(&mut page, name, &read(name)?)?;
        } else if let Some(name) = between(content, "<link rel=\"icon\" href=\"", "\">") {
            let icon = BASE64.encode(read(name)?.as_bytes());
            page.extend(["<link rel=\"icon\" href=\"data:image/svg+xml;base64,", icon.as_str(), "\">"]);
        } else {
            page.push_str(line);
        }
        page.push('\n');
    }
    if !places.glue || !places.wasm || !places.packed {
        return Err(
            "public/index.html must hold the lines `<!-- glue -->`, `<!-- wasm -->` and `<!-- packed style.css -->`"
                .to_owned(),
        );
    }
    // A byte-order mark outranks what a server says of the letters, which are UTF-8 by their thousands.
    page.insert(0, '\u{feff}');
    // The policy holds the hashes of all that follows it, so it is written last.
    let at = places.policy.ok_or("public/index.html must hold the line `<!-- policy -->`")?;
    page.insert_str('\u{feff}'.len_utf8() + at, &places.policy());
    Ok(page)
}

/// What has been met on the way through the shell.
#[derive(Default)]
struct Places {
    policy: Option<usize>,
    glue: bool,
    wasm: bool,
    packed: bool,
    script_hashes: Vec<String>,
    style_hashes: Vec<String>,
}

impl Places {
    fn script(&mut self, page: &mut String, name: &str, text: &str) -> Result<(), String> {
        // `<!--` followed by `<script` would make the parser overlook the script's end.
        check(name, text, &["</script", "<!--"])?;
        self.script_hashes.push(hash(text));
        page.extend(["<script>", text, "</script>"]);
        Ok(())
    }

    fn style(&mut self, page: &mut String, name: &str, text: &str) -> Result<(), String> {
        check(name, text, &["</style"])?;
        self.style_hashes.push(hash(text));
        page.extend(["<style>", text, "</style>"]);
        Ok(())
    }

    /// Nothing may be loaded, sent or run but what this very file holds.
    fn policy(&self) -> String {
        let scripts = self.script_hashes.join(" ");
        let styles =
            if self.style_hashes.is_empty() { "'none'".to_owned() } else { self.style_hashes.join(" ") };
        format!(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
             script-src {scripts} 'wasm-unsafe-eval'; style-src {styles}; connect-src 'none'; \
             img-src data: blob:; base-uri 'none'; form-action 'none'\">"
        )
    }
}

/// A module or a file, packed with its size before it.
fn packed(whole: &[u8]) -> Result<Vec<u8>, String> {
    let pack = || {
        let size = whole.len() as u64;
        let mut options = LzmaOptions::with_preset(STRENGTH);
        // WebAssembly is not aligned to anything, and says much by the byte before. The longest matches are looked
        // for, and as far back as still made it smaller when it was tried.
        (options.lc, options.pb) = (5, 0);
        (options.nice_len, options.depth_limit) = (273, 1000);
        let mut writer = LzmaWriter::new_use_header(Vec::new(), &options, Some(size))?;
        writer.write_all(whole)?;
        writer.finish()
    };
    pack().map_err(|error: std::io::Error| format!("a part of the page cannot be packed: {error}"))
}

/// A part packed, in letters that what unpacks it reads.
fn packed_block(name: &str, whole: &[u8]) -> Result<String, String> {
    Ok(block(name, &spelled(&packed(whole)?)))
}

/// A block of data in letters, which the page reads at its start.
fn block(name: &str, letters: &str) -> String {
    format!("<script type=\"application/octet-stream\" id=\"{name}\">{letters}</script>")
}

/// The text between a beginning and an end, when the line has both.
fn between<'a>(line: &'a str, begin: &str, end: &str) -> Option<&'a str> {
    line.strip_prefix(begin)?.strip_suffix(end)
}

/// Refuses text that the html parser would end early, or change so that its hash no longer fits.
fn check(name: &str, text: &str, forbidden: &[&str]) -> Result<(), String> {
    let lower = text.to_ascii_lowercase();
    if let Some(found) = forbidden.iter().find(|word| lower.contains(**word)) {
        return Err(format!(
            "{name} holds `{found}`, which must not stand inside an html file's scripts and styles"
        ));
    }
    if text.contains(['\r', '\0']) {
        return Err(format!("{name} holds a carriage return or a zero byte, which html parsers replace"));
    }
    Ok(())
}

/// The name by which a content security policy allows a script or style.
fn hash(text: &str) -> String {
    format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text)))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHELL: &str = "<!doctype html>\n<!-- policy -->\n<link rel=\"icon\" href=\"icon.svg\">\n\
        <link rel=\"stylesheet\" href=\"a.css\">\n<!-- packed c.css -->\n<!-- wasm -->\n<!-- glue -->\n<script src=\"b.js\"></script>\n";

    fn read(name: &str) -> Result<String, String> {
        match name {
            "a.css" => Ok("p{}".to_owned()),
            "c.css" => Ok("q{color:red}".repeat(99)),
            "b.js" => Ok("alert(1)".to_owned()),
            "icon.svg" => Ok("<svg/>".to_owned()),
            other => Err(format!("no file {other}")),
        }
    }

    fn parts(glue: &str) -> Parts {
        let module = |glue: &str, wasm: &[u8]| Module { glue: glue.to_owned(), wasm: wasm.to_vec() };
        Parts { page: module(glue, &b"module".repeat(99)), unpack: module("", b"unpacker") }
    }

    fn with_glue(glue: &str) -> Result<String, String> {
        assemble(SHELL, &parts(glue), read)
    }

    #[test]
    fn the_file_names_no_other_file() {
        let page = with_glue("let x;").expect("a complete shell");
        assert!(page.starts_with("\u{feff}<!doctype html>"), "the letters are read as what they are");
        assert!(page.contains("<style>p{}</style>") && page.contains("<script>alert(1)</script>"));
        assert!(!page.contains("src=\"") && !page.contains("<!--") && !page.contains("href=\"a"));
    }

    #[test]
    fn the_module_can_be_unpacked_again() {
        let page = with_glue("let x;").expect("a complete shell");
        let block = |name: &str| {
            let (_, rest) = page.split_once(&format!("id=\"{name}\">")).expect("the block");
            rest.split_once("</script>").expect("its end").0
        };
        let deflated = BASE64.decode(block("unpack").as_bytes()).expect("base64");
        let inflated = miniz_oxide::inflate::decompress_to_vec(&deflated);
        assert_eq!(inflated.expect("raw deflate"), b"unpacker");
        assert!(block("wasm").len() < 99 && block("c.css").len() < 99);
        assert_eq!(unpack::unpacked(block("glue")).expect("what was packed"), b"let x;");
        assert_eq!(unpack::unpacked(block("c.css")).expect("what was packed"), b"q{color:red}".repeat(99));
        assert_eq!(unpack::unpacked(block("wasm")).expect("what was packed"), b"module".repeat(99));
    }

    #[test]
    fn what_is_damaged_is_not_unpacked() {
        let whole = packed(&b"module".repeat(99)).expect("packed");
        for length in [0, 5, 12, 13, 20, whole.len() / 2] {
            let text = spelled(&whole[..length]);
            assert!(unpack::unpacked(&text).is_err(), "{length} bytes");
        }
        let mut endless = whole.clone();
        endless[5..13].fill(0xff);
        assert!(unpack::unpacked(&spelled(&endless)).is_err());
        let text = spelled(&whole);
        assert!(unpack::unpacked(&text).is_ok());
        let without_first: String = text.chars().skip(1).collect();
        assert!(unpack::unpacked(&without_first).is_err(), "a letter lost");
        assert!(unpack::unpacked(&format!("é{without_first}")).is_err(), "no letter of the code");
    }

    // The value is the example in W3C's Content Security Policy Level 3, section 8.2 (hash of `alert('Hello, world.');`).
    #[test]
    fn the_policy_names_each_script_by_its_hash() {
        let page = with_glue("alert('Hello, world.');").expect("a complete shell");
        assert!(page.contains("'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"));
        assert!(page.find("Content-Security-Policy") < page.find("<style>"));
    }

    #[test]
    fn text_that_would_end_a_script_early_is_refused() {
        let of = |text: &str| {
            let mut parts = parts("");
            parts.unpack.glue = text.to_owned();
            assemble(SHELL, &parts, read)
        };
        assert!(of("'</SCRIPT>'").is_err());
        assert!(of("'<!--'").is_err());
        assert!(of("a\r\nb").is_err());
        // What is packed passes no html parser.
        assert!(with_glue("'</script>'").is_ok());
    }

    #[test]
    fn a_shell_without_its_places_is_refused() {
        let parts = parts("");
        for place in ["<!-- policy -->", "<!-- glue -->", "<!-- wasm -->", "<!-- packed c.css -->"] {
            assert!(assemble(&SHELL.replace(place, ""), &parts, read).is_err(), "{place}");
        }
        assert!(assemble(&SHELL.replace("b.js", "d.js"), &parts, read).is_err());
    }
}

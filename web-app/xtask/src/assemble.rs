//! The page's parts become one html file that needs nothing beside it, and no network.
//!
//! The shell in `public/index.html` is ordinary html. The files it names (style sheets, scripts, the icon) are
//! written into it, and three comments in it are replaced: `<!-- policy -->`, `<!-- glue -->`, `<!-- wasm -->`.

use data_encoding::BASE64;
use sha2::{Digest, Sha256};

/// The compiled parts of the page.
pub(crate) struct Parts<'a> {
    /// JavaScript that loads the module and passes values in and out.
    pub(crate) glue: &'a str,
    /// The WebAssembly module.
    pub(crate) wasm: &'a [u8],
}

/// How strongly the module is compressed: the most that the crate offers, which takes well under a second.
const COMPRESSION: u8 = 10;

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
    let mut page = String::with_capacity(shell.len() + parts.glue.len() + parts.wasm.len());
    let mut places = Places::default();
    for line in shell.lines() {
        let content = line.trim();
        if content == "<!-- policy -->" {
            places.policy = Some(page.len());
        } else if content == "<!-- glue -->" {
            places.glue = true;
            places.script(&mut page, "the glue", parts.glue)?;
        } else if content == "<!-- wasm -->" {
            places.wasm = true;
            page.push_str(&wasm_block(parts.wasm));
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
    if !places.glue || !places.wasm {
        return Err("public/index.html must hold the lines `<!-- glue -->` and `<!-- wasm -->`".to_owned());
    }
    // The policy holds the hashes of all that follows it, so it is written last.
    let at = places.policy.ok_or("public/index.html must hold the line `<!-- policy -->`")?;
    page.insert_str(at, &places.policy());
    Ok(page)
}

/// What has been met on the way through the shell.
#[derive(Default)]
struct Places {
    policy: Option<usize>,
    glue: bool,
    wasm: bool,
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

/// The module, compressed and in letters, as a block of data that the page unpacks at its start.
fn wasm_block(wasm: &[u8]) -> String {
    let packed = BASE64.encode(&miniz_oxide::deflate::compress_to_vec(wasm, COMPRESSION));
    format!("<script type=\"application/octet-stream\" id=\"wasm\">{packed}</script>")
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
        <link rel=\"stylesheet\" href=\"a.css\">\n<!-- wasm -->\n<!-- glue -->\n<script src=\"b.js\"></script>\n";

    fn read(name: &str) -> Result<String, String> {
        match name {
            "a.css" => Ok("p{}".to_owned()),
            "b.js" => Ok("alert(1)".to_owned()),
            "icon.svg" => Ok("<svg/>".to_owned()),
            other => Err(format!("no file {other}")),
        }
    }

    fn with_glue(glue: &str) -> Result<String, String> {
        assemble(SHELL, &Parts { glue, wasm: b"module" }, read)
    }

    #[test]
    fn the_file_names_no_other_file() {
        let page = with_glue("let x;").expect("a complete shell");
        assert!(page.contains("<style>p{}</style>") && page.contains("<script>alert(1)</script>"));
        assert!(!page.contains("src=\"") && !page.contains("<!--") && !page.contains("href=\"a"));
    }

    #[test]
    fn the_module_can_be_unpacked_again() {
        let page = with_glue("let x;").expect("a complete shell");
        let (_, rest) = page.split_once("id=\"wasm\">").expect("the block");
        let (packed, _) = rest.split_once('<').expect("its end");
        let deflated = BASE64.decode(packed.as_bytes()).expect("base64");
        assert_eq!(miniz_oxide::inflate::decompress_to_vec(&deflated).expect("raw deflate"), b"module");
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
        assert!(with_glue("'</SCRIPT>'").is_err());
        assert!(with_glue("'<!--'").is_err());
        assert!(with_glue("a\r\nb").is_err());
    }

    #[test]
    fn a_shell_without_its_places_is_refused() {
        let parts = Parts { glue: "", wasm: b"" };
        for place in ["<!-- policy -->", "<!-- glue -->", "<!-- wasm -->"] {
            assert!(assemble(&SHELL.replace(place, ""), &parts, read).is_err(), "{place}");
        }
        assert!(assemble(&SHELL.replace("b.js", "c.js"), &parts, read).is_err());
    }
}

//! `cargo xtask page`: compiles the page, makes it one file, serves it.

use std::fs;
use std::path::{Path, PathBuf};

use wasm_bindgen_cli_support::Bindgen;

use crate::assemble::{Module, Parts, assemble};
use crate::steps::{Failure, cargo, command_step, page_file, root, step};
use crate::{serve, setup};

/// The port that is tried first.
const PORT: u16 = 8080;

/// Sizes of the built page in bytes.
pub(crate) struct Sizes {
    pub(crate) wasm: usize,
    pub(crate) glue: usize,
    pub(crate) page: usize,
}

pub(crate) fn run(words: &[&str]) -> Result<(), Failure> {
    let options = Options::read(words)?;
    build()?;
    if options.serve { serve::serve(&page_file(), options.port) } else { Ok(()) }
}

#[derive(Debug, PartialEq)]
struct Options {
    serve: bool,
    port: u16,
}

impl Options {
    fn read(words: &[&str]) -> Result<Self, Failure> {
        let mut options = Self { serve: true, port: PORT };
        let mut words = words.iter();
        while let Some(word) = words.next() {
            match *word {
                "--no-serve" => options.serve = false,
                "--port" => {
                    let number = words.next().and_then(|number| number.parse().ok()).filter(|port| *port > 0);
                    options.port = number.ok_or_else(|| {
                        Failure::Usage("`--port` wants a number from 1 to 65535".to_owned())
                    })?;
                }
                other => return Err(Failure::Usage(format!("`page` does not know `{other}`"))),
            }
        }
        Ok(options)
    }
}

/// Builds the page into its one file.
pub(crate) fn build() -> Result<Sizes, Failure> {
    setup::target(setup::WASM)?;
    let compiled = compile()?;
    let parts = step("Glue between browser and WebAssembly", || {
        let page = glue(&compiled.join("web_app.wasm"), "wasm_bindgen")?;
        Ok(Parts { page, unpack: glue(&compiled.join("unpack.wasm"), "unpack")? })
    })?;
    let page = step("One html file", || one_file(&parts))?;
    let sizes = Sizes { wasm: parts.page.wasm.len(), glue: parts.page.glue.len(), page: page.len() };
    println!(
        "   WebAssembly {}, glue {}, whole page {}",
        kilobytes(sizes.wasm),
        kilobytes(sizes.glue),
        kilobytes(sizes.page)
    );
    println!("   {}", page_file().display());
    Ok(sizes)
}

/// Compiles `web-app`, and what unpacks it, to WebAssembly and gives the modules' folder.
fn compile() -> Result<PathBuf, Failure> {
    // A target folder of its own: the release build neither waits for nor disturbs the others.
    let target = root().join("target").join("wasm");
    let mut command = cargo(["build", "--package", "web-app", "--package", "unpack", "--lib"]);
    command.args(["--profile", "page"]).args(["--target", setup::WASM]).arg("--target-dir").arg(&target);
    let mut flags = path_flags();
    // Two numbers to an instruction: in every browser since 2023, and in none the numbers differ.
    flags.push("-Ctarget-feature=+simd128".to_owned());
    // One kind of view in place of thousands: a tenth of the page less.
    flags.push("--cfg=erase_components".to_owned());
    // A ninth of what is usual (225): a drag is followed as fast, and the page is 75 kB smaller.
    flags.push("-Cllvm-args=-inline-threshold=25".to_owned());
    command.arg("--config").arg(format!("target.{}.rustflags={:?}", setup::WASM, flags));
    command_step("WebAssembly", command)?;
    Ok(target.join(setup::WASM).join("page"))
}

/// Compiler options that keep this machine's folders out of the page, where panic messages would show them.
fn path_flags() -> Vec<String> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| std::env::home_dir().map(|home| home.join(".cargo")));
    let registries = home.and_then(|home| fs::read_dir(home.join("registry").join("src")).ok());
    let mut folders: Vec<PathBuf> =
        registries.into_iter().flatten().filter_map(|entry| Some(entry.ok()?.path())).collect();
    // In one order always: other flags would mean compiling everything again.
    folders.sort();
    let crates = folders.iter().map(|folder| format!("--remap-path-prefix={}=crates", folder.display()));
    crates.chain([format!("--remap-path-prefix={}=cornerwise", root().display())]).collect()
}

/// Lets wasm-bindgen write the glue, a script that sets one name, and gives it with its module.
fn glue(module: &Path, name: &str) -> Result<Module, Failure> {
    let failed = |error| Failure::Step(format!("the glue could not be made: {error:#}"));
    let mut bindgen = Bindgen::new();
    bindgen.input_path(module).out_name(name).typescript(false);
    // The names of functions are half the module and serve only a debugger.
    bindgen.remove_name_section(true).remove_producers_section(true);
    // A classic script: browsers refuse modules in pages opened from a file.
    bindgen.no_modules(true).map_err(failed)?.omit_default_module_path(true);
    bindgen.no_modules_global(name).map_err(failed)?;
    let mut output = bindgen.generate_output().map_err(failed)?;
    // Every crate with bindings is listed; only those with scripts of their own matter.
    let scripts: Vec<&String> = (output.snippets().iter())
        .filter(|(_, snippets)| !snippets.is_empty())
        .map(|(name, _)| name)
        .chain(output.local_modules().keys())
        .collect();
    if !scripts.is_empty() {
        let what = "dependencies bring JavaScript files, which one file cannot hold";
        return Err(Failure::Step(format!("{what}: {scripts:?}")));
    }
    let glue = output.js().to_owned();
    Ok(Module { glue, wasm: output.wasm_mut().emit_wasm() })
}

/// Writes the html file and gives its text.
fn one_file(parts: &Parts) -> Result<String, Failure> {
    let public = root().join("public");
    let read = |name: &str| {
        fs::read_to_string(public.join(name))
            .map_err(|error| format!("public/{name} cannot be read: {error}"))
    };
    let page = read("index.html").and_then(|shell| assemble(&shell, parts, read));
    let page = page.map_err(Failure::Step)?;
    let file = page_file();
    let written = file.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::write(&file, &page));
    written.map_err(|error| Failure::because(format!("{} cannot be written", file.display()), error))?;
    Ok(page)
}

fn kilobytes(bytes: usize) -> String {
    format!("{} kB", bytes.div_ceil(1000))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn options_are_read() {
        let read = |words: &[&str]| Options::read(words).expect("known words");
        assert_eq!(read(&[]), Options { serve: true, port: PORT });
        assert_eq!(read(&["--port", "9000", "--no-serve"]), Options { serve: false, port: 9000 });
    }
}

//! Cuts the compiled program into a main file and parts that are fetched on demand.
//!
//! `wasm_split` marks the places in the source. The linker leaves its relocations in the program
//! (`--emit-relocs`, see `toolchain`), so that functions and data can be moved between files before
//! wasm-bindgen writes the glue for the main file. Trunk's own glue and program are replaced.

use crate::digest;
use crate::shell::{self, Outcome, problem};
use crate::trim;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use wasm_split_cli_support::{Options, transform};

/// The variable by which the build tells where the compiler leaves the program.
pub const PROGRAM: &str = "TWO_MARKS_PROGRAM";

const LOADER: &str = include_str!("../templates/parts.js");

/// What the cut program calls its loader, and what the glue imports.
const LINK: &str = "./__wasm_split.js";

/// One pass is not enough: `--converge` repeats the passes until nothing shrinks any more.
const SHRINK: &[&str] = &["-Oz", "--converge"];

/// Puts the cut program into the folder in place of Trunk's, and returns the changed page.
pub fn cut(folder: &Path, page: &str, shrink: bool) -> Outcome<String> {
    let program = std::env::var_os(PROGRAM).map(PathBuf::from);
    let program =
        program.ok_or_else(|| problem("the build does not tell where the program is."))?;
    let profile = if shrink { "release" } else { "debug" };
    let program = program.join(profile).join("two-marks-web.wasm");
    let work = program.with_extension("parts");
    if work.exists() {
        std::fs::remove_dir_all(&work).map_err(|why| format!("{}: {why}.", work.display()))?;
    }
    let wasm = std::fs::read(&program).map_err(|why| format!("{}: {why}.", program.display()))?;
    let main = work.join("main.wasm");
    let mut options = Options::new(&wasm);
    options.output_dir = &work;
    options.main_out_path = &main;
    options.link_name = LINK;
    let split = transform(options).map_err(|why| format!("cutting the program: {why:#}."))?;
    let mut glue = glue(&work, &main)?;
    let main = work.join("two-marks_bg.wasm");
    let mut parts = Vec::new();
    for file in &split.split_modules {
        parts.push(shrunk(file, shrink)?);
    }
    if shrink {
        // Before shrinking: what is exported no more may then go.
        let trimmed = trim::trim(&glue, &read(&main)?, &parts)?;
        glue = trim::script(&trimmed.0)?;
        shell::write_file(&main, trimmed.1)?;
    }
    let main = shrunk(&main, shrink)?;

    let mut names = BTreeMap::new();
    for (file, bytes) in split.split_modules.iter().zip(parts) {
        let stem = file.file_stem().and_then(|stem| stem.to_str()).unwrap_or_default().to_owned();
        let name = format!("{}-{}.wasm", file_name(&stem), &digest::hex(&bytes)[..16]);
        shell::write_file(&folder.join(&name), &bytes)?;
        names.insert(stem, (name, digest::integrity(&bytes)));
    }
    let extra = extra(&shell::read_file(&work.join(LINK))?)?;
    let loader = loader(&split.prefetch_map.into_iter().collect(), &names, &extra)?;
    // Glue and loader name each other, so one hash over both names both, and the program with them.
    let all = [glue.as_bytes(), loader.as_bytes(), &main].concat();
    let hash = &digest::hex(&all)[..16];
    let stem = format!("two-marks-{hash}");
    let loader_name = format!("parts-{hash}.js");
    let glue = glue
        .replace(&format!("from \"{LINK}\""), &format!("from \"./{loader_name}\""))
        // The program alone: the module of the same stem is a name inside the program too.
        .replace("two-marks_bg.wasm", &format!("{stem}_bg.wasm"));
    let loader = loader.replace("@GLUE@", &format!("{stem}.js"));
    let loader = if shrink { trim::script(&loader)? } else { loader };
    let files = [
        (format!("{stem}.js"), glue.into_bytes()),
        (loader_name, loader.into_bytes()),
        (format!("{stem}_bg.wasm"), main),
    ];
    for (name, bytes) in &files {
        shell::write_file(&folder.join(name), bytes)?;
    }
    relink(folder, page, &files)
}

/// Shorter names than the cutter's: `split_` and `chunk_` say nothing outside of it.
fn file_name(stem: &str) -> String {
    match stem.split_once('_') {
        Some(("split", name)) => format!("part-{name}"),
        Some((_, number)) => format!("shared-{number}"),
        None => stem.to_owned(),
    }
}

/// Lets wasm-bindgen write the glue of the main file, and returns it.
fn glue(work: &Path, main: &Path) -> Outcome<String> {
    let mut bindgen = Command::new("wasm-bindgen");
    // The parts share the linker's own table of functions with the main file, so its export stays.
    bindgen.args(["--target", "web", "--no-typescript", "--keep-lld-exports"]);
    bindgen.args(["--out-name", "two-marks", "--out-dir"]);
    shell::run("wasm-bindgen", bindgen.arg(work).arg(main))?;
    shell::read_file(&work.join("two-marks.js"))
}

fn shrunk(file: &Path, shrink: bool) -> Outcome<Vec<u8>> {
    if shrink {
        let mut opt = Command::new("wasm-opt");
        opt.args(SHRINK).arg(file).arg("-o").arg(file);
        shell::run("wasm-opt", &mut opt)?;
    }
    read(file)
}

fn read(file: &Path) -> Outcome<Vec<u8>> {
    std::fs::read(file).map_err(|why| format!("{}: {why}.", file.display()))
}

/// What a program with debug checks wants besides the main file's exports: a mark of its build.
fn extra(link: &str) -> Outcome<String> {
    let found = link.split_once("__wasm_split: {").and_then(|(_, rest)| rest.split_once('}'));
    let (extra, _) =
        found.ok_or_else(|| problem("the cutter's own loader looks different now."))?;
    Ok(extra.trim().to_owned())
}

fn loader(
    needs: &BTreeMap<String, Vec<String>>,
    names: &BTreeMap<String, (String, String)>,
    extra: &str,
) -> Outcome<String> {
    let mut files = String::from("{\n");
    let mut exports = String::new();
    for (part, stems) in needs {
        files.push_str(&format!("  {part}: ["));
        for stem in stems {
            let (name, hash) =
                names.get(stem).ok_or_else(|| problem(format!("the cut left no {stem}.")))?;
            files.push_str(&format!("[\"{name}\", \"{hash}\"], "));
        }
        files.push_str("],\n");
        exports.push_str(&format!(
            "export const __wasm_split_load_{part} = (tell, data) => load(\"{part}\", tell, data);\n"
        ));
    }
    files.push('}');
    let text = LOADER.replace("@FILES@", &files).replace("@EXTRA@", extra);
    Ok(text.replace("@EXPORTS@", exports.trim_end()))
}

/// Removes Trunk's glue and program, and links ours in their place.
fn relink(folder: &Path, page: &str, files: &[(String, Vec<u8>)]) -> Outcome<String> {
    let is_trunks = |tag: &str| {
        tag.starts_with("<link rel=\"modulepreload\" href=\"./two-marks-web")
            || tag.starts_with("<link rel=\"preload\" href=\"./two-marks-web")
    };
    let mut links = String::new();
    for (name, bytes) in files {
        let integrity = digest::integrity(bytes);
        let (rel, kind) = match name.ends_with(".js") {
            true => ("modulepreload", ""),
            false => ("preload", " as=\"fetch\" type=\"application/wasm\""),
        };
        links.push_str(&format!(
            "  <link rel=\"{rel}\" href=\"./{name}\" crossorigin=\"anonymous\" \
             integrity=\"{integrity}\"{kind}>\n"
        ));
    }
    let mut kept = String::new();
    let mut removed = 0;
    let mut rest = page;
    while let Some(start) = rest.find("<link rel=") {
        kept.push_str(&rest[..start]);
        let end = rest[start..].find('>').map_or(rest.len(), |end| start + end + 1);
        let tag = &rest[start..end];
        rest = &rest[end..];
        if !is_trunks(tag) {
            kept.push_str(tag);
            continue;
        }
        removed += 1;
        let name = tag.split_once("href=\"./").and_then(|(_, rest)| rest.split('"').next());
        let file = folder.join(name.unwrap_or_default());
        std::fs::remove_file(&file).map_err(|why| format!("{}: {why}.", file.display()))?;
    }
    kept.push_str(rest);
    if removed != 2 || !kept.contains("</head>") {
        return Err(problem("Trunk links the program in another way than is known here."));
    }
    Ok(kept.replacen("</head>", &format!("{links}</head>"), 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_loader_lists_the_files_of_each_part() {
        let needs = [("test".to_owned(), vec!["chunk_4".to_owned(), "split_test".to_owned()])];
        let named = |name: &str| (name.to_owned(), "sha256-x".to_owned());
        let names =
            [("chunk_4", named("shared-4-a.wasm")), ("split_test", named("part-test-b.wasm"))];
        let names = names.map(|(stem, name)| (stem.to_owned(), name)).into();
        let text = loader(&needs.clone().into(), &names, "").unwrap_or_default();
        let list =
            "test: [[\"shared-4-a.wasm\", \"sha256-x\"], [\"part-test-b.wasm\", \"sha256-x\"], ]";
        assert!(text.contains(list), "{text}");
        assert!(text.contains("export const __wasm_split_load_test ="), "{text}");
        assert!(loader(&needs.into(), &BTreeMap::new(), "").is_err());
    }

    #[test]
    fn names_say_what_a_file_is() {
        assert_eq!(file_name("split_test"), "part-test");
        assert_eq!(file_name("chunk_12"), "shared-12");
    }

    #[test]
    fn the_mark_of_a_build_is_found() {
        let link = "sharedImports = { __wasm_split: { __canary_1: ~0xdead, } };";
        assert_eq!(extra(link).as_deref(), Ok("__canary_1: ~0xdead,"));
        assert!(extra("").is_err());
    }

    #[test]
    fn a_page_without_trunks_links_is_refused() {
        assert!(relink(Path::new("/no/such/folder"), "<html></head>", &[]).is_err());
    }
}

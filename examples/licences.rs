//! Gathers the licences of every crate that is linked into the program: `licences DIR SOURCES` writes `crates.md` and the
//! texts into DIR, and copies the crates' packed sources into SOURCES. Called by `./dev package`.

use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// Crates that ship no text of their own, and where the text stands that their licence names.
const TEXTS_ELSEWHERE: [(&str, &str); 3] = [
    ("rten", "LICENSE-APACHE"),
    ("maud", "LICENSE-APACHE"),
    ("ffmpeg-sys-next", "licences/crates/ffmpeg-next-*/LICENSE"),
];

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let (Some(dir), Some(sources)) = (words.next(), words.next()) else {
        return Err("usage: licences DIR SOURCES".into());
    };
    let (dir, sources) = (Path::new(&dir), Path::new(&sources));
    fs::create_dir_all(sources)?;
    let out = Command::new("cargo")
        .args(["metadata", "--format-version", "1", "--locked", "--filter-platform"])
        .arg(format!("{}-unknown-linux-gnu", std::env::consts::ARCH))
        .output()?;
    if !out.status.success() {
        return Err(String::from_utf8_lossy(&out.stderr).into());
    }
    let metadata: Value = serde_json::from_slice(&out.stdout)?;
    let linked = linked(&metadata).ok_or("cargo's metadata has another shape")?;
    let mut table = String::from(
        "# Rust crates in the binary\n\nThe texts lie in `crates/`.\n\n| crate | version | licence | text |\n|---|---|---|---|\n",
    );
    for package in metadata["packages"].as_array().into_iter().flatten() {
        let text = |key: &str| package[key].as_str().unwrap_or_default();
        if !linked.contains(text("id")) || package["source"].is_null() {
            continue;
        }
        let (name, version) = (text("name"), text("version"));
        let home = Path::new(text("manifest_path")).parent().ok_or("a manifest without a folder")?;
        let named = format!("{name}-{version}");
        let copied = copy_texts(home, &dir.join("crates").join(&named))?;
        let shown = if copied.is_empty() {
            let elsewhere = TEXTS_ELSEWHERE.iter().find(|(start, _)| name.starts_with(start));
            elsewhere.map(|(_, place)| (*place).to_owned()).ok_or(format!("{named} ships no licence text"))?
        } else {
            copied.join(", ")
        };
        writeln!(table, "| {name} | {version} | {} | {shown} |", text("license"))?;
        copy_source(home, &named, sources)?;
    }
    fs::write(dir.join("crates.md"), table)?;
    Ok(())
}

/// Ids of every package that the program is linked from: what only tests, build scripts and macros use is left out.
fn linked(metadata: &Value) -> Option<BTreeSet<String>> {
    let macros: BTreeSet<&str> = metadata["packages"]
        .as_array()?
        .iter()
        .filter(|p| p["targets"].as_array().into_iter().flatten().any(|t| t["kind"][0] == "proc-macro"))
        .filter_map(|p| p["id"].as_str())
        .collect();
    let nodes: BTreeMap<&str, &Value> = metadata["resolve"]["nodes"]
        .as_array()?
        .iter()
        .filter_map(|n| Some((n["id"].as_str()?, n)))
        .collect();
    let mut found = BTreeSet::new();
    let mut open = vec![metadata["resolve"]["root"].as_str()?];
    while let Some(id) = open.pop() {
        if macros.contains(id) || !found.insert(id.to_owned()) {
            continue;
        }
        for dependency in nodes.get(id)?["deps"].as_array()? {
            if dependency["dep_kinds"].as_array()?.iter().any(|kind| kind["kind"].is_null()) {
                open.push(dependency["pkg"].as_str()?);
            }
        }
    }
    Some(found)
}

/// Copy a crate's licence files; their names.
fn copy_texts(home: &Path, to: &Path) -> std::io::Result<Vec<String>> {
    let mut copied = Vec::new();
    for entry in fs::read_dir(home)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let upper = name.to_ascii_uppercase();
        let is_text = ["LICENSE", "LICENCE", "COPYING", "UNLICENSE", "NOTICE", "COPYRIGHT"]
            .iter()
            .any(|start| upper.starts_with(start));
        if is_text && entry.file_type()?.is_file() {
            fs::create_dir_all(to)?;
            fs::copy(entry.path(), to.join(&name))?;
            copied.push(name);
        }
    }
    copied.sort();
    Ok(copied)
}

/// Copy the packed source that cargo unpacked `home` from.
fn copy_source(home: &Path, named: &str, to: &Path) -> Result<(), Box<dyn Error>> {
    let index = home.parent().ok_or("a crate without a folder")?;
    let registry = index.parent().and_then(Path::parent).ok_or("a crate outside the registry")?;
    let packed = registry.join("cache").join(index.file_name().unwrap_or_default());
    let file = format!("{named}.crate");
    fs::copy(packed.join(&file), to.join(&file))?;
    Ok(())
}

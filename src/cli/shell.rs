//! What a shell and `man` need to know, written from the same definition as `--help`.

use std::path::Path;

use clap::CommandFactory;
use swingpair::store::write_file;
use swingpair::types::{Error, Result};

use super::args::{Arguments, CompletionsArgs, ManArgs};
use super::print;

pub fn completions(args: &CompletionsArgs) -> Result<()> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Arguments::command(), "swingpair", &mut text);
    print(String::from_utf8_lossy(&text).trim_end())
}

/// One page for the program and one for each command.
pub fn man(args: &ManArgs) -> Result<()> {
    std::fs::create_dir_all(&args.folder).map_err(|e| Error::writing(&args.folder, e))?;
    let mut program = Arguments::command();
    program.build();
    page(&program, &args.folder)?;
    for command in program.get_subcommands().filter(|c| c.get_name() != "help" && !c.is_hide_set()) {
        page(command, &args.folder)?;
    }
    Ok(())
}

fn page(command: &clap::Command, folder: &Path) -> Result<()> {
    let name = command.get_display_name().unwrap_or(command.get_name()).to_owned();
    let place = folder.join(format!("{name}.1"));
    let mut text = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut text).map_err(|e| Error::writing(&place, e))?;
    write_file(&place, &text)
}

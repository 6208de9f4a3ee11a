use std::process::{Command, Stdio};

use swingpair::desk::{Desk, DeskOptions};
use swingpair::messages::desk as messages;
use swingpair::types::{Cancel, Result, Units};

use super::args::DeskArgs;
use super::print;
use super::progress::Talk;

pub fn run(args: &DeskArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let (folder, limits) = (args.folder.clone(), args.allow.limits());
    let options = DeskOptions { folder, port: args.port, limits, units, share: args.share };
    let desk = Desk::open(&options)?;
    let address = desk.address();
    print(&address)?;
    if args.share {
        talk.say(messages::SHARE_CAUTION);
    }
    if args.no_browser {
        talk.say(messages::OPEN_IT);
    } else if let Err(e) = open_browser(&address) {
        talk.say(&messages::no_browser(&e));
    }
    desk.serve(cancel)
}

/// The system's own way to open an address.
fn open_browser(address: &str) -> std::io::Result<()> {
    let (program, words): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("rundll32", &["url.dll,FileProtocolHandler"])
    } else {
        ("xdg-open", &[])
    };
    let quiet = || Stdio::null();
    let opened =
        Command::new(program).args(words).arg(address).stdin(quiet()).stdout(quiet()).stderr(quiet()).spawn();
    opened.map(drop)
}

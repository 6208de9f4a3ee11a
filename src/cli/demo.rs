use swingpair::demo;
use swingpair::ground::{Cancel, Result};

use super::args::DemoArgs;
use super::print;
use super::progress::Talk;

pub fn run(args: &DemoArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let film = if args.lesson { demo::film_lesson } else { demo::film_two_reps };
    for path in film(&args.dir, talk, cancel)? {
        print(&path.display().to_string())?;
    }
    Ok(())
}

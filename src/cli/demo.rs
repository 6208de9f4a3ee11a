use swingpair::demo;
use swingpair::ground::{Cancel, Result};

use super::args::DemoArgs;
use super::print;
use super::progress::Talk;

pub fn run(args: &DemoArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for path in demo::film_two_reps(&args.dir, talk, cancel)? {
        print(&path.display().to_string())?;
    }
    Ok(())
}

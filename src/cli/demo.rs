use swingpair::demo;
use swingpair::ground::{Cancel, Error, Result};

use super::args::DemoArgs;
use super::print;
use super::progress::Talk;

pub fn run(args: &DemoArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    std::fs::create_dir_all(&args.dir).map_err(|e| Error::writing(&args.dir, &e))?;
    for (name, scenario) in ["today.mp4", "best.mp4"].into_iter().zip(demo::two_reps()) {
        let path = args.dir.join(name);
        demo::film(&scenario, &path, talk, cancel)?;
        print(&path.display().to_string());
    }
    Ok(())
}

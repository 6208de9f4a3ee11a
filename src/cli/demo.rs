use swingpair::demo;
use swingpair::messages;
use swingpair::types::{Cancel, Result};

use super::args::DemoArgs;
use super::print;
use super::progress::Talk;

pub fn run(args: &DemoArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let film = if args.lesson { demo::film_lesson } else { demo::film_two_reps };
    let made = film(&args.dir, talk, cancel)?;
    for path in &made {
        print(&path.display().to_string())?;
    }
    let file = args.dir.join("lesson.toml");
    if args.lesson && !made.contains(&file) {
        talk.say(&format!("warning: {}", messages::lesson::own_lesson_kept(&file)));
    }
    Ok(())
}

//! Broken files by the thousand: `./dev bench hostile [--seed N] [--files N] [--texts N]`
//!
//! Small clips of many kinds, made by the ffmpeg command, are broken by seed; each broken one is probed, read to its
//! end, read again from its middle, and its sound is read, in a process of its own with little memory and time. A file
//! that ends such a process otherwise than by an answer is kept in out/hostile/found. Then the small files beside a clip.

mod clips;
#[path = "../../tests/it/hostile/mutate.rs"]
mod mutate;
#[path = "../../tests/it/hostile/texts.rs"]
mod texts;
mod worker;

use std::error::Error;
use std::fs;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use clips::Good;
use swingpair::demo::Dice;
use texts::Kind;
use worker::{Ending, Run};

const FOLDER: &str = "out/hostile";
type Outcome<T> = Result<T, Box<dyn Error>>;

struct Options {
    seed: u64,
    files: usize,
    texts: usize,
}

/// One line of the table.
#[derive(Default, Clone)]
struct Row {
    name: String,
    files: usize,
    read: usize,
    refused: usize,
    crashed: usize,
    hung: usize,
    peak_mb: f64,
    slowest_s: f64,
}

impl Row {
    fn add(&mut self, run: &Run) {
        self.files += 1;
        match run.ending {
            Ending::Read => self.read += 1,
            Ending::Refused => self.refused += 1,
            Ending::Crashed => self.crashed += 1,
            Ending::Hung => self.hung += 1,
        }
        self.peak_mb = self.peak_mb.max(run.peak_mb);
        self.slowest_s = self.slowest_s.max(run.took_s);
    }

    fn print(&self) {
        let Self { name, files, read, refused, crashed, hung, peak_mb, slowest_s } = self;
        println!(
            "| {name} | {files} | {read} | {refused} | {crashed} | {hung} | {peak_mb:.0} | {slowest_s:.1} |"
        );
    }
}

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    // This program calls itself: what goes wrong there ends that process alone.
    if let [word, rest @ ..] = args.as_slice()
        && word == "worker"
    {
        return worker::work(rest);
    }
    match run(&args) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(e) => {
            eprintln!("error: {e}");
            ExitCode::FAILURE
        }
    }
}

/// Whether nothing crashed or hung.
fn run(args: &[String]) -> Outcome<bool> {
    let options = options(args)?;
    let found = Path::new(FOLDER).join("found");
    fs::create_dir_all(&found)?;
    let goods = clips::make(&Path::new(FOLDER).join("good"))?;
    let rows = Mutex::new(vec![Row::default(); goods.len()]);
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for hand in 0..2 {
            let (rows, next, goods, found) = (&rows, &next, &goods, &found);
            scope.spawn(move || {
                loop {
                    let n = next.fetch_add(1, Ordering::Relaxed);
                    if n >= options.files {
                        break;
                    }
                    let good = &goods[n % goods.len()];
                    match one(options.seed, n, hand, good, goods, found) {
                        Ok(run) => rows.lock().unwrap()[n % goods.len()].add(&run),
                        Err(e) => eprintln!("error: file {n}: {e}"),
                    }
                }
            });
        }
    });
    println!("| kind | files | read | refused | crashed | hung | most memory, MB | slowest, s |");
    println!("|---|---|---|---|---|---|---|---|");
    let mut all = Row { name: "all".to_owned(), ..Row::default() };
    for (row, good) in rows.into_inner().map_err(|e| e.to_string())?.iter_mut().zip(&goods) {
        row.name.clone_from(&good.name);
        row.print();
        all.files += row.files;
        all.read += row.read;
        all.refused += row.refused;
        all.crashed += row.crashed;
        all.hung += row.hung;
        all.peak_mb = all.peak_mb.max(row.peak_mb);
        all.slowest_s = all.slowest_s.max(row.slowest_s);
    }
    all.print();
    let mut sound = all.crashed + all.hung == 0;
    println!("\n| small file | tried | taken | refused | crashed | most memory, MB | took, s |");
    println!("|---|---|---|---|---|---|---|");
    for kind in Kind::ALL {
        let reported = worker::texts(kind, options.seed, options.texts)?;
        sound &= reported.crashed == 0;
        println!(
            "| {} | {} | {} | {} | {} | {:.0} | {:.1} |",
            kind.word(),
            options.texts,
            reported.taken,
            reported.refused,
            reported.crashed,
            reported.peak_mb,
            reported.took_s
        );
    }
    Ok(sound)
}

/// Break file number `n`, let a worker read it, and keep it when that did not end well.
fn one(seed: u64, n: usize, hand: usize, good: &Good, goods: &[Good], found: &Path) -> Outcome<Run> {
    let mut dice = Dice::stream(seed, n as u64);
    // Grafts come from the same clip as often as from another.
    let other = if dice.unit() < 0.5 { good } else { dice.one_of(goods).unwrap_or(good) };
    let broken = mutate::bytes(&mut dice, &good.data, &other.data);
    let path = Path::new(FOLDER).join(format!("broken-{hand}.{}", good.ending));
    fs::write(&path, &broken)?;
    let run = worker::read(&path)?;
    if matches!(run.ending, Ending::Crashed | Ending::Hung) || run.peak_mb > 400.0 || run.took_s > 5.0 {
        let kept = found.join(format!("{seed}-{n}.{}", good.ending));
        fs::write(&kept, &broken)?;
        eprintln!(
            "{}: {:?}, {:.0} MB, {:.1} s: {}",
            kept.display(),
            run.ending,
            run.peak_mb,
            run.took_s,
            run.said
        );
    }
    Ok(run)
}

fn options(args: &[String]) -> Outcome<Options> {
    let mut options = Options { seed: 1, files: 2000, texts: 4000 };
    for pair in args.chunks(2) {
        match pair {
            [word, number] if word == "--seed" => options.seed = number.parse()?,
            [word, number] if word == "--files" => options.files = number.parse()?,
            [word, number] if word == "--texts" => options.texts = number.parse()?,
            _ => return Err("usage: ./dev bench hostile [--seed N] [--files N] [--texts N]".into()),
        }
    }
    Ok(options)
}

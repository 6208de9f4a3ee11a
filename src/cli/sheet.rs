use swingpair::compose::{Mark, Plan};
use swingpair::store::write_file;
use swingpair::types::{Cancel, Error, Result, Units};
use swingpair::{media, report};

use super::args::SheetArgs;
use super::pair::captions;
use super::print;
use super::progress::Talk;
use super::swings;

pub fn run(args: &SheetArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for input in args.swings.inputs().chain(&args.plan).chain(&args.captions) {
        if media::same_file(input, &args.output) {
            return Err(Error::OutputIsInput { path: args.output.clone() });
        }
    }
    media::check_target_of(&args.output, &["png", "pdf"])?;
    let limits = args.swings.looking.allow.limits();
    let plan = args.plan.as_deref().map(|path| Plan::from_file(path, &limits)).transpose()?;
    if let Some(plan) = &plan {
        plan.check_letters()?;
    }
    let captions = captions(args.captions.as_deref(), units, &limits)?;
    let words = &captions;
    let draw = plan.as_ref().map_or_else(Mark::usual, |plan| plan.draw.clone());
    let reference_first = plan.as_ref().is_some_and(|plan| plan.reference_first);
    let ready = args.swings.paired(plan.and_then(|plan| plan.names), false, words, talk, cancel)?;
    let [today, reference] = ready.sides()?;
    let sheet = report::sheet(&today, &reference, &ready.pairing, &draw, (reference_first, words), cancel)?;
    let png = report::png_from_frame(&sheet)?;
    let as_pdf = args.output.extension().is_some_and(|e| e.eq_ignore_ascii_case("pdf"));
    write_file(&args.output, &if as_pdf { report::pdf_from_png(&png)? } else { png })?;
    swings::warn_all(talk, &ready.today, &ready.references, &ready.warnings);
    print(&args.output.display().to_string())
}

use swingpair::compose::{Plan, usual_slow};
use swingpair::types::Result;

use super::args::PlanArgs;
use super::{print, print_json};

pub fn run(args: &PlanArgs) -> Result<()> {
    let plan = Plan::ready(args.name, args.slow.unwrap_or(usual_slow()));
    if args.json {
        return print_json(&plan);
    }
    print(plan.to_toml()?.trim_end())
}

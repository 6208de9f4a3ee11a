//! The command line: words in, exit code out.

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}

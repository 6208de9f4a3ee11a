//! The command line: words in, exit code out.

#![warn(
    clippy::dbg_macro,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::unwrap_used
)]

mod cli;

fn main() -> std::process::ExitCode {
    cli::run()
}

//! The `annulet` program: arguments in, exit status out.

use std::process::ExitCode;

fn main() -> ExitCode {
    annulet::cli::run(std::env::args_os())
}

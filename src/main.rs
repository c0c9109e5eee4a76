//! Arguments in, exit code out.

use std::io;
use std::process::ExitCode;

use clap::Parser;
use luxate::cli::{self, args::Arguments};

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    ExitCode::from(cli::run(
        arguments,
        &mut io::stdout().lock(),
        &mut io::stderr().lock(),
    ))
}

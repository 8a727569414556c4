//! Writes the built-in catalogues: `catalogue JDK_17 JDK_25 FOLDER`. Started by `scripts/catalogue`.

use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    let result = match &*arguments {
        [older, newer, out] => secateur::platform::generate::run(Path::new(older), Path::new(newer), Path::new(out)),
        _ => Err("three arguments are needed: JDK 17, JDK 25, folder to write to".to_owned()),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(reason) => {
            let _ = std::io::Write::write_fmt(&mut std::io::stderr(), format_args!("catalogue: {reason}\n"));
            ExitCode::FAILURE
        }
    }
}

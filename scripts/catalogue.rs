//! Writes the built-in catalogues and the figures that images are weighed by:
//! `catalogue JDK_17 JDK_25 CATALOGUES FIGURES`. Started by `scripts/catalogue`.

use std::path::Path;
use std::process::ExitCode;

use secateur::{platform, weight};

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    let result = match &*arguments {
        [older, newer, catalogues, figures] => {
            write([Path::new(older), Path::new(newer)], Path::new(catalogues), Path::new(figures))
        }
        _ => Err("four arguments are needed: JDK 17, JDK 25, two folders to write to".to_owned()),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(reason) => {
            let _ = std::io::Write::write_fmt(&mut std::io::stderr(), format_args!("catalogue: {reason}\n"));
            ExitCode::FAILURE
        }
    }
}

fn write([older, newer]: [&Path; 2], catalogues: &Path, figures: &Path) -> Result<(), String> {
    platform::generate::run(older, newer, catalogues)?;
    for home in [older, newer] {
        let (release, json) = weight::generate(home)?;
        let path = figures.join(format!("{release}.json"));
        std::fs::write(&path, json).map_err(|error| format!("{}: {error}", path.display()))?;
    }
    Ok(())
}

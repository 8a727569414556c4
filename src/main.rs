//! The `secateur` command: parse, call, print, and say by the exit status how it went.

mod bar;
#[allow(clippy::doc_markdown, reason = "help is read on terminals, which show backticks as they are")]
mod cli;
mod exit;
mod output;

use std::any::Any;
use std::cell::Cell;
use std::error::Error as _;
use std::io::{self, Write};
use std::panic::{self, AssertUnwindSafe};
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use clap::{CommandFactory, Parser};
use secateur::error::Error;
use secateur::pipeline;
use secateur::plan::{Plan, Weighed};
use secateur::report::diagram::{self, dot, mermaid, svg};
use secateur::report::escape::visible;
use secateur::report::layout::Width;
use secateur::report::{
    Finding, Report, explain, html, json, list, listing, markdown, style::Style, text, trial, weighing,
};

use bar::Bar;
use cli::{
    Cli, ExplainArgs, Format, OutputArgs, PlainFormat, PlatformArgs, PlatformChoice, PlatformFormat, ProgramArgs,
    ScanArgs, ScanFormat, SettleArgs, Verb, WeighArgs,
};
use exit::Exit;
use output::Output;

fn main() -> ExitCode {
    // A panic says nothing by itself: one that is contained becomes a finding, any other the line below.
    panic::set_hook(Box::new(|_| ()));
    let cli = Cli::parse();
    ending(|| run(cli)).into()
}

/// How it went, whatever happens; what went wrong is said on standard error. A fault of ours still ends with one line
/// and the documented status.
fn ending(run: impl FnOnce() -> Result<Exit, Error>) -> Exit {
    match panic::catch_unwind(AssertUnwindSafe(run)) {
        Ok(Ok(exit)) => exit,
        Ok(Err(error)) => {
            say(&chain(&error));
            Exit::of_error(&error)
        }
        Err(payload) => {
            say(&format!("a fault of this program, please report it with the input: {}", words(payload.as_ref())));
            Exit::Fault
        }
    }
}

fn run(cli: Cli) -> Result<Exit, Error> {
    match cli.verb {
        Verb::Scan(arguments) => scan(arguments),
        Verb::Explain(arguments) => explain_module(arguments),
        Verb::Weigh(arguments) => weigh(arguments),
        Verb::Settle(arguments) => settle(arguments),
        Verb::Platform(arguments) => platform(arguments),
        Verb::Schema { out } => {
            Output::open(out.as_deref())?.write(|out| out.write_all(json::SCHEMA.as_bytes()))?;
            Ok(Exit::Fine)
        }
        Verb::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Cli::command(), "secateur", &mut script);
            Output::Standard.write(|out| out.write_all(&script))?;
            Ok(Exit::Fine)
        }
        Verb::Manual => {
            Output::Standard.write(|out| manual(out))?;
            Ok(Exit::Fine)
        }
    }
}

/// One page for the whole command: its own part, then the options and examples of each verb, which would otherwise be
/// in pages of their own that nothing installs.
fn manual(out: &mut dyn Write) -> io::Result<()> {
    let mut command = Cli::command();
    command.build();
    let page = clap_mangen::Man::new(command.clone());
    page.render_title(out)?;
    page.render_name_section(out)?;
    page.render_synopsis_section(out)?;
    page.render_description_section(out)?;
    page.render_options_section(out)?;
    for verb in command.get_subcommands() {
        writeln!(out, ".SH \"{}\"", verb.get_name().to_uppercase())?;
        let part = clap_mangen::Man::new(verb.clone());
        let mut text = Vec::new();
        part.render_synopsis_section(&mut text)?;
        part.render_description_section(&mut text)?;
        part.render_options_section(&mut text)?;
        part.render_extra_section(&mut text)?;
        // Sections of a verb's page are subsections of this one.
        for line in String::from_utf8_lossy(&text).lines() {
            match line.strip_prefix(".SH ") {
                Some(title) => writeln!(out, ".SS {title}")?,
                None => writeln!(out, "{line}")?,
            }
        }
    }
    page.render_version_section(out)
}

fn scan(arguments: ScanArgs) -> Result<Exit, Error> {
    let ScanArgs { program, platform, selection, by_archive, format, output } = arguments;
    let mut plan = cli::plan(program, platform, selection)?;
    plan.by_archive = by_archive;
    plan.said.extend(by_archive.then(|| "--by-archive".to_owned()));
    let render: fn(&Report, &Style, &mut dyn Write) -> io::Result<()> = match format {
        ScanFormat::Text => text::render,
        ScanFormat::List => |report, _, out| list::render(report, out),
        ScanFormat::Json => |report, _, out| json::render(report, out),
        ScanFormat::Markdown => |report, _, out| markdown::render(report, out),
        ScanFormat::Dot => |report, _, out| dot::render(&diagram::of_scan(report), out),
        ScanFormat::Mermaid => |report, _, out| mermaid::render(&diagram::of_scan(report), out),
        ScanFormat::Svg => |report, _, out| svg::render(&diagram::of_scan(report), out),
        // It shows paths and has switches, for which a report is not enough.
        ScanFormat::Html => {
            let work = |bar: &Bar| pipeline::dossier(&plan, bar);
            return answer(&output, work, |dossier| &dossier.report, |dossier, _, out| html::render(dossier, out));
        }
    };
    answer(&output, |bar| pipeline::scan(&plan, bar), |report| report, render)
}

fn explain_module(arguments: ExplainArgs) -> Result<Exit, Error> {
    let ExplainArgs { module, program, platform, selection, format, output } = arguments;
    let plan = cli::plan(program, platform, selection)?;
    answer(
        &output,
        |bar| pipeline::explain(&plan, &module, bar),
        |explanation| &explanation.report,
        |explanation, style, out| match format {
            Format::Text => explain::render(explanation, style, out),
            Format::Json => json::render_explanation(explanation, out),
            Format::Dot => dot::render(&diagram::of_explanation(explanation), out),
            Format::Mermaid => mermaid::render(&diagram::of_explanation(explanation), out),
            Format::Svg => svg::render(&diagram::of_explanation(explanation), out),
        },
    )
}

fn weigh(arguments: WeighArgs) -> Result<Exit, Error> {
    let WeighArgs { inputs, start, platform, selection, modules, link, by_archive, format, output } = arguments;
    let plan = Plan { by_archive, ..cli::plan(ProgramArgs { inputs, start }, platform, selection)? };
    let wanted = Weighed { modules, link };
    let destination = Output::open(output.out.as_deref())?;
    let bar = Bar::new(output.quiet);
    let weighing = on_threads(output.threads, || pipeline::weigh(&plan, &wanted, &bar));
    bar.clear();
    let weighing = weighing?;
    let style = destination.style(output.colour.into(), output.width);
    destination.write(|out| match format {
        PlainFormat::Text => weighing::text::render(&weighing, &style, out),
        PlainFormat::Json => weighing::json::render(&weighing, out),
    })?;
    Ok(weighing.report.as_ref().map_or(Exit::Fine, |report| end(report, &output)))
}

/// A signal as what is kept of it; those of POSIX are small and above 0, which stands for none.
fn number(signal: i32) -> usize {
    usize::try_from(signal).unwrap_or(0)
}

fn settle(arguments: SettleArgs) -> Result<Exit, Error> {
    let trial = arguments.trial();
    let SettleArgs { program, jdk, selection, format, output, .. } = arguments;
    let plan = cli::plan(program, PlatformChoice { jdk: Some(jdk), release: None }, selection)?;
    let stop = Arc::new(AtomicUsize::new(0));
    let signals = [signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM, signal_hook::consts::SIGHUP];
    for signal in signals {
        // The command has a process group of its own and does not hear the terminal's: it is ended before this process is.
        signal_hook::flag::register_usize(signal, Arc::clone(&stop), number(signal))
            .map_err(|error| Error::Internal(format!("signal {signal} cannot be watched: {error}")))?;
    }
    // The sentence that says why, where the trial failed.
    let failed: Cell<Option<String>> = Cell::new(None);
    let ended = answer(
        &output,
        |bar| pipeline::settle(&plan, &trial, &stop, bar),
        |trial| {
            failed.set((!trial.passed).then(|| trial.message.clone()));
            &trial.report
        },
        |trial, style, out| match format {
            PlatformFormat::Text => trial::text::render(trial, style, out),
            PlatformFormat::List => list::render_trial(trial, out),
            PlatformFormat::Json => trial::json::render(trial, out),
        },
    );
    let signal = stop.load(Ordering::Relaxed);
    if let (Err(Error::BrokenOff), Some(signal)) = (&ended, signals.into_iter().find(|known| number(*known) == signal))
    {
        say(&Error::BrokenOff.to_string());
        // Whoever sent it sees that it was heard; the exit status stands where the system does not let it.
        let _ = signal_hook::low_level::emulate_default_handler(signal);
    }
    let exit = ended?;
    let Some(message) = failed.take() else { return Ok(exit) };
    if format == PlatformFormat::List {
        // Nothing else says it.
        say(&message);
    }
    Ok(Exit::TrialFailed)
}

fn platform(arguments: PlatformArgs) -> Result<Exit, Error> {
    let PlatformArgs { platform, format, output } = arguments;
    let plan = Plan { jdk: platform.jdk, release: platform.release, ..Plan::default() };
    let destination = Output::open(output.out.as_deref())?;
    let catalogue = pipeline::platform(&plan)?;
    let style = destination.style(output.colour.into(), output.width);
    destination.write(|out| match format {
        PlatformFormat::Text => listing::render(&catalogue, &style, out),
        PlatformFormat::List => list::render_platform(&catalogue, out),
        PlatformFormat::Json => json::render_platform(&catalogue, out),
    })?;
    Ok(Exit::Fine)
}

/// Works out an answer on the threads asked for and prints it; its report tells the exit status.
fn answer<T: Send>(
    output: &OutputArgs,
    work: impl FnOnce(&Bar) -> Result<T, Error> + Send,
    report: impl FnOnce(&T) -> &Report,
    render: impl FnOnce(&T, &Style, &mut dyn Write) -> io::Result<()>,
) -> Result<Exit, Error> {
    let destination = Output::open(output.out.as_deref())?;
    let bar = Bar::new(output.quiet);
    let result = on_threads(output.threads, || work(&bar));
    bar.clear();
    let result = result?;
    let style = destination.style(output.colour.into(), output.width);
    destination.write(|out| render(&result, &style, out))?;
    Ok(end(report(&result), output))
}

/// Columns of a reason that is said on standard error; the names in it may be of any length.
const REASON: usize = 110;

/// What is said of an answer besides the answer, and the exit status.
fn end(report: &Report, output: &OutputArgs) -> Exit {
    if output.timings {
        for (stage, time) in &report.timings {
            let _ = writeln!(io::stderr(), "{stage:<10} {:>9.1} ms", time.as_secs_f64() * 1e3);
        }
    }
    if report.has_read_nothing() && !output.quiet {
        let why = |first: &Finding| {
            let reason = visible(&format!("{}: {}", first.place, first.message)).into_owned();
            format!(": {}", Width(REASON).shorten(&reason))
        };
        let why = report.findings.first().map_or_else(String::new, why);
        say(&format!("incomplete: no class could be read, so there is no list of modules{why}"));
    } else if !report.complete && !output.quiet {
        say("incomplete: part of the input could not be read or judged; the findings of scan say which");
    }
    Exit::of_answer(report.complete)
}

fn on_threads<T: Send>(threads: Option<u16>, work: impl FnOnce() -> Result<T, Error> + Send) -> Result<T, Error> {
    match threads {
        // One thread more than there are processors would take turns with those that work for it.
        None => rayon::scope(|_| work()),
        Some(threads) => rayon::ThreadPoolBuilder::new()
            .num_threads(threads.into())
            .build()
            .map_err(|error| Error::Usage(format!("--threads {threads}: {error}")))?
            .install(work),
    }
}

/// An error with its causes behind it.
fn chain(error: &Error) -> String {
    let mut line = error.to_string();
    let mut cause = error.source();
    while let Some(error) = cause {
        let text = error.to_string();
        // Messages that repeat their cause are said once.
        if !line.ends_with(&text) {
            line = format!("{line}: {text}");
        }
        cause = error.source();
    }
    line
}

/// What a panic was given to say.
fn words(payload: &(dyn Any + Send)) -> &str {
    let literal = payload.downcast_ref::<&str>().copied();
    literal.or_else(|| payload.downcast_ref::<String>().map(String::as_str)).unwrap_or("it left no message")
}

/// One line on standard error. Where that is closed there is nobody left to tell.
fn say(line: &str) {
    let _ = writeln!(io::stderr(), "secateur: {}", visible(line));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_ends_in_its_own_status() {
        assert_eq!(ending(|| panic!("the tide is out")), Exit::Fault);
        assert_eq!([words(&"literal"), words(&String::from("made up"))], ["literal", "made up"]);
    }

    #[test]
    fn a_cause_is_said_once() {
        let error = Error::Output { path: "-".into(), source: io::Error::other("the disk is full") };
        assert_eq!(chain(&error), "cannot write -: the disk is full");
    }
}

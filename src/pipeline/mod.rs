//! The order of the stages: the only place that knows it.
//!
//! The first function to read is [`scan`].

mod assemble;
mod dossier;
mod explain;
mod inquiry;
mod launch;
mod listing;
mod path;
mod purposes;
mod remarks;
mod responsibility;
mod settle;
mod weigh;

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicUsize;
use std::time::{Duration, Instant};

use crate::archive;
use crate::diag::Findings;
use crate::error::Error;
use crate::graph::ModuleGraph;
use crate::plan::{Plan, TrialPlan, Weighed};
use crate::platform::{Catalogue, ModuleId};
use crate::program::{self, EntryPoints, Listed, Program, Resources, Said, View, Wanted};
use crate::progress::{Progress, Stage};
use crate::reach::{self, Reach, Start};
use crate::report::dossier::Dossier;
use crate::report::responsibility::Responsibility;
use crate::report::trial::TrialReport;
use crate::report::weighing::Weighing;
use crate::report::{Explanation, PlatformListing, Report};
use crate::verdict::{self, Judgement, Selection};
use crate::weight::{Scales, Weight};
use crate::witness::{self, Log};

/// Everything that the stages made, before it is put into words.
struct Analysis {
    program: Program,
    view: View,
    choice: program::Choice,
    catalogue: Catalogue,
    scales: Scales,
    graph: ModuleGraph,
    entry_points: EntryPoints,
    resources: Resources,
    reach: Reach,
    /// Archives that are agents of the launch.
    agents: Vec<PathBuf>,
    listed: Vec<Listed>,
    logs: Vec<Log>,
    judgement: Judgement,
    selection: Selection,
    /// Kept modules that the launch has to name as well.
    late: Vec<ModuleId>,
    findings: Findings,
    /// Where the plan asks for it.
    responsibility: Option<Responsibility>,
    timings: Vec<(Stage, Duration)>,
}

/// Scans the inputs of a plan.
///
/// # Errors
///
/// [`Error::Usage`] for a contradictory plan, [`Error::Input`] for an input that does not exist, [`Error::Jdk`] for a
/// folder that is no JDK. Whatever else is wrong is a finding of the report.
pub fn scan(plan: &Plan, progress: &dyn Progress) -> Result<Report, Error> {
    let analysis = analyse(plan, progress)?;
    let report = assemble::report(plan, &analysis);
    // Giving back a large program's names and maps takes longer than the verdict, and nobody need wait for it.
    rayon::spawn(move || drop(analysis));
    Ok(report)
}

/// Scans the inputs of a plan, and gathers what can be looked up and tried out in the answer.
///
/// # Errors
///
/// As [`scan`].
pub fn dossier(plan: &Plan, progress: &dyn Progress) -> Result<Dossier, Error> {
    let analysis = analyse(plan, progress)?;
    let dossier = dossier::dossier(plan, &analysis);
    rayon::spawn(move || drop(analysis));
    Ok(dossier)
}

/// Says why a module has its standing.
///
/// # Errors
///
/// As [`scan`]; also [`Error::Usage`] for a module that the platform does not have.
pub fn explain(plan: &Plan, module: &str, progress: &dyn Progress) -> Result<Explanation, Error> {
    let analysis = analyse(plan, progress)?;
    explain::explanation(plan, &analysis, module)
}

/// Weighs images of what a scan selects, or of modules that are named in place of a program.
///
/// # Errors
///
/// As [`scan`]; also [`Error::Usage`] for a module that the platform does not have, for options of the linker whose effect
/// is not known, and for neither a program nor modules.
pub fn weigh(plan: &Plan, wanted: &Weighed, progress: &dyn Progress) -> Result<Weighing, Error> {
    match (plan.inputs.is_empty(), wanted.modules.is_empty()) {
        (false, true) => weigh::program(plan, wanted, analyse(plan, progress)?, progress),
        (true, false) => {
            plan.validate()?;
            let (catalogue, reason) = named_platform(plan)?;
            weigh::modules(plan, wanted, &catalogue, reason, progress)
        }
        (true, true) => Err(Error::Usage("weigh needs a program, or modules by --modules".into())),
        (false, false) => Err(Error::Usage("--modules stands in place of a program: give one of them".into())),
    }
}

/// The platform that a plan names, or the newest one built in, and why it was taken.
fn named_platform(plan: &Plan) -> Result<(Catalogue, &'static str), Error> {
    match (&plan.jdk, plan.release) {
        (Some(home), _) => Ok((Catalogue::of_jdk(home)?, "the given JDK")),
        (None, Some(release)) => Ok((Catalogue::built_in(release)?, "asked for")),
        (None, None) => Ok((Catalogue::built_in(*Catalogue::BUILT_IN.end())?, "the newest one built in")),
    }
}

/// Scans the inputs of a plan, and lets the JVM show by a command of the user's which of the modules in doubt it misses.
///
/// A `stop` that is not 0 breaks off; whatever runs is ended first.
///
/// # Errors
///
/// As [`scan`]; also [`Error::Usage`] without a JDK and for a command that cannot be started, and [`Error::BrokenOff`].
pub fn settle(
    plan: &Plan,
    trial: &TrialPlan,
    stop: &Arc<AtomicUsize>,
    progress: &dyn Progress,
) -> Result<TrialReport, Error> {
    settle::settle(plan, trial, stop, progress)
}

/// Lists what a catalogue or a JDK holds.
///
/// # Errors
///
/// [`Error::Usage`] for a release without catalogue, [`Error::Jdk`] for a folder that is no JDK.
pub fn platform(plan: &Plan) -> Result<PlatformListing, Error> {
    plan.validate()?;
    let (catalogue, reason) = named_platform(plan)?;
    listing::listing(&catalogue, reason)
}

fn analyse(plan: &Plan, progress: &dyn Progress) -> Result<Analysis, Error> {
    plan.validate()?;
    purposes::chosen(plan)?;
    let mut clock = Clock::new();
    let mut findings = Findings::new(plan.limits.diagnostics_per_code);
    progress.start(Stage::Archives, 0);
    let agents = launch::agents(plan, &mut findings);
    launch::unclear(plan, &mut findings);
    let inputs: Vec<PathBuf> = plan.inputs.iter().chain(&agents).cloned().collect();
    let archives = archive::open(&inputs, &plan.limits)?;
    clock.lap(Stage::Archives);
    let program = Program::read(archives, &plan.limits, &mut findings, progress);
    clock.lap(Stage::Classes);
    progress.start(Stage::Platform, 0);
    let jdk = plan.jdk.as_deref().map(Catalogue::of_jdk).transpose()?;
    let wanted = match (&jdk, plan.release) {
        (Some(jdk), _) => Wanted::OfJdk(jdk.release),
        (None, Some(release)) => Wanted::Named(release),
        (None, None) => Wanted::Unsaid,
    };
    let choice = program::choose(&program, wanted, &Catalogue::BUILT_IN);
    let catalogue = match jdk {
        Some(jdk) => jdk,
        None => Catalogue::built_in(choice.release)?,
    };
    let graph = ModuleGraph::new(&catalogue);
    let logs = witness::read(&plan.witness, &catalogue, &plan.limits, &mut findings)?;
    let listed = plan.names.iter().map(|path| program::listed(path)).collect::<Result<Vec<_>, Error>>()?.concat();
    let scales = Scales::of(&catalogue)?;
    clock.lap(Stage::Platform);
    let ground = Ground {
        program: &program,
        release: choice.release,
        catalogue: &catalogue,
        graph: &graph,
        scales: &scales,
        agents: &agents,
        listed: &listed,
        logs: &logs,
    };
    let judged = judge(plan, &ground, None, (&mut findings, &mut clock), progress)?;
    let Judged { view, entry_points, resources, reach, judgement, selection } = judged;
    let mut analysis = Analysis {
        scales,
        program,
        view,
        choice,
        catalogue,
        graph,
        entry_points,
        resources,
        reach,
        agents,
        listed,
        logs,
        judgement,
        selection,
        late: Vec::new(),
        findings,
        responsibility: None,
        timings: Vec::new(),
    };
    analysis.late = launch::late(plan, &analysis);
    if plan.by_archive {
        analysis.responsibility = Some(responsibility::responsibility(plan, &analysis, progress)?);
        clock.lap(Stage::Removals);
    }
    analysis.timings = clock.laps;
    Ok(analysis)
}

/// A program and what it is judged for.
struct Ground<'a> {
    program: &'a Program,
    release: u16,
    catalogue: &'a Catalogue,
    graph: &'a ModuleGraph,
    scales: &'a Scales,
    agents: &'a [PathBuf],
    listed: &'a [Listed],
    logs: &'a [Log],
}

/// What follows from that.
struct Judged {
    view: View,
    entry_points: EntryPoints,
    resources: Resources,
    reach: Reach,
    judgement: Judgement,
    selection: Selection,
}

/// The stages behind reading. `whole` is where the program starts as long as no archive has been taken from it.
fn judge(
    plan: &Plan,
    ground: &Ground<'_>,
    whole: Option<&EntryPoints>,
    (findings, clock): (&mut Findings, &mut Clock),
    progress: &dyn Progress,
) -> Result<Judged, Error> {
    let Ground { program, release, catalogue, graph, scales, agents, listed, logs } = *ground;
    progress.start(Stage::Reach, 0);
    let view = program.view(release, findings);
    let resources = Resources::read(program, release, &plan.limits, findings);
    let said =
        Said { inputs: &plan.inputs, entries: &plan.entries, agents, properties: &plan.launch.properties, listed };
    let entry_points = program::entry_points(program, &view, &resources.names, said, whole, findings)?;
    let known = entry_points.listed_classes();
    let foreign: Vec<Listed> = listed.iter().filter(|one| !known.contains(&*one.class)).cloned().collect();
    let own = program::own_classes(program, &view);
    let start = Start { entry_points: &entry_points, resources: &resources, own: &own };
    let reach = reach::reach(program, &view, catalogue, &start, &plan.limits, findings);
    program.version_findings(&view, release, &|class| reach.is_certain(class), findings);
    clock.lap_with_parts(Stage::Reach, [(Stage::LookUps, reach.times.0), (Stage::Verifier, reach.times.1)]);
    progress.start(Stage::Verdict, 0);
    let answer =
        inquiry::ask((program, &view, catalogue), (&reach, &resources.texts), &plan.launch, &plan.limits, findings);
    clock.lap(Stage::Needs);
    remarks::unknown_names(catalogue, &foreign, findings);
    let judgement = verdict::judge(&verdict::Case {
        program,
        view: &view,
        reach: &reach,
        resources: &resources.names,
        catalogue,
        needs: &answer,
        launch: &plan.launch,
        purposes: &purposes::chosen(plan)?,
        listed: &foreign,
        logs,
    });
    let bytes = |id| scales.module(catalogue, id).map(Weight::total);
    let selection = verdict::select(catalogue, graph, &judgement, plan.policy, &plan.with, &plan.without, &bytes)?;
    clock.lap(Stage::Verdict);
    Ok(Judged { view, entry_points, resources, reach, judgement, selection })
}

/// Takes the time of each stage.
struct Clock {
    last: Instant,
    laps: Vec<(Stage, Duration)>,
}

impl Clock {
    fn new() -> Self {
        Clock { last: Instant::now(), laps: Vec::new() }
    }

    fn lap(&mut self, stage: Stage) {
        let now = Instant::now();
        self.laps.push((stage, now - self.last));
        self.last = now;
    }

    /// The same of a stage with parts that are told apart: what they took does not count as the stage's own.
    fn lap_with_parts<const N: usize>(&mut self, stage: Stage, parts: [(Stage, Duration); N]) {
        self.lap(stage);
        if let Some((_, whole)) = self.laps.last_mut() {
            *whole = whole.saturating_sub(parts.iter().map(|(_, part)| *part).sum());
        }
        self.laps.extend(parts);
    }
}

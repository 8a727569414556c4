//! A scan, then trials of the user's command, put into words. The function to read is [`settle`].

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::AtomicUsize;

use crate::diag::Findings;
use crate::error::Error;
use crate::plan::{Plan, TrialPlan};
use crate::platform::ModuleId;
use crate::progress::Progress;
use crate::report::trial::{AccountRow, ListRow, Shown, TrialReport, TrialRow};
use crate::trial::{self, Account, Case, End, Listed, Outcome, Setting, Settled, Showing};
use crate::verdict::Standing;
use crate::weight::Weight;

use super::{Analysis, analyse, assemble};

/// Scans, runs the command, and tells what that showed.
pub(super) fn settle(
    plan: &Plan,
    wanted: &TrialPlan,
    stop: &Arc<AtomicUsize>,
    progress: &dyn Progress,
) -> Result<TrialReport, Error> {
    let jdk = plan.jdk.clone().ok_or_else(|| Error::Usage("settle needs a real JDK: give --jdk DIR".to_owned()))?;
    let expect = wanted
        .expect
        .as_ref()
        .map(|path| std::fs::read(path).map_err(|source| Error::Input { path: path.clone(), source }))
        .transpose()?;
    let mut analysis = analyse(plan, progress)?;
    let mut findings = std::mem::replace(&mut analysis.findings, Findings::new(plan.limits.diagnostics_per_code));
    let catalogue = &analysis.catalogue;
    let case = Case {
        catalogue,
        graph: &analysis.graph,
        scales: &analysis.scales,
        standings: analysis.judgement.standings().filter(|(id, _)| !catalogue.is_base(*id)).collect(),
        start: &analysis.selection,
        wished: plan.with.iter().filter_map(|name| catalogue.module(name)).collect(),
        limits: &plan.limits,
    };
    let setting = Setting {
        jdk,
        command: wanted.command.clone(),
        repeat: wanted.repeat,
        timeout: wanted.timeout,
        expect,
        stop: Arc::clone(stop),
    };
    let settled = trial::settle(&case, &setting, &mut findings, progress)?;
    drop(case);
    analysis.findings = findings;
    Ok(told(plan, wanted, &analysis, &settled))
}

fn told(plan: &Plan, wanted: &TrialPlan, analysis: &Analysis, settled: &Settled) -> TrialReport {
    let lists = lists(analysis, settled);
    let order = if wanted.trust_command {
        ["smallest", "settled", "by-reading"]
    } else {
        ["settled", "by-reading", "smallest"]
    };
    let found =
        order.iter().find_map(|name| lists.iter().position(|list| list.name == *name && list.linked == Some("passed")));
    let kept: BTreeSet<&str> =
        found.and_then(|at| lists.get(at)).iter().flat_map(|list| &list.modules).map(String::as_str).collect();
    let modules = modules(analysis, settled, &kept);
    let (verdict, message, account) = end(settled, found.and_then(|at| lists.get(at)), &lists);
    TrialReport {
        report: assemble::report(plan, analysis),
        command: wanted.command.iter().map(|word| word.to_string_lossy().into_owned()).collect(),
        verdict,
        passed: found.is_some(),
        message,
        account,
        cautions: cautions(found.and_then(|at| lists.get(at)), &modules),
        lists,
        found,
        modules,
        jvms: settled.jvms,
        doubtful: settled.doubtful,
        runs: settled.runs.0,
        runs_at_most: settled.runs.1,
        repeat: wanted.repeat,
        notes: notes(settled),
    }
}

fn lists(analysis: &Analysis, settled: &Settled) -> Vec<ListRow> {
    let Analysis { catalogue, scales, .. } = analysis;
    let row = |name, meaning, listed: &Listed| ListRow {
        name,
        meaning,
        modules: listed.modules.iter().map(|&id| catalogue.name(id).to_owned()).collect(),
        bytes: scales.total(catalogue, listed.modules.iter().copied()).exact(),
        withheld: listed.limited.map(outcome),
        linked: listed.linked.map(outcome),
        account: listed.account.as_ref().map(account),
    };
    let mut rows = vec![row("by-reading", "what scan keeps", &settled.start)];
    rows.extend(
        settled
            .settled
            .as_ref()
            .map(|listed| row("settled", "without what was in doubt and is not missed by this command", listed)),
    );
    rows.extend(
        settled
            .smallest
            .as_ref()
            .map(|listed| row("smallest", "nothing but what this command was seen to need", listed)),
    );
    rows
}

fn modules(analysis: &Analysis, settled: &Settled, kept: &BTreeSet<&str>) -> Vec<TrialRow> {
    let catalogue = &analysis.catalogue;
    let ids: BTreeSet<ModuleId> = settled.showings.keys().chain(settled.observed.keys()).copied().collect();
    let mut rows: Vec<TrialRow> = ids
        .into_iter()
        .map(|id| {
            let name = catalogue.name(id);
            let showing = settled.showings.get(&id);
            let seen = settled.observed.get(&id);
            let (shown, class, required_by, of) = match showing {
                None => (None, None, None, None),
                Some(Showing::Missed { class, account }) => (Some(Shown::Missed), class.clone(), None, Some(account)),
                Some(Showing::NotMissed) => (Some(Shown::NotMissed), None, None, None),
                Some(Showing::Degrades(account)) => (Some(Shown::Degrades), None, None, Some(account)),
                Some(Showing::Flips(account)) => (Some(Shown::Flips), None, None, Some(account)),
                Some(Showing::Required(by)) => {
                    (Some(Shown::Required), None, Some(catalogue.name(*by).to_owned()), None)
                }
                Some(Showing::Untried) => (Some(Shown::Untried), None, None, None),
            };
            TrialRow {
                name: name.to_owned(),
                standing: analysis.judgement.standing(id).map(standing),
                shown,
                loads: seen.map_or(0, |seen| seen.loads),
                loaded: seen.map(|seen| seen.classes.clone()).unwrap_or_default(),
                kept: kept.contains(name),
                only_smallest: lists_it(settled.settled.as_ref(), id) && !lists_it(settled.smallest.as_ref(), id),
                bytes: analysis.scales.module(catalogue, id).map(Weight::total),
                class,
                required_by,
                account: of.map(account),
            }
        })
        .collect();
    rows.sort_by(|a, b| {
        (a.shown.is_none(), a.shown, b.bytes, &a.name).cmp(&(b.shown.is_none(), b.shown, a.bytes, &b.name))
    });
    rows
}

fn lists_it(listed: Option<&Listed>, id: ModuleId) -> bool {
    listed.is_some_and(|listed| listed.modules.binary_search(&id).is_ok())
}

/// The word, the sentence and the run that decided.
fn end(settled: &Settled, found: Option<&ListRow>, lists: &[ListRow]) -> (&'static str, String, Option<AccountRow>) {
    let said = |word, text: &str, account: Option<&Account>| (word, text.to_owned(), account.map(self::account));
    match &settled.end {
        End::FailsUntrimmed(account) => said(
            "fails-untrimmed",
            "The command does not pass on the whole JDK, so no trial can show anything.",
            Some(account),
        ),
        End::FlipsUntrimmed(account) => said(
            "flips-untrimmed",
            "The command passes at one time and fails at another on the whole JDK, so trials prove nothing.",
            Some(account),
        ),
        End::Flips(account) => said(
            "flips",
            "The command passes at one time and fails at another with the same modules, so trials prove nothing.",
            Some(account),
        ),
        End::NoJvm => said(
            "no-jvm",
            "The command passes and starts no JVM of the given JDK, so no trial can show anything: it should take java \
             from PATH or JAVA_HOME.",
            None,
        ),
        End::NoList(account) => said(
            "no-list",
            "The command passes on the whole JDK, but with no list below it: neither with the one by reading, nor with \
             what was seen loading, nor with all that anything names.",
            Some(account),
        ),
        End::NoImage(account) => said(
            "no-image",
            "No list passed on a linked image, so none is recommended, whatever passed while modules were only \
             withheld.",
            Some(account),
        ),
        End::Settled => {
            let Some(found) = found else { return said("no-image", "No list passed on a linked image.", None) };
            let first = lists.first();
            let size = |list: &ListRow| list.bytes.map_or_else(|| "an unknown size".to_owned(), megabytes);
            let reading = first.map(|list| format!(" instead of {} by reading", size(list))).unwrap_or_default();
            let text = format!(
                "The command passes on a linked image of {}: {}{reading}.",
                assemble::count(found.modules.len(), "module"),
                size(found)
            );
            said("settled", &text, None)
        }
    }
}

fn megabytes(bytes: u64) -> String {
    crate::report::layout::megabytes(bytes)
}

fn notes(settled: &Settled) -> Vec<String> {
    let mut notes = settled.notes.clone();
    if settled.every_jvm {
        notes.push(
            "A JVM was started by something else than the launcher java, so options went to every JVM by \
             JAVA_TOOL_OPTIONS."
                .to_owned(),
        );
    }
    if settled.modular {
        notes.push(
            "The command starts a main module, which undoes withholding: each trial ran on a linked image.".to_owned(),
        );
    }
    if settled.limited {
        notes.push(
            "The command limits modules by itself (--limit-modules), so that passing while modules are withheld would prove \
             nothing: each trial ran on a linked image. What its limits keep out it does not show."
                .to_owned(),
        );
    }
    if settled.left_behind.0 > 0 {
        notes.push(format!(
            "The command left processes running in {} ({} in all); they were ended.",
            assemble::count(settled.left_behind.0 as usize, "run"),
            settled.left_behind.1
        ));
    }
    notes
}

fn cautions(found: Option<&ListRow>, modules: &[TrialRow]) -> Vec<String> {
    let Some(found) = found else { return Vec::new() };
    let mut cautions = vec![
        "A command shows what it runs and no more: another use of the program may need a module that is not missed here."
            .to_owned(),
        "Some losses are silent: texts in other languages, what a TLS peer offers, options of sockets. Let the command \
         check what you depend on."
            .to_owned(),
    ];
    let left_out = modules.iter().any(|row| !row.kept && row.only_smallest);
    if found.name == "smallest" && left_out {
        cautions.push(
            "The list leaves out modules that reading calls needed, since you trust the command to run all that matters."
                .to_owned(),
        );
    } else if modules.iter().any(|row| row.kept && row.shown == Some(Shown::NotMissed)) {
        cautions.push(
            "The list keeps what reading calls needed although this command does not miss it. If the command runs all \
             that matters, --trust-command takes the smallest list instead."
                .to_owned(),
        );
    }
    if modules.iter().any(|row| !row.kept && row.loads > 0) {
        cautions.push(
            "Some modules of which classes were seen loading are left out, since the command passes without: often \
             they are loaded only because they are there."
                .to_owned(),
        );
    }
    cautions
}

fn account(account: &Account) -> AccountRow {
    AccountRow { ending: account.ending.clone(), lines: account.lines.clone() }
}

fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Passed => "passed",
        Outcome::Degraded => "degraded",
        Outcome::Failed => "failed",
        Outcome::Flipped => "flipped",
    }
}

fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Needed => "needed",
        Standing::Uncertain => "uncertain",
        Standing::Tolerated => "tolerated",
        Standing::Dormant => "dormant",
    }
}

//! A made-up answer that has every kind of row, hostile names included: what tests of renderers print.
//!
//! `tests/schema.rs` takes this file in as well, so it names its types through `super`. First to read is [`report`].

use super::dossier::model::{
    self, Contents, Files, Held, Image, IndexWire, Layer, Model, Packed, Packing, Shared, Stored,
};
use super::dossier::{Dossier, ImageOptionRow, ModuleWitnesses, OtherwiseRow, Part};
use super::responsibility::{ArchiveRow, CostRow, Responsibility, Share};
use super::trial::{AccountRow, ListRow, Shown, TrialReport, TrialRow};
use super::{
    EntryPoint, EvidenceRow, Explanation, Finding, InputRow, LaunchRow, ListedRow, LogRow, MissingRow, ModuleRow,
    ModuleWeight, OpaqueRow, PlatformListing, PlatformModuleRow, PlatformRow, PurposeRow, RemovedRow, Report, Standing,
    Step, SuppliedRow, Totals, WeightRow, Witness,
};

/// An archive name that moves the cursor and turns the writing direction where it is not escaped.
pub const HOSTILE: &str = "tide\x1b[2J\u{202e}raj.jar";

fn evidence(kind: &'static str, phrase: &'static str, stage: &'static str, target: &str) -> EvidenceRow {
    EvidenceRow {
        kind,
        standing: Standing::Needed,
        phrase: phrase.into(),
        stage,
        target: target.into(),
        archive: "harbour.jar!/BOOT-INF/lib/store.jar".into(),
        asker: "harbour.store.Ledger".into(),
        member: Some("open(Ljava/lang/String;)V".into()),
        also: 3,
    }
}

fn module(name: &str, standing: Standing, kept: bool, root: bool, bytes: u64, reason: &str) -> ModuleRow {
    ModuleRow {
        name: name.into(),
        standing,
        kept,
        root,
        name_at_launch: false,
        reason: reason.into(),
        evidence: Vec::new(),
        evidence_omitted: 0,
        required_by: Vec::new(),
        requires: vec!["java.base".into()],
        weight: Some(ModuleWeight { classes: bytes, lib: bytes / 4, other: bytes / 10 }),
        sole_bytes: Some(0),
    }
}

/// The answer of a scan.
pub fn report() -> Report {
    let mut sql = module(
        "java.sql",
        Standing::Needed,
        true,
        true,
        220_000,
        "harbour.store.Ledger calls a static method of java.sql.DriverManager",
    );
    sql.evidence = vec![
        evidence("static-call", "calls a static method of", "run", "java.sql.DriverManager"),
        EvidenceRow {
            archive: HOSTILE.into(),
            member: None,
            also: 0,
            ..evidence("superclass", "extends", "load", "java.sql.SQLException")
        },
    ];
    sql.evidence_omitted = 4;
    sql.requires = vec!["java.base".into(), "java.logging".into()];
    let mut logging = module("java.logging", Standing::Implied, true, false, 280_000, "required by java.sql");
    logging.required_by = vec!["java.sql".into()];
    let mut base = module("java.base", Standing::Needed, true, true, 38_000_000, "every program rests on it");
    base.requires = Vec::new();
    let mut curves =
        module("jdk.crypto.ec", Standing::Uncertain, true, true, 90_000, "harbour.radio.Link opens TLS connections");
    curves.evidence = vec![evidence("name", "names", "name", "sun.security.ec.SunEC")];
    let mut desktop = module(
        "java.desktop",
        Standing::Tolerated,
        false,
        false,
        12_000_000,
        "harbour.viewer.Chart extends javax.swing.JFrame, and its caller bears the absence of it",
    );
    desktop.sole_bytes = Some(18_000_000);
    let mut incubator =
        module("jdk.incubator.tide", Standing::Needed, true, true, 10_000, "harbour.wave.Sum creates a jdk.tide.Lane");
    incubator.name_at_launch = true;
    incubator.weight = None;
    incubator.sole_bytes = None;
    Report {
        version: "0.1.0",
        inputs: vec![
            InputRow { path: "harbour.jar".into(), kind: "executable jar", archives: 4, classes: 61 },
            InputRow { path: HOSTILE.into(), kind: "jar", archives: 1, classes: 1 },
        ],
        totals: Totals {
            archives: 5,
            classes: 62,
            class_bytes: 181_200,
            methods: 640,
            classes_reached: 40,
            methods_reached: 212,
        },
        platform: PlatformRow {
            release: 17,
            source: "built-in catalogue".into(),
            reason: "the manifest of harbour.jar says it was built by 17".into(),
            modules: 70,
            notes: vec!["What release 17 keeps in jdk.hotspot.agent is taken from release 25.".into()],
        },
        entry_points: vec![EntryPoint { class: "harbour.Main".into(), reason: "Start-Class of harbour.jar".into() }],
        doubted: Vec::new(),
        shadowed: Vec::new(),
        launch: vec![
            LaunchRow {
                option: format!("-javaagent:{HOSTILE}"),
                from: "JAVA_TOOL_OPTIONS in prod.env".into(),
                implies: "needed",
                modules: vec!["java.instrument".into()],
                without: Some("the JVM does not start".into()),
            },
            LaunchRow {
                option: "-Xmx1g".into(),
                from: "--launch".into(),
                implies: "nothing",
                modules: Vec::new(),
                without: None,
            },
        ],
        purposes: vec![PurposeRow {
            purpose: "recording",
            title: "flight recordings",
            chosen: false,
            modules: vec!["jdk.jfr".into()],
            adds: vec!["jdk.jfr".into()],
            bytes: Some(1_400_000),
        }],
        listed: vec![ListedRow { path: "plugins.txt".into(), of_program: 3, of_platform: 1, unknown: 0 }],
        logs: vec![LogRow {
            path: format!("{HOSTILE}.log"),
            files: 3,
            loads: 12_345,
            shared: 17,
            modules: vec!["java.sql".into()],
        }],
        policy: "safe",
        list: ["java.base", "java.logging", "java.sql", "jdk.crypto.ec", "jdk.incubator.tide"]
            .map(String::from)
            .to_vec(),
        modules: vec![
            base,
            desktop,
            logging,
            module("java.rmi", Standing::Dormant, false, false, 300_000, "only harbour.old.Buoy names it"),
            sql,
            curves,
            incubator,
        ],
        weight: WeightRow {
            selection: Some(52_120_000),
            platform: Some(168_267_956),
            unknown: vec!["jdk.incubator.tide".into()],
            basis: "of 17.0.15, measured".into(),
        },
        responsibility: Some(responsibility()),
        missing: vec![MissingRow {
            package: "harbour.sonar".into(),
            types: 3,
            example: "harbour.sonar.Ping".into(),
            asker: "harbour.gauge.Depth".into(),
        }],
        missing_omitted: 2,
        removed: vec![RemovedRow {
            class: "javax.xml.bind.JAXBContext".into(),
            module: "java.xml.bind".into(),
            removed_in: 11,
            asker: "harbour.old.Stations".into(),
            askers: 2,
        }],
        supplied: vec![SuppliedRow { module: "java.sql".into(), types: 2, kept: true }],
        opaque: vec![OpaqueRow {
            purpose: "loads-by-name",
            call: "java.lang.Class.forName".into(),
            class: "harbour.plug.Socket".into(),
            member: "plug(Ljava/lang/String;)V".into(),
            archive: HOSTILE.into(),
            places: 3,
        }],
        opaque_omitted: 4,
        name_at_launch: vec!["jdk.incubator.tide".into()],
        findings: vec![
            Finding {
                severity: "incomplete",
                code: "damaged-entry",
                place: format!("{HOSTILE}!/harbour/Wave.class"),
                message: "its checksum is not the one that the directory states, so it was not read".into(),
            },
            Finding {
                severity: "warning",
                code: "duplicate-entry",
                place: "harbour.jar!/stations.xml".into(),
                message: "the archive holds it twice; the JVM sees the last".into(),
            },
            Finding {
                severity: "note",
                code: "shadowed-class",
                place: "harbour.jar!/BOOT-INF/lib/store.jar!/harbour/Main.class".into(),
                message: "the class of harbour.jar stands before it".into(),
            },
        ],
        findings_omitted: vec![("shadowed-class", 12)],
        complete: false,
        timings: Vec::new(),
        cautions: vec![
            "Run your own tests on the trimmed runtime: no analysis sees everything.".into(),
            "Link it anew whenever the JDK gets security updates.".into(),
        ],
    }
}

fn responsibility() -> Responsibility {
    let share = |modules: &[&str], bytes| Share { modules: modules.iter().map(ToString::to_string).collect(), bytes };
    Responsibility {
        archives: vec![
            ArchiveRow {
                archive: "harbour.jar".into(),
                goes: share(&["java.logging", "java.sql", "jdk.incubator.tide"], None),
                comes: Share::default(),
                own: share(&["jdk.incubator.tide"], None),
            },
            ArchiveRow {
                archive: HOSTILE.into(),
                goes: share(&["java.sql"], Some(7_000_000)),
                comes: share(&["java.rmi"], Some(300_000)),
                own: share(&["java.sql"], Some(7_000_000)),
            },
        ],
        omitted: 2,
        omitted_own: Some(0),
        without_effect: 3,
        shared: share(&["java.logging"], Some(280_000)),
        always: share(&["java.base"], Some(38_000_000)),
        total: None,
        uncertain: vec![CostRow { module: "jdk.crypto.ec".into(), goes: share(&["jdk.crypto.ec"], Some(90_000)) }],
    }
}

/// The answer of `explain java.sql`.
pub fn explanation() -> Explanation {
    let report = report();
    let row = report.modules.iter().find(|row| row.name == "java.sql").cloned();
    Explanation {
        module: "java.sql".into(),
        witnesses: vec![Witness {
            steps: vec![
                Step {
                    who: "Start-Class of harbour.jar".into(),
                    archive: String::new(),
                    how: "starts".into(),
                    stage: "run",
                },
                Step {
                    who: "harbour.Main.main".into(),
                    archive: "harbour.jar".into(),
                    how: "calls".into(),
                    stage: "run",
                },
                Step {
                    who: "harbour.store.Ledger.open".into(),
                    archive: "harbour.jar!/BOOT-INF/lib/store.jar".into(),
                    how: "calls a static method of".into(),
                    stage: "run",
                },
            ],
            evidence: evidence("static-call", "calls a static method of", "run", "java.sql.DriverManager"),
        }],
        witnesses_omitted: 5,
        chains: vec![vec!["java.sql.rowset".into(), "java.sql".into()]],
        brings: vec!["java.transaction.xa".into()],
        to_go: "harbour.store.Ledger would have to keep its readings without JDBC.".into(),
        row,
        report,
    }
}

/// What these modules weigh by; one of them is not known in every form.
fn model(parts: &[Part]) -> Model {
    let plain = |part: &Part| part.bytes.map(|bytes| bytes.classes);
    let held = |bytes| Stored { bytes, sizes: 900, gzip: Some(bytes / 3), zstd: Some(bytes / 4), ..Stored::default() };
    let rows = |stored: &dyn Fn(u64) -> Option<Stored>| {
        let row = |part: &Part| Some(Held { entries: 40, index: 3_000, stored: stored(plain(part)?)? });
        parts.iter().map(row).collect()
    };
    let texts = Stored { texts: 9_000, texts_gzip: Some(3_000), texts_zstd: Some(3_100), ..held(7_000) };
    let all: Vec<u16> = (0..parts.len() as u16).collect();
    let together = |bytes| vec![Shared { modules: all.clone(), bytes }];
    let layer = |bytes| Packed { bytes, layer: Some(Layer { gzip: bytes / 2, zstd: bytes / 2 }) };
    let files = |bytes| Files { count: 2, bytes, gzip: bytes / 4, zstd: bytes / 5 };
    Model {
        modules: parts
            .iter()
            .map(|part| {
                let plain = plain(part)?;
                Some(model::Module { description: 12_345, is_root: part.starts, has_main_class: true, plain })
            })
            .collect(),
        images: [(0, false), (1, false), (0, true)]
            .map(|(contents, startup_archive)| Some(Image { contents, beside: 0, startup_archive, more: 0 }))
            .to_vec(),
        contents: vec![
            Contents {
                modules: rows(&|bytes| Some(held(bytes))),
                texts: None,
                packing: Packing { percent: 100, header: 0 },
            },
            Contents {
                modules: rows(&|bytes| Some(texts).filter(|_| bytes > 1_000_000)),
                texts: Some(together(800)),
                packing: Packing { percent: 72, header: 29 },
            },
        ],
        beside: vec![parts.iter().map(|part| Some(layer(part.bytes?.lib + part.bytes?.other))).collect()],
        names: together(40),
        packages: together(30),
        notices: vec![(all.clone(), layer(20_000))],
        index: IndexWire { bytes: 1_000_000, gzip: 400_000, zstd: 420_000 },
        generated: model::Generated { class: 159_920, map: 528, map_with_default: 52, map_with_main: 68 },
        release_file: 40,
        startup: Some(model::Startup { listed: 40_000_000, least: files(24_000_000), most: files(25_000_000) }),
    }
}

/// The same scan with what a page needs; a reason in it is markup where it is not escaped.
pub fn dossier() -> Dossier {
    let report = report();
    let mut parts: Vec<Part> = report
        .modules
        .iter()
        .map(|row| Part {
            name: row.name.clone(),
            standing: Some(row.standing).filter(|&standing| standing != Standing::Implied),
            reason: Some(format!("{} </script><script>alert(1)</script><!-- & {HOSTILE}", row.reason)),
            requires: row.requires.clone(),
            starts: !row.name_at_launch,
            binds: Vec::new(),
            name_at_launch: row.name_at_launch,
            is_always_kept: false,
            bytes: row.weight,
        })
        .collect();
    parts.push(Part {
        name: "jdk.jlink".into(),
        standing: None,
        reason: None,
        requires: vec!["java.base".into()],
        starts: true,
        binds: vec!["java.base".into()],
        name_at_launch: false,
        is_always_kept: false,
        bytes: None,
    });
    let model = model(&parts);
    let paths = explanation().witnesses;
    let witnesses = vec![ModuleWitnesses { module: "java.sql".into(), paths, omitted: 5 }];
    let with = vec!["jdk.incubator.tide".into()];
    Dossier {
        report,
        parts,
        witnesses,
        said: vec!["--entry".into(), "harbour.Main".into()],
        images: vec![
            ImageOptionRow { label: "no options".into(), arguments: Vec::new() },
            ImageOptionRow { label: "texts shared".into(), arguments: vec!["--compress=1".into()] },
            ImageOptionRow { label: "with startup archives".into(), arguments: vec!["--generate-cds-archive".into()] },
        ],
        model: Some(model),
        advice: vec![format!("Smaller on disk, larger to pull. {HOSTILE}")],
        otherwise: vec![
            OtherwiseRow { purpose: "tls", module: "jdk.crypto.ec".into(), standing: Some(Standing::Tolerated) },
            OtherwiseRow { purpose: "tls", module: "java.logging".into(), standing: None },
        ],
        with,
        without: Vec::new(),
        not_linkable: Some("jdk.jlink".into()),
    }
}

/// The answer of `platform`, cut to three modules.
pub fn listing() -> PlatformListing {
    let module = |name: &str, requires: &[&str]| PlatformModuleRow {
        name: name.into(),
        requires: requires.iter().map(ToString::to_string).collect(),
        packages: 12,
        exports: vec!["java.sql".into(), "javax.sql".into()],
        uses: vec!["java.sql.Driver".into()],
        provides: Vec::new(),
        weight: Some(ModuleWeight { classes: 200_000, lib: 0, other: 40_000 }),
        closed_bytes: Some(50_300_000),
        not_by_default: false,
        from_release: None,
    };
    PlatformListing {
        platform: report().platform,
        modules: vec![
            module("java.base", &[]),
            module("java.sql", &["java.logging (transitive)", "java.transaction.xa (transitive)"]),
            PlatformModuleRow {
                weight: None,
                closed_bytes: None,
                not_by_default: true,
                from_release: Some(25),
                ..module("jdk.incubator.tide", &[])
            },
        ],
        basis: "of 17.0.15, measured".into(),
    }
}

/// The answer of a trial.
pub fn trial() -> TrialReport {
    let account =
        AccountRow { ending: "exit status 1".into(), lines: vec![format!("NoClassDefFoundError: {HOSTILE}")] };
    let list = |name, modules: &[&str], linked| ListRow {
        name,
        meaning: "a list",
        modules: modules.iter().map(|&module| module.to_owned()).collect(),
        bytes: Some(71_000_000),
        withheld: Some("passed"),
        linked,
        account: linked.is_none().then(|| account.clone()),
    };
    let row = |shown: Option<Shown>, only_smallest| TrialRow {
        name: "java.sql".into(),
        standing: Some("uncertain"),
        shown,
        loads: 12,
        loaded: vec!["java.sql.Driver".into()],
        kept: only_smallest,
        only_smallest,
        bytes: Some(220_000),
        class: Some("java.sql.Driver".into()),
        required_by: Some("java.sql.rowset".into()),
        account: Some(account.clone()),
    };
    let modules = Shown::ALL.into_iter().map(Some).chain([None]);
    TrialReport {
        report: report(),
        command: vec!["./smoke.sh".into(), HOSTILE.into()],
        verdict: "settled",
        passed: true,
        message: "The command passes on a linked image.".into(),
        account: Some(account.clone()),
        lists: vec![
            list("by-reading", &["java.base", "java.sql"], None),
            list("settled", &["java.base"], Some("passed")),
        ],
        found: Some(1),
        modules: modules.map(|shown| row(shown, false)).chain([row(Some(Shown::NotMissed), true)]).collect(),
        jvms: 3,
        doubtful: 4,
        runs: 9,
        runs_at_most: 14,
        repeat: 1,
        notes: vec!["The command left processes running.".into()],
        cautions: vec!["A command shows what it runs and no more.".into()],
    }
}

//! What the page's script makes of a model of weights, without a browser: the same as the tool, to the byte.
//!
//! Judge: `Scales::image`, which `tests/weight.rs` holds to images really linked. Node runs the script.

use std::process::Command;

use secateur::graph::ModuleGraph;
use secateur::pipeline;
use secateur::plan::Plan;
use secateur::platform::{Catalogue, ModuleId};
use secateur::progress::Silent;
use secateur::report::dossier::ImageOptionRow;
use secateur::weight::{Compression, Form, ImageOptions, Scales};
use serde_json::{Value, json};

use crate::browser::checked;
use crate::{DEMO, SEED, bytes, jdk};

/// Every form, and every option by itself and with all others.
fn options() -> Vec<ImageOptions> {
    let compressions = [Compression::None, Compression::SharedTexts, Compression::Zip(0), Compression::Zip(6)];
    let forms = compressions.into_iter().flat_map(|how| [false, true].map(|stripped| Form::new(stripped, how)));
    let locales = || vec!["de-DE".to_owned(), "fr".to_owned()];
    let ways: [fn(ImageOptions) -> ImageOptions; 7] = [
        |plain| plain,
        |plain| ImageOptions { no_headers: true, ..plain },
        |plain| ImageOptions { no_man_pages: true, ..plain },
        |plain| ImageOptions { no_commands: true, ..plain },
        |plain| ImageOptions { one_vm: true, ..plain },
        |plain| ImageOptions { startup_archive: true, ..plain },
        |plain| ImageOptions {
            no_headers: true,
            no_man_pages: true,
            no_commands: true,
            one_vm: true,
            startup_archive: true,
            ..plain
        },
    ];
    let plain = forms.map(|form| ImageOptions { form, ..ImageOptions::default() });
    let all = plain.flat_map(|plain| ways.map(|way| way(plain.clone())));
    all.flat_map(|one| [one.clone(), ImageOptions { locales: locales(), ..one }]).collect()
}

/// Closed lists from random roots: few, many, and at last all modules.
fn selections(catalogue: &Catalogue) -> Vec<Vec<ModuleId>> {
    let mut state = u64::from(SEED);
    let mut random = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    let graph = ModuleGraph::new(catalogue);
    let modules = catalogue.modules.len();
    let mut lists: Vec<Vec<ModuleId>> = (0..40)
        .map(|round| {
            let roots: Vec<ModuleId> = (0..=round / 2).map(|_| ModuleId(random(modules) as u16)).collect();
            graph.closure(&roots)
        })
        .collect();
    lists.push(graph.closure(&(0..modules as u16).map(ModuleId).collect::<Vec<_>>()));
    lists
}

/// What the script says; how many of its figures are known.
fn compared(plan: &Plan, catalogue: &Catalogue) -> (usize, usize) {
    let scales = Scales::of(catalogue).unwrap();
    let options = options();
    let mut dossier = pipeline::dossier(plan, &Silent).unwrap();
    dossier.model = scales.model(catalogue, &options);
    let row = |_: &_| ImageOptionRow { label: String::new(), arguments: Vec::new() };
    dossier.images = options.iter().map(row).collect();
    let images = dossier.model.iter().flat_map(|model| &model.images);
    let shown: Vec<&ImageOptions> =
        options.iter().zip(images).filter(|(_, image)| image.is_some()).map(|(options, _)| options).collect();
    let page = String::from_utf8(bytes(&dossier)).unwrap();
    let (_, after) = page.split_once("id=\"answer\">").unwrap();
    let lists = selections(catalogue);
    let names: Vec<Vec<&str>> = lists.iter().map(|list| list.iter().map(|id| catalogue.name(*id)).collect()).collect();
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.json");
    let block = after.split_once("</script>").unwrap().0;
    std::fs::write(&job, json!({ "answer": block, "lists": names }).to_string()).unwrap();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/judges/page/weigh.mjs");
    let out = checked(Command::new("node").arg(script).arg(job), "the page's script");
    let told: Value = serde_json::from_slice(&out).unwrap();
    let (mut disk, mut layers) = (0, 0);
    for (list, told) in lists.iter().zip(told.as_array().unwrap()) {
        assert_eq!(told.as_array().unwrap().len(), shown.len());
        for (options, told) in shown.iter().zip(told.as_array().unwrap()) {
            let image = scales.image(catalogue, list, options);
            let expected = image.map(|image| {
                disk += 1;
                layers += usize::from(image.layer.is_some());
                let layer = image.layer;
                json!({
                    "disk": image.total(),
                    "gzip": layer.map(|layer| layer.gzip),
                    "zstd": layer.map(|layer| layer.zstd),
                })
            });
            assert_eq!(*told, expected.unwrap_or(Value::Null), "{options:?} of {list:?}");
        }
        // What is not shown at all is what the tool does not know either.
        for options in options.iter().filter(|options| !shown.contains(options)) {
            assert_eq!(scales.image(catalogue, list, options), None, "{options:?}");
        }
    }
    (disk, layers)
}

/// Built-in figures of both releases, and taken for other ones, which have modules that the figures lack.
#[test]
fn the_script_weighs_as_the_tool_does() {
    for release in [9, 11, 17, 21, 25] {
        let plan = Plan { inputs: vec![DEMO.into()], release: Some(release), ..Plan::default() };
        let catalogue = Catalogue::built_in(release).unwrap();
        let (disk, layers) = compared(&plan, &catalogue);
        assert!(disk > 500 && layers > 500, "{release}: {disk} {layers}");
    }
}

/// Of a JDK that nobody has weighed yet contents are known as they are alone, and nothing over the wire.
#[test]
fn the_script_knows_no_more_than_the_tool() {
    let home = jdk::jdk(25);
    let plan = Plan { inputs: vec![DEMO.into()], jdk: Some(home.clone()), ..Plan::default() };
    let (disk, _) = compared(&plan, &Catalogue::of_jdk(&home).unwrap());
    assert!(disk > 100, "{disk}");
}

//! The answer of `weigh` for programs, as `schema.json` describes it. The first function to read is [`render`].

use std::collections::BTreeMap;
use std::io::{self, Write};

use serde::Serialize;

use super::{CommandRow, ImageRow, Weighing};
use crate::report::json::{Bytes, Platform, document};
use crate::report::responsibility::json::ByArchive;

/// Writes the document.
pub fn render(weighing: &Weighing, out: &mut dyn Write) -> io::Result<()> {
    document("weighing", Answer::of(weighing), out)
}

#[derive(Serialize)]
struct Answer<'a> {
    complete: bool,
    platform: Platform<'a>,
    list: &'a [String],
    basis: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    doubt: Option<Doubt>,
    unknown: &'a [String],
    images: Vec<Image<'a>>,
    advice: &'a [String],
    modules: Vec<Part<'a>>,
    image_wide_bytes: i64,
    commands: Vec<Command<'a>>,
    commands_lacking: Vec<Command<'a>>,
    uncertain: Vec<Uncertain<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    by_archive: Option<ByArchive<'a>>,
    remarks: &'a [String],
    cautions: &'a [String],
}

#[derive(Serialize)]
struct Doubt {
    figures_of_release: u16,
    other_release: u16,
    #[serde(skip_serializing_if = "Option::is_none")]
    other_bytes: Option<u64>,
}

/// An image under some options.
#[derive(Serialize)]
pub(in crate::report) struct Image<'a> {
    label: &'a str,
    arguments: &'a [String],
    given: bool,
    disk_bytes: u64,
    modules_file_bytes: u64,
    folder_bytes: BTreeMap<&'static str, u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    startup_archive_bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gzip_layer_bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    zstd_layer_bytes: Option<u64>,
}

#[derive(Serialize)]
struct Part<'a> {
    module: &'a str,
    weight: Bytes,
}

#[derive(Serialize)]
struct Command<'a> {
    command: &'a str,
    module: &'a str,
}

#[derive(Serialize)]
struct Uncertain<'a> {
    module: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    bytes: Option<u64>,
}

impl<'a> Answer<'a> {
    fn of(weighing: &'a Weighing) -> Self {
        let command = |row: &'a CommandRow| Command { command: &row.command, module: &row.module };
        Answer {
            complete: weighing.report.as_ref().is_none_or(|report| report.complete),
            platform: Platform::of(&weighing.platform),
            list: &weighing.list,
            basis: &weighing.basis,
            doubt: weighing.doubt.map(|doubt| Doubt {
                figures_of_release: doubt.taken,
                other_release: doubt.other,
                other_bytes: doubt.bytes,
            }),
            unknown: &weighing.unknown,
            images: weighing.images.iter().map(Image::of).collect(),
            advice: &weighing.advice,
            modules: weighing
                .parts
                .iter()
                .map(|part| Part { module: &part.module, weight: Bytes::of(part.weight) })
                .collect(),
            image_wide_bytes: weighing.image_wide,
            commands: weighing.commands.iter().map(command).collect(),
            commands_lacking: weighing.commands_lacking.iter().map(command).collect(),
            uncertain: weighing
                .uncertain
                .iter()
                .map(|row| Uncertain { module: &row.module, bytes: row.bytes })
                .collect(),
            by_archive: weighing.responsibility.as_ref().map(ByArchive::of),
            remarks: &weighing.remarks,
            cautions: &weighing.cautions,
        }
    }
}

impl<'a> Image<'a> {
    pub(in crate::report) fn of(image: &'a ImageRow) -> Self {
        Image {
            label: &image.label,
            arguments: &image.arguments,
            given: image.given,
            disk_bytes: image.on_disk,
            modules_file_bytes: image.modules_file,
            folder_bytes: image.folders.iter().copied().collect(),
            startup_archive_bytes: image.startup_archive,
            gzip_layer_bytes: image.gzip,
            zstd_layer_bytes: image.zstd,
        }
    }
}

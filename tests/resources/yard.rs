//! Archives with a file in question, and what is said of them.

use std::fs;
use std::path::PathBuf;

use secateur::archive::open;
use secateur::diag::{Code, Diagnostic, Findings};
use secateur::error::Error;
use secateur::limits::Limits;
use secateur::program::{EntryPoints, Program, ResourceKind, Resources, Said, View, entry_points};
use secateur::progress::Silent;
use tempfile::TempDir;

use crate::zip::{Entry, archive, deflated};

/// Classes that every archive of these tests has.
pub const CLASSES: [&str; 8] = [
    "gauge/Main",
    "gauge/Reading",
    "gauge/Reading$Unit",
    "gauge/Reader",
    "sluice/Gate",
    "sluice/Login",
    "sluice/Servlet",
    "Bare",
];

/// An empty class (JVMS §4.1).
pub fn class(name: &str) -> Entry {
    let mut bytes = vec![0xCA, 0xFE, 0xBA, 0xBE, 0, 0, 0, 52, 0, 5];
    for text in [name, "java/lang/Object"] {
        bytes.push(1);
        bytes.extend((text.len() as u16).to_be_bytes());
        bytes.extend(text.as_bytes());
    }
    bytes.extend([7, 0, 1, 7, 0, 2]);
    bytes.extend([0, 0x21, 0, 3, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0]);
    deflated(&format!("{name}.class"), &bytes)
}

pub struct Found {
    pub program: Program,
    pub view: View,
    pub resources: Resources,
    pub said: Vec<Diagnostic>,
}

impl Found {
    /// Kind, name and purpose, in the order found.
    pub fn names(&self) -> Vec<(ResourceKind, &str, &str)> {
        self.resources.names.iter().map(|name| (name.kind, &*name.name, name.of.as_deref().unwrap_or(""))).collect()
    }

    pub fn codes(&self) -> Vec<Code> {
        self.said.iter().map(|finding| finding.code).collect()
    }

    pub fn entries(&self, named: &[&str]) -> Result<(EntryPoints, Findings), Error> {
        self.starts(&[], named)
    }

    /// The same of inputs that are told apart from what stands in them.
    pub fn starts(&self, inputs: &[PathBuf], named: &[&str]) -> Result<(EntryPoints, Findings), Error> {
        let named: Vec<String> = named.iter().map(|&name| name.to_owned()).collect();
        let mut findings = Findings::new(10);
        let said = Said { inputs, entries: &named, ..Said::default() };
        let found = entry_points(&self.program, &self.view, &self.resources.names, said, None, &mut findings)?;
        Ok((found, findings))
    }
}

pub fn read(inputs: &[PathBuf], limits: &Limits) -> Found {
    let mut findings = Findings::new(limits.diagnostics_per_code);
    let program = Program::read(open(inputs, limits).unwrap(), limits, &mut findings, &Silent);
    let view = program.view(17, &mut findings);
    let resources = Resources::read(&program, 17, limits, &mut findings);
    let said = findings.sorted().into_iter().cloned().collect();
    Found { program, view, resources, said }
}

pub struct Yard(TempDir);

impl Yard {
    pub fn new() -> Self {
        Yard(tempfile::tempdir().unwrap())
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn put(&self, name: &str, entries: &[Entry]) -> PathBuf {
        let path = self.path(name);
        fs::write(&path, archive(entries)).unwrap();
        path
    }
}

/// What one file beside [`CLASSES`] says.
pub fn file(path: &str, text: &str) -> Found {
    file_within(path, text.as_bytes(), &Limits::default())
}

pub fn file_within(path: &str, bytes: &[u8], limits: &Limits) -> Found {
    let yard = Yard::new();
    let mut entries: Vec<Entry> = CLASSES.into_iter().map(class).collect();
    entries.push(deflated(path, bytes));
    read(&[yard.put("harbour.jar", &entries)], limits)
}

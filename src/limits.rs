//! Every maximum that protects a run against hostile or broken input, by name, on one page.
//!
//! Limits are counted while reading: what an archive declares about itself is not believed. A limit that is met
//! becomes a diagnostic `limit-reached` which names it, and the rest of the input is still analysed.

/// The maxima of one run. [`Limits::default`] suits the largest real class paths known to us with room to spare.
#[derive(Clone, Debug)]
pub struct Limits {
    /// `entries-per-archive`: central directory entries of one archive.
    pub entries_per_archive: usize,
    /// `entries-per-run`: entries of all archives together.
    pub entries_per_run: usize,
    /// `entry-bytes`: inflated bytes of one entry that is not a nested archive.
    pub entry_bytes: u64,
    /// `nested-archive-bytes`: inflated bytes of one nested archive that is not stored.
    pub nested_archive_bytes: u64,
    /// `held-bytes`: inflated nested archives held in memory at one time.
    pub held_bytes: u64,
    /// `run-bytes`: inflated bytes of the whole run.
    pub run_bytes: u64,
    /// `ratio`: inflated bytes per compressed byte of one entry, once it is above 1 MiB.
    pub ratio: u64,
    /// `nesting-depth`: archives within archives; the archive that the user named has depth 0.
    pub nesting_depth: usize,
    /// `class-path-links`: archives reached through `Class-Path` of manifests.
    pub class_path_links: usize,
    /// `folder-depth`: folders within folders of a class folder.
    pub folder_depth: usize,
    /// `name-bytes`: bytes of one entry name.
    pub name_bytes: usize,
    /// `text-lines`: lines taken from one manifest, service file, other list of names or class path index; words from one `Class-Path`.
    pub text_lines: usize,
    /// `resource-file-bytes`: bytes of one file that is no class and is read for the names in it.
    pub resource_file_bytes: u64,
    /// `resource-bytes`: bytes of all such files together, as their directories state them.
    pub resource_bytes: u64,
    /// `resource-names`: names kept from all such files together.
    pub resource_names: usize,
    /// `property-bytes`: keys and values kept from all property files together.
    pub property_bytes: usize,
    /// `witness-bytes`: unpacked bytes of all class-load logs together.
    pub witness_bytes: u64,
    /// `diagnostics-per-code`: diagnostics kept of one code; the rest are counted.
    pub diagnostics_per_code: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            entries_per_archive: 1_000_000,
            entries_per_run: 4_000_000,
            entry_bytes: 64 << 20,
            nested_archive_bytes: 1 << 30,
            held_bytes: 2 << 30,
            run_bytes: 32 << 30,
            ratio: 1_100,
            nesting_depth: 8,
            class_path_links: 10_000,
            folder_depth: 64,
            name_bytes: 65_535,
            text_lines: 100_000,
            resource_file_bytes: 8 << 20,
            resource_bytes: 512 << 20,
            resource_names: 1_000_000,
            property_bytes: 32 << 20,
            witness_bytes: 16 << 30,
            diagnostics_per_code: 50,
        }
    }
}

//! The `secateur` command.

fn main() {}

//! Packages that bundles import. The form of the headers is that of the `OSGi` Core specification, "Import-Package Header"
//! and "Common Header Syntax" (from memory).

use secateur::limits::Limits;
use secateur::program::ResourceKind;

use crate::yard::{Found, Yard, class, read};
use crate::zip::{Entry, deflated};

const FRAMEWORK: &str = "META-INF/services/org.osgi.framework.launch.FrameworkFactory";

/// Jars with these manifests, one of which brings a framework if that is asked for.
fn jars(manifests: &[&str], framework: bool) -> Found {
    let yard = Yard::new();
    let mut paths = Vec::new();
    for (number, manifest) in manifests.iter().enumerate() {
        let text = format!("Manifest-Version: 1.0\r\n{manifest}\r\n\r\n");
        let mut entries: Vec<Entry> = vec![deflated("META-INF/MANIFEST.MF", text.as_bytes()), class("gauge/Main")];
        if framework && number == 0 {
            entries.push(deflated(FRAMEWORK, b"gauge.Main\n"));
        }
        paths.push(yard.put(&format!("{number}.jar"), &entries));
    }
    read(&paths, &Limits::default())
}

fn imports(found: &Found) -> Vec<&str> {
    let names = found.names().into_iter().filter(|(kind, ..)| *kind == ResourceKind::Import);
    names.map(|(_, name, _)| name).collect()
}

const BUNDLE: &str = "Bundle-SymbolicName: gauge.web;singleton:=true\r\n\
    Import-Package: javax.rmi.ssl,javax.naming;javax.naming.ldap;version=\"[1.0,2)\r\n \
    \",javax.sql;resolution:=optional,javax.print ; resolution := \"optional\",\r\n \
    gauge.api;version=\"1,2;3\",javax.transaction.xa,javax.management;x=\"a;b\"\r\n\
    DynamicImport-Package: javax.swing.*,java.rmi";

#[test]
fn what_bundles_must_have_is_told_where_a_framework_wires_them() {
    let exporter = "Bundle-SymbolicName: gauge.api\r\nExport-Package: gauge.api,javax.transaction.xa;version=\"1.1\"";
    let found = jars(&["Bundle-SymbolicName: framework", BUNDLE, exporter], true);
    assert_eq!(imports(&found), ["javax/management", "javax/naming", "javax/naming/ldap", "javax/rmi/ssl"]);
}

#[test]
fn nobody_reads_imports_without_a_framework_or_of_what_is_no_bundle() {
    assert!(imports(&jars(&["Bundle-SymbolicName: framework", BUNDLE], false)).is_empty());
    assert!(imports(&jars(&["Bundle-SymbolicName: framework", "Import-Package: javax.naming"], true)).is_empty());
}

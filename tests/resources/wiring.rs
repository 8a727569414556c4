//! Packages that bundles import. The form of the headers is that of the `OSGi` Core specification, "Import-Package Header"
//! and "Common Header Syntax" (from memory).

use std::fs;

use secateur::limits::Limits;
use secateur::program::ResourceKind;

use crate::yard::{Found, Yard, class, read};
use crate::zip::{Entry, archive, deflated};

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

/// `JBoss` Modules documentation, "Module descriptors" (the form from memory).
#[test]
fn what_a_loader_of_modules_depends_on_is_told_where_the_loader_is() {
    const DESCRIPTOR: &str = r#"<module name="tide.app" xmlns="urn:jboss:module:1.9"><main-class name="gauge.Main"/>
        <resources><resource-root path="tide.jar"/></resources><dependencies><module name="java.sql"/>
        <module name="java.desktop" optional="true"/><module name="tide.store"/></dependencies></module>"#;
    let told = |text: &str, with_loader: bool| {
        let yard = Yard::new();
        let folder = yard.path("modules/tide/app/main");
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("module.xml"), text).unwrap();
        fs::write(folder.join("tide.jar"), archive(&[class("gauge/Main")])).unwrap();
        let loader = if with_loader { "org/jboss/modules/Main" } else { "org/jboss/modules/Other" };
        let found = read(&[yard.put("loader.jar", &[class(loader)]), yard.path("modules")], &Limits::default());
        assert!(found.said.is_empty(), "{:?}", found.said);
        found.names().into_iter().map(|(kind, name, _)| (kind, name.to_owned())).collect::<Vec<_>>()
    };
    let expected =
        [(ResourceKind::Registration, "gauge/Main".to_owned()), (ResourceKind::Dependency, "java.sql".to_owned())];
    assert_eq!(told(DESCRIPTOR, true), expected);
    assert!(told(DESCRIPTOR, false).is_empty());
    // Others have files of that name, of which all names count.
    let other = told(&DESCRIPTOR.replace("urn:jboss:module", "urn:tide:module"), true);
    assert_eq!(other, [(ResourceKind::Mention, "gauge/Main".to_owned())]);
}

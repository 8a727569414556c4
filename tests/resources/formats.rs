//! Format by format, against the specification named beside each test.

use secateur::diag::Code;
use secateur::limits::Limits;
use secateur::program::ResourceKind::{self, Configuration, Mention, Metadata, Page, Registration, Service};

use crate::yard::{CLASSES, Yard, class, file, read};
use crate::zip::{Entry, archive, manifest, stored};

/// `java.util.ServiceLoader`.
#[test]
fn a_service_file_names_a_service_and_who_provides_it() {
    let found = file("META-INF/services/gauge.Reader", "# readers\ngauge.Main # the first\n\nharbour.Absent\n");
    assert_eq!(found.names(), [(Service, "gauge/Reader", ""), (Service, "gauge/Main", "gauge/Reader")]);
    let of_platform = file("META-INF/services/java.sql.Driver", "sluice.Gate\nsluice.Gate\n");
    assert_eq!(of_platform.names(), [(Service, "java/sql/Driver", ""), (Service, "sluice/Gate", "java/sql/Driver")]);
    let bad = file("META-INF/services/gauge.Reader", "gauge.Main, sluice.Gate\n");
    assert_eq!(bad.codes(), [Code::BadServiceFile]);
    // Groovy documentation, "Extension modules": no service, though it stood there once.
    let extension = "META-INF/services/org.codehaus.groovy.runtime.ExtensionModule";
    let found = file(extension, "moduleName=gauges\nextensionClasses=gauge.Main,sluice.Gate\n");
    let of = "extensionClasses";
    assert_eq!(found.names(), [(Registration, "gauge/Main", of), (Registration, "sluice/Gate", of)]);
    assert!(found.said.is_empty());
    let below = file("META-INF/services/gauge/reader/tide", "class = gauge.Reader\n");
    assert_eq!(below.names(), [(Registration, "gauge/Reader", "class")]);
}

/// Spring Framework reference (`SpringFactoriesLoader`) and Spring Boot reference ("Locating auto-configuration
/// candidates").
#[test]
fn registration_lists_keep_the_key() {
    let text =
        "# comment\ngauge.Reader=\\\n  gauge.Main,\\\n  gauge.Reading.Unit\nother.Key = sluice.Gate, harbour.Absent\n";
    let expected = [
        (Registration, "gauge/Main", "gauge/Reader"),
        (Registration, "gauge/Reading$Unit", "gauge/Reader"),
        (Registration, "sluice/Gate", "other.Key"),
    ];
    for path in ["META-INF/spring.factories", "META-INF/spring/aot.factories"] {
        assert_eq!(file(path, text).names(), expected);
    }
    let imports = file("META-INF/spring/gauge.Reader.imports", "# all\ngauge.Main\nsluice.Gate # last\n");
    let expected = [(Registration, "gauge/Main", "gauge/Reader"), (Registration, "sluice/Gate", "gauge/Reader")];
    assert_eq!(imports.names(), expected);
    let components = file("META-INF/spring.components", "gauge.Main=harbour.Component\n");
    assert_eq!(components.names(), [(Registration, "gauge/Main", "harbour.Component")]);
    let index = file("META-INF/sisu/javax.inject.Named", "gauge.Main\n");
    assert_eq!(index.names(), [(Registration, "gauge/Main", "javax.inject.Named")]);
    let by_name = file("META-INF/micronaut/gauge.Reader/gauge.Reading$Unit", "");
    assert_eq!(by_name.names(), [(Registration, "gauge/Reading$Unit", "gauge/Reader")]);
}

/// Servlet specification ch. 14 (deployment descriptor), Jakarta Persistence ch. 8, Jakarta CDI ("beans.xml").
#[test]
fn descriptors_name_classes_in_texts_and_attributes() {
    let web = r#"<?xml version="1.0" encoding="ISO-8859-1"?>
        <!DOCTYPE web-app PUBLIC "-//harbour//web" "http://harbour.example/web.dtd">
        <web-app><!-- <servlet-class>gauge.Reader</servlet-class> -->
          <display-name>sluice.Gate and others</display-name>
          <servlet><servlet-name>gates</servlet-name><servlet-class> sluice.Servlet </servlet-class></servlet>
          <filter><filter-class>Bare</filter-class></filter>
          <listener><listener-class>harbour.Absent</listener-class></listener>
          <context-param><param-value>gauge.Main,
             sluice.Gate</param-value></context-param>
          <resource-ref><res-type>javax.sql.DataSource</res-type></resource-ref>
        </web-app>"#;
    let expected = [
        (Registration, "sluice/Servlet", "servlet-class"),
        (Registration, "Bare", "filter-class"),
        (Registration, "gauge/Main", "param-value"),
        (Registration, "sluice/Gate", "param-value"),
        (Registration, "javax/sql/DataSource", "res-type"),
    ];
    assert_eq!(file("META-INF/web-fragment.xml", web).names(), expected);
    let persistence = r#"<persistence xmlns="https://jakarta.ee/xml/ns/persistence"><persistence-unit name="gauge.Main">
          <provider>gauge.Reader</provider><class>gauge.Reading</class>
          <properties><property name="jakarta.persistence.jdbc.driver" value="sluice.Gate"/></properties>
        </persistence-unit></persistence>"#;
    let expected = [
        (Registration, "gauge/Main", "name"),
        (Registration, "gauge/Reader", "provider"),
        (Registration, "gauge/Reading", "class"),
        (Registration, "sluice/Gate", "jakarta.persistence.jdbc.driver"),
    ];
    assert_eq!(file("META-INF/persistence.xml", persistence).names(), expected);
    let beans = "<beans><bean id='a' class='gauge.Main'/><bean class=\"Bare\"/></beans>";
    assert_eq!(
        file("META-INF/beans.xml", beans).names(),
        [(Registration, "gauge/Main", "class"), (Registration, "Bare", "class")]
    );
    assert_eq!(
        file("gauge/context.xml", beans).names(),
        [(Mention, "gauge/Main", "class"), (Mention, "Bare", "class")]
    );
    let log = "<configuration><appender class='gauge.Reader'/></configuration>";
    assert_eq!(file("logback.xml", log).names(), [(Configuration, "gauge/Reader", "class")]);
}

/// Jakarta Persistence specification, "XML Object/Relational Mapping Descriptor": the package of what is named without one.
/// Other documents say it in an attribute (common practice, no source).
#[test]
fn simple_names_stand_in_the_package_that_is_named_beside_them() {
    let mappings =
        "<entity-mappings><package>gauge</package><entity class='Main'/><entity class='Absent'/></entity-mappings>";
    assert_eq!(file("META-INF/orm.xml", mappings).names(), [(Registration, "gauge/Main", "class")]);
    let kinds = "<kinds><kind package='gauge' profile='Reader'/><group package='sluice'><kind of='Gate'/></group><kind of='Main'/></kinds>";
    let expected = [(Configuration, "gauge/Reader", "profile"), (Configuration, "sluice/Gate", "of")];
    assert_eq!(file("META-INF/kinds.xml", kinds).names(), expected);
}

/// `GraalVM` reference manual, "Reachability Metadata".
#[test]
fn metadata_name_classes_and_the_class_that_must_be_reached() {
    let reflect = r#"[
        {"name": "gauge.Reading$Unit", "methods": [{"name": "of", "parameterTypes": ["sluice.Login"]}]},
        {"condition": {"typeReachable": "gauge.Main"}, "name": "[Lsluice.Gate;"},
        {"name": "java.sql.Driver[]"}]"#;
    let expected = [
        (Metadata, "gauge/Reading$Unit", ""),
        (Metadata, "sluice/Gate", "gauge/Main"),
        (Metadata, "java/sql/Driver", ""),
    ];
    assert_eq!(file("META-INF/native-image/harbour/gauges/reflect-config.json", reflect).names(), expected);
    let all = r#"{"reflection": [{"type": "gauge.Main"}, {"type": {"proxy": ["gauge.Reader"]}}],
        "resources": [{"glob": "gauge.Reading"}],
        "serialization": [{"condition": {"typeReached": "harbour.Absent"}, "type": "sluice.Gate"}]}"#;
    let expected =
        [(Metadata, "gauge/Main", ""), (Metadata, "gauge/Reader", ""), (Metadata, "sluice/Gate", "harbour/Absent")];
    let mut names = file("META-INF/native-image/reachability-metadata.json", all);
    names.resources.names.sort_by(|a, b| a.name.cmp(&b.name));
    assert_eq!(names.names(), expected);
    let proxies = file("META-INF/native-image/proxy-config.json", r#"[["gauge.Reader", "sluice.Gate"]]"#);
    assert_eq!(proxies.names(), [(Metadata, "gauge/Reader", ""), (Metadata, "sluice/Gate", "")]);
}

/// Jakarta Server Pages specification: `import`, scripting elements, comments, `jsp:useBean`, documents. Whole packages count as well (JLS §7.5.2); what stands outside the code is text for browsers.
#[test]
fn pages_name_classes_in_their_code() {
    let page = r#"<%@ page import="java.sql.*, javax.naming.InitialContext" %><%-- javax.imageio.ImageIO --%>
        <p>sluice.Login, java.rmi.Naming</p><jsp:useBean id="g" class="gauge.Main" scope="page"/>
        <%! gauge.Reading.Unit unit; %><% java.util.prefs.Preferences.userRoot(); request.getRemoteUser(); %>
        <%= sluice.Gate.height() %><% gauge.Reader unended"#;
    let expected = [
        (Page, "java/sql", ""),
        (Page, "javax/naming/InitialContext", ""),
        (Page, "gauge/Main", ""),
        (Page, "gauge/Reading", ""),
        (Page, "java/util/prefs/Preferences", ""),
        (Page, "sluice/Gate", ""),
        (Page, "gauge/Reader", ""),
    ];
    assert_eq!(file("station/level.jsp", page).names(), expected);
    assert_eq!(file("META-INF/resources/part.jspf", page).names(), expected);
    let document = "<jsp:root><jsp:directive.page import='java.rmi.*'/> sluice.Login
        <jsp:scriptlet>gauge.Reader.read();</jsp:scriptlet> sluice.Gate</jsp:root>";
    assert_eq!(file("WEB-INF/tags/level.tagx", document).names(), [(Page, "java/rmi", ""), (Page, "gauge/Reader", "")]);
}

#[test]
fn settings_name_classes_by_their_values() {
    let text = "java.naming.factory.initial=com.sun.jndi.dns.DnsContextFactory\n\
                handlers = java.util.logging.FileHandler, gauge.Reader\n\
                gauge.title=The gauge.Reader of the harbour\n\
                kind=Bare\n\
                sasl.jaas.config=sluice.Login required user=\"a\";\n\
                loggers.gauge.Main=INFO\n";
    let expected = [
        (Configuration, "com/sun/jndi/dns/DnsContextFactory", "java.naming.factory.initial"),
        (Configuration, "java/util/logging/FileHandler", "handlers"),
        (Configuration, "gauge/Reader", "handlers"),
        (Configuration, "sluice/Login", "sasl.jaas.config"),
    ];
    assert_eq!(file("jndi.properties", text).names(), expected);
    assert_eq!(file("gauge/jndi.properties", text).names()[0].0, Mention);
    let found = file("application.properties", text);
    let values = |key| found.resources.properties.values(key).collect::<Vec<_>>();
    assert_eq!(values("handlers"), ["java.util.logging.FileHandler", "gauge.Reader"]);
    assert_eq!(values("kind"), ["Bare"]);
    assert_eq!(values("gauge.title"), [] as [&str; 0]);
    assert_eq!(found.resources.properties.of("kind")[0].path.as_ref(), "application.properties");
    let yaml = file("application.yml", "gauge:\n  # sluice.Gate\n  driver: \"gauge.Reader\"\n");
    assert_eq!(yaml.names(), [(Configuration, "gauge/Reader", "")]);
    let other = file("META-INF/gauges.list", "gauge.Main=1, sluice.Gate|gauge/Reader.class nothing.else\n");
    let expected = [(Mention, "gauge/Main", ""), (Mention, "sluice/Gate", ""), (Mention, "gauge/Reader", "")];
    assert_eq!(other.names(), expected);
    assert!(file("META-INF/picture", "\0\0gauge.Main\0").names().is_empty());
}

#[test]
fn manifests_of_nested_archives_name_activators_and_agents() {
    let yard = Yard::new();
    let mut inner: Vec<Entry> = CLASSES.into_iter().map(class).collect();
    inner.push(manifest(&["Bundle-Activator: gauge.Main", "Premain-Class: sluice.Gate", "Main-Class: gauge.Reader"]));
    let outer = [
        manifest(&["Start-Class: gauge.Main", "Bundle-Activator: sluice.Gate", "Add-Opens: java.sql/java.sql"]),
        stored("BOOT-INF/lib/gauges.jar", &archive(&inner)),
    ];
    let found = read(&[yard.put("harbour.jar", &outer)], &Limits::default());
    let expected = [
        (ResourceKind::Hint, "java.sql", "Add-Opens"),
        (Configuration, "sluice/Gate", "Bundle-Activator"),
        (Configuration, "gauge/Main", "Bundle-Activator"),
        (Mention, "sluice/Gate", "Premain-Class"),
        (Mention, "gauge/Reader", "Main-Class"),
    ];
    assert_eq!(found.names(), expected);
}

/// JAR File Specification, "Main Attributes": applications may define further ones.
#[test]
fn headers_that_no_specification_knows_name_classes() {
    let yard = Yard::new();
    let mut entries: Vec<Entry> = CLASSES.into_iter().map(class).collect();
    entries.push(manifest(&[
        "Main-Class: gauge.Main",
        "Tide-Station: sluice.Gate",
        "Tide-Parts: gauge.Reader, gauge.Reading.Unit; harbour.Absent",
        "Implementation-Title: Bare",
        "Bundle-SymbolicName: gauge.Main",
        "Export-Package: gauge.Reader",
    ]));
    let found = read(&[yard.put("harbour.jar", &entries)], &Limits::default());
    let expected = [
        (Configuration, "sluice/Gate", "Tide-Station"),
        (Configuration, "gauge/Reader", "Tide-Parts"),
        (Configuration, "gauge/Reading$Unit", "Tide-Parts"),
    ];
    assert_eq!(found.names(), expected);
}

/// Java SE API, `java.util.ResourceBundle`: candidate locales. Below `WEB-INF/classes/` (Servlet specification §10.5) texts
/// are the program's own, in a jar they may be a library's.
#[test]
fn translations_of_the_programs_own_texts_tell_languages() {
    let yard = Yard::new();
    let texts = ["tide.properties", "tide_de.properties", "tide_pt_BR.properties", "tide_to.properties", "low_fr.html"];
    let told = |name: &str, below: &str| {
        let files = texts.iter().map(|text| stored(&format!("{below}{text}"), b"level = low\n"));
        let entries: Vec<Entry> = files.chain([class("gauge/Main")]).collect();
        let found = read(&[yard.put(name, &entries)], &Limits::default());
        found.resources.texts.iter().map(|text| text.text.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(told("harbour.war", "WEB-INF/classes/"), ["de", "pt_BR"]);
    assert!(told("harbour.jar", "").is_empty());
}

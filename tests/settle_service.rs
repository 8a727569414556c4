//! A trial of a whole service: it is started with a flight recording, does TLS with itself in one JVM, and stops.
//!
//! The judge is the JVM. The service is the one on Spring Boot of `tests/services/boot`; Tomcat's connector offers elliptic
//! curves, which release 17 has in a module of their own (JEP 244, RFC 8446 §9.1: secp256r1 is the curve that every peer has).

#![cfg(target_os = "linux")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test fails by panicking"
)]

use std::fs;
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

#[path = "support/jdk.rs"]
mod jdk;
#[path = "support/service.rs"]
#[allow(dead_code, reason = "only what builds the service is used here")]
mod service;

use jdk::{jdk, tool};
use service::built_by_maven;

/// Starts the service in its own JVM, by the launcher of its archive, and asks it for a page over TLS; ends well if it is
/// there. The service says by itself where it listens.
const ASKER: &str = r#"
import java.io.File;
import java.io.PrintStream;
import java.net.URL;
import java.security.KeyStore;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import javax.net.ssl.HttpsURLConnection;
import javax.net.ssl.SSLContext;
import javax.net.ssl.TrustManagerFactory;

public class Asker {
    public static void main(String[] words) {
        CompletableFuture<String> port = new CompletableFuture<>();
        System.setOut(new PrintStream(System.out, true) {
            @Override public void println(String line) {
                super.println(line);
                if (line.startsWith("listening on ")) port.complete(line.substring(line.lastIndexOf(':') + 1));
            }
        });
        int status = 1;
        try {
            Class.forName("org.springframework.boot.loader.launch.JarLauncher").getMethod("main", String[].class)
                    .invoke(null, (Object) words);
            URL page = new URL("https://127.0.0.1:" + port.get(3, TimeUnit.MINUTES) + "/actuator/health");
            HttpsURLConnection connection = (HttpsURLConnection) page.openConnection();
            KeyStore known = KeyStore.getInstance(new File("quay.p12"), "changeit".toCharArray());
            TrustManagerFactory trust = TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
            trust.init(known);
            SSLContext context = SSLContext.getInstance("TLS");
            context.init(null, trust.getTrustManagers(), null);
            connection.setSSLSocketFactory(context.getSocketFactory());
            // The key is made for this test; whose name it has is not what is tried.
            connection.setHostnameVerifier((host, session) -> true);
            String said = new String(connection.getInputStream().readAllBytes());
            System.out.println(connection.getCipherSuite() + " " + said);
            status = said.contains("\"status\":\"UP\"") ? 0 : 1;
        } catch (Throwable problem) {
            problem.printStackTrace();
        }
        System.exit(status);
    }
}
"#;

const SMOKE: &str = r#"#!/bin/bash
set -u
cd "$(dirname "$0")"
rm -f tide.jfr
java -XX:TieredStopAtLevel=1 -XX:StartFlightRecording=filename=tide.jfr -cp "$1:." Asker \
    --server.ssl.enabled=true --server.ssl.key-store=quay.p12 --server.ssl.key-store-password=changeit || exit 1
[ -s tide.jfr ]
"#;

#[test]
fn a_service_with_tls_and_a_recording_is_settled() {
    let archive = built_by_maven("boot", &jdk(17));
    let quay = TempDir::new().unwrap();
    let path = |name: &str| quay.path().join(name);
    fs::write(path("Asker.java"), ASKER).unwrap();
    fs::write(path("smoke.sh"), SMOKE).unwrap();
    let succeed = |command: &mut Command| assert!(command.current_dir(quay.path()).status().unwrap().success());
    succeed(Command::new(tool(17, "javac")).args(["--release", "17", "Asker.java"]));
    succeed(Command::new(tool(17, "keytool")).args([
        "-genkeypair",
        "-alias",
        "quay",
        "-keyalg",
        "EC",
        "-groupname",
        "secp256r1",
        "-dname",
        "CN=quay",
        "-storetype",
        "PKCS12",
        "-keystore",
        "quay.p12",
        "-storepass",
        "changeit",
    ]));
    let output = Command::new(env!("CARGO_BIN_EXE_secateur"))
        .arg("settle")
        .arg(&archive)
        .args(["--trust-command", "--format", "json", "--quiet", "--jdk"])
        .arg(jdk(17))
        .args(["--", "bash"])
        .arg(path("smoke.sh"))
        .arg(&archive)
        .env_remove("JAVA_TOOL_OPTIONS")
        .env_remove("JDK_JAVA_OPTIONS")
        .output()
        .unwrap();
    let answer: Value = serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&output.stderr)));
    assert_eq!((output.status.code(), &answer["verdict"]), (Some(0), &"settled".into()), "{answer:#}");
    assert_eq!(answer["jvms"], 1);
    let list: Vec<&str> = answer["list"].as_array().unwrap().iter().map(|name| name.as_str().unwrap()).collect();
    for module in ["jdk.crypto.ec", "jdk.jfr", "java.sql"] {
        assert!(list.contains(&module), "{module} is not in {list:?}: {answer:#}");
    }
    assert!(answer["runs"].as_u64() <= answer["runs_at_most"].as_u64());
    let lists = answer["lists"].as_array().unwrap();
    assert_eq!(lists.iter().find(|list| list["name"] == "smallest").unwrap()["linked"], "passed", "{answer:#}");
}

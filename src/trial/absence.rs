//! Lines of a run that ended well and yet say that something was missing.
//!
//! Services say much that changes from run to run and has to do with peers and clocks; a trial that took it for the word
//! of a missing module would keep modules for nothing. So a line counts where it names a `Throwable` of another kind, as
//! its `toString` has it, or where it is said as a warning and is about something that the platform lacks. Knows nothing
//! of runs and files. The function to read is [`told`].

use super::output::names_in;

/// Levels of loggers (`java.util.logging.Level`, `System.Logger.Level`; those of other loggers are common practice, no
/// source); the launcher and the JVM begin some of their own warnings in the same way.
const LEVELS: [&str; 5] = ["WARN", "WARNING", "SEVERE", "ERROR", "FATAL"];

/// The JVM's own marks of a warning (JEP 158; `VM warning` and the launcher's `Error` observed).
const OF_JVM: [&str; 3] = [" VM warning: ", "[warning]", "[error"];
const OF_LAUNCHER: &str = "Error: ";

/// What a peer, a network or the clock brings about (Java SE API, the packages of their names).
const OF_THE_HOUR: [&str; 12] = [
    "java.io.EOFException",
    "java.io.InterruptedIOException",
    "java.lang.InterruptedException",
    "java.net.BindException",
    "java.net.ConnectException",
    "java.net.SocketException",
    "java.net.SocketTimeoutException",
    "java.net.http.HttpTimeoutException",
    "java.nio.channels.AsynchronousCloseException",
    "java.nio.channels.ClosedChannelException",
    "java.util.concurrent.CancellationException",
    "java.util.concurrent.TimeoutException",
];

/// How names of the platform's packages and modules begin, beside those that only some of them have (JLS §6.1).
const OF_PLATFORM: [&str; 8] =
    ["java.", "javax.", "jdk.", "sun.", "com.sun.", "org.ietf.jgss", "org.w3c.dom", "org.xml.sax"];

/// How absence is put (common practice, no source).
const ABSENT: [&str; 14] = [
    "disabled",
    "not found",
    "not available",
    "no such",
    "no implementation",
    "no provider",
    "missing",
    "unsupported",
    "not supported",
    "unknown",
    "cannot",
    "could not",
    "unable to",
    "failed to",
];

/// What a module brings, in the words of what misses it (common practice, no source).
const BROUGHT: [&str; 16] = [
    "algorithm",
    "charset",
    "class",
    "driver",
    "encoding",
    "factory",
    "font",
    "implementation",
    "librar",
    "locale",
    "management",
    "jmx",
    "mbean",
    "module",
    "protocol",
    "provider",
];

/// Whether a line tells that something is missing.
pub(super) fn told(line: &str) -> bool {
    let names = names_in(line);
    let lasting = || names.iter().filter(|name| !OF_THE_HOUR.contains(&name.as_str()));
    if lasting().any(|name| is_throwable(name)) {
        return true;
    }
    if !is_warning(line) {
        return false;
    }
    let lower = line.to_lowercase();
    lasting().any(|name| OF_PLATFORM.iter().any(|start| name.starts_with(start)))
        || holds(&lower, &ABSENT) && holds(&lower, &BROUGHT)
}

fn holds(line: &str, phrases: &[&str]) -> bool {
    phrases.iter().any(|phrase| line.contains(phrase))
}

/// A level is a word by itself, whatever marks stand about it: `[WARN]`, `WARNING:`, `:"ERROR",`.
fn is_warning(line: &str) -> bool {
    let mut words = line.split(|c: char| !(c.is_alphanumeric() || c == '_'));
    words.any(|word| LEVELS.contains(&word)) || holds(line, &OF_JVM) || line.starts_with(OF_LAUNCHER)
}

/// The binary name of a class that is a `Throwable` by the custom of its name, with its package.
fn is_throwable(name: &str) -> bool {
    let simple = name.rsplit(['.', '$']).next().unwrap_or_default();
    simple.starts_with(char::is_uppercase) && (simple.ends_with("Exception") || simple.ends_with("Error"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As the JVMs of 17 and 25 put it where a module is not there (observed), and in the layouts of loggers.
    const SAID: [&str; 15] = [
        "WARN  tide.Gauge - JMX is disabled: no server of beans",
        "WARNING: Unknown module: java.sql specified to --add-opens",
        "Exception in thread \"main\" java.lang.NoClassDefFoundError: java/sql/DriverManager",
        "Caused by: java.lang.ClassNotFoundException: javax.naming.InitialContext",
        "java.security.NoSuchAlgorithmException: EC KeyPairGenerator not available",
        "javax.net.ssl.SSLHandshakeException: Received fatal alert: handshake_failure",
        "java.nio.charset.UnsupportedCharsetException: IBM037",
        "java.util.ServiceConfigurationError: tide.Gauge: Provider tide.North could not be instantiated",
        "java.lang.module.FindException: Module jdk.jfr not found",
        "Error: Module jdk.management.agent not found",
        "WARNING: no beans, since java.lang.management is not there",
        "10:07:12.331 [main] WARN  tide.Store - No provider of EC keys; going on without",
        "2026-02-05T10:07:12.331Z ERROR 7 --- [main] tide.Store : Unsupported encoding IBM037",
        "{\"level\":\"WARN\",\"message\":\"Could not load the driver of the tide tables\"}",
        "[0.021s][warning][jfr] Unable to load module jdk.jfr",
    ];

    /// What services say whether or not anything is missing.
    const CHATTER: [&str; 14] = [
        "gauges read: 12, failed: 0, not found: 0",
        "ErrorPageFilter and ExceptionHandler are registered",
        "GET /quay/9 404 Not Found",
        "INFO  tide.Gauge - cannot lower the gate further; the class of the ship is unknown",
        "0 Errors, 0 WARNINGS",
        "WARN  tide.Gauge - retry in 2 s, the pump failed",
        "2026-02-05T10:07:12.331Z  WARN 7 --- [main] tide.Pool : 12 s behind the clock",
        "SEVERE: high water at the north quay",
        "java.net.SocketTimeoutException: Read timed out",
        "WARN  tide.Gauge - java.net.SocketException: Connection reset",
        "Caused by: java.util.concurrent.TimeoutException",
        "OpenJDK 64-Bit Server VM warning: the heap is larger than what is free",
        "[0.004s][warning][os,thread] Failed to start thread \"Tide-7\"",
        "Unable to find a berth: no such ship",
    ];

    #[test]
    fn what_a_missing_module_makes_a_program_say_is_told_from_chatter() {
        let wrong: Vec<&str> = SAID.into_iter().filter(|line| !told(line)).collect();
        assert!(wrong.is_empty(), "passed over: {wrong:#?}");
        let wrong: Vec<&str> = CHATTER.into_iter().filter(|line| told(line)).collect();
        assert!(wrong.is_empty(), "taken for it: {wrong:#?}");
    }
}

//! Running the program from tests, as a script would.

use std::process::Command;

use serde_json::Value;

/// Runs the program with `--json`; gives the exit status and the one JSON object.
pub fn ask(arguments: &[&str]) -> (i32, Value) {
    let output = Command::new(env!("CARGO_BIN_EXE_matchmark"))
        .args(arguments)
        .arg("--json")
        .output()
        .unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let answer = serde_json::from_str(&text).unwrap_or_else(|fault| panic!("{fault}: {text}"));
    (output.status.code().unwrap(), answer)
}

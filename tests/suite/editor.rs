//! The language server: findings as `check` has them, places in UTF-16, answers from the last good state, and no fall
//! whatever is typed.
//!
//! Held against the acceptance list's point 40. Messages are framed and read here by the protocol's own rule (Language
//! Server Protocol 3.17, "Base Protocol": `Content-Length`, an empty line, JSON-RPC 2.0), not by the program's crate.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

use crate::support::{files_under, read, root, run};

struct Editor {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    next: i64,
    /// The diagnostics last told, by file.
    told: std::collections::HashMap<String, Vec<Value>>,
}

impl Editor {
    fn begin() -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_annulet"))
            .arg("serve")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let told = std::collections::HashMap::new();
        let mut editor = Self {
            child,
            input,
            output,
            next: 0,
            told,
        };
        let able = editor.ask("initialize", json!({ "capabilities": {} }));
        assert_eq!(able["capabilities"]["positionEncoding"], "utf-16");
        editor.tell("initialized", json!({}));
        editor
    }

    fn send(&mut self, message: &Value) {
        let text = message.to_string();
        write!(self.input, "Content-Length: {}\r\n\r\n{text}", text.len()).unwrap();
        self.input.flush().unwrap();
    }

    fn receive(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut line = String::new();
            assert_ne!(
                self.output.read_line(&mut line).unwrap(),
                0,
                "the server is gone"
            );
            if line == "\r\n" {
                break;
            }
            if let Some(count) = line.strip_prefix("Content-Length: ") {
                length = count.trim().parse().unwrap();
            }
        }
        let mut text = vec![0; length];
        self.output.read_exact(&mut text).unwrap();
        serde_json::from_slice(&text).unwrap()
    }

    fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    /// The whole answer to a request; what is told meanwhile is kept.
    fn answered(&mut self, method: &str, params: Value) -> Value {
        self.next += 1;
        let id = self.next;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }));
        loop {
            let message = self.receive();
            if message["method"] == "textDocument/publishDiagnostics" {
                let params = &message["params"];
                let uri = params["uri"].as_str().unwrap().to_owned();
                self.told
                    .insert(uri, params["diagnostics"].as_array().unwrap().clone());
                continue;
            }
            assert_eq!(message["id"], id);
            return message;
        }
    }

    fn ask(&mut self, method: &str, params: Value) -> Value {
        let answer = self.answered(method, params);
        assert!(answer.get("error").is_none(), "{method}: {answer:#}");
        answer["result"].clone()
    }

    fn open(&mut self, path: &Path, text: &str) -> String {
        let uri = format!("file://{}", path.display());
        let document = json!({ "uri": uri, "languageId": "annulet", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
        uri
    }

    fn change(&mut self, uri: &str, change: Value) {
        self.tell(
            "textDocument/didChange",
            json!({ "textDocument": { "uri": uri, "version": 2 }, "contentChanges": [change] }),
        );
    }

    /// What is told of a file, after all that was sent before.
    fn findings(&mut self, uri: &str) -> Vec<Value> {
        self.ask(
            "textDocument/inlayHint",
            json!({ "textDocument": { "uri": uri } }),
        );
        self.told.get(uri).cloned().unwrap_or_default()
    }

    fn at(&mut self, method: &str, uri: &str, text: &str, mark: &str) -> Value {
        let position = position(text, text.find(mark).unwrap());
        self.ask(
            method,
            json!({ "textDocument": { "uri": uri }, "position": position }),
        )
    }

    fn end(mut self) {
        self.ask("shutdown", Value::Null);
        self.tell("exit", Value::Null);
        assert_eq!(self.child.wait().unwrap().code(), Some(0));
    }
}

/// A byte of a text as the protocol counts it.
fn position(text: &str, byte: usize) -> Value {
    let before = &text[..byte];
    let line = before.replace("\r\n", "\n").matches(['\n', '\r']).count();
    let begin = before.rfind(['\n', '\r']).map_or(0, |place| place + 1);
    json!({ "line": line, "character": before[begin..].encode_utf16().count() })
}

#[test]
fn findings_are_those_of_check_at_the_same_places() {
    let mut editor = Editor::begin();
    let examples = files_under("examples", ".annulet").into_iter();
    let cases = files_under("tests/suite/cases", ".annulet");
    let mut compared = 0;
    for file in examples.chain(cases) {
        let path = root().join(&file);
        let text = read(&file);
        let uri = editor.open(&path, &text);
        let mut found: Vec<(String, u64, Value, Value)> = editor
            .findings(&uri)
            .iter()
            .map(|one| {
                let range = &one["range"];
                let code = one["code"].as_str().unwrap().to_owned();
                (
                    code,
                    one["severity"].as_u64().unwrap(),
                    range["start"].clone(),
                    range["end"].clone(),
                )
            })
            .collect();
        let name = path.display().to_string();
        let checked: Value =
            serde_json::from_str(&run(&["check", "--json", &name], "").stdout).unwrap();
        let findings = checked["findings"].as_array().unwrap().iter();
        let mut wanted: Vec<(String, u64, Value, Value)> = findings
            .filter(|one| one["file"] == name)
            .map(|one| {
                let severity = match one["severity"].as_str().unwrap() {
                    "error" => 1,
                    "warning" => 2,
                    _ => 3,
                };
                let place = |side: usize| {
                    let byte = one["span"][side].as_u64().unwrap();
                    position(&text, usize::try_from(byte).unwrap().min(text.len()))
                };
                (
                    one["code"].as_str().unwrap().to_owned(),
                    severity,
                    place(0),
                    place(1),
                )
            })
            .collect();
        let key = |one: &(String, u64, Value, Value)| format!("{one:?}");
        found.sort_by_key(key);
        wanted.sort_by_key(key);
        assert_eq!(found, wanted, "{file}");
        compared += wanted.len();
        editor.tell(
            "textDocument/didClose",
            json!({ "textDocument": { "uri": uri } }),
        );
    }
    assert!(compared > 100, "{compared}");
    editor.end();
}

const TEXT: &str = "use \"house.annulet\"\nlet cut = 0.30 mm # 𝄞\n\nband quay {\n  title \"𝄞é\", size 17 mm, width 5 mm\n  thickness cut * 6\n  profile flat\n  alloy rose\n}\n\nrequire quay.weight <= 9 g\n";

fn workshop() -> TempDir {
    let folder = TempDir::new().unwrap();
    let house = "# shared\nalloy rose { gold 585, copper 325, silver 90, density 13.3 g/cm3 }\n";
    std::fs::write(folder.path().join("house.annulet"), house).unwrap();
    std::fs::write(folder.path().join("r.annulet"), TEXT).unwrap();
    folder
}

#[test]
fn values_definitions_names_and_repairs() {
    let folder = workshop();
    let mut editor = Editor::begin();
    let uri = editor.open(&folder.path().join("r.annulet"), TEXT);
    assert_eq!(editor.findings(&uri), Vec::<Value>::new());
    // Value, unit, where it was set, and why.
    let hover = editor.at("textDocument/hover", &uri, TEXT, "thickness cut");
    let told = hover["contents"]["value"].as_str().unwrap();
    assert!(told.contains("quay.thickness = 1.8 mm"), "{told}");
    assert!(told.contains("r.annulet:6:3"), "{told}");
    let hover = editor.at("textDocument/hover", &uri, TEXT, "quay.weight");
    let told = hover["contents"]["value"].as_str().unwrap();
    assert!(told.contains("quay.weight = ≈"), "{told}");
    // Columns behind letters that are two units long.
    let hover = editor.at("textDocument/hover", &uri, TEXT, "width 5");
    assert!(
        hover["contents"]["value"]
            .as_str()
            .unwrap()
            .contains("quay.width = 5 mm")
    );
    assert_eq!(
        hover["range"]["start"],
        json!({ "line": 4, "character": 27 })
    );
    // Through a used file, and within this one.
    let given = editor.at("textDocument/definition", &uri, TEXT, "rose\n}");
    assert!(
        given["uri"].as_str().unwrap().ends_with("/house.annulet"),
        "{given}"
    );
    assert_eq!(
        given["range"]["start"],
        json!({ "line": 1, "character": 6 })
    );
    let given = editor.at("textDocument/definition", &uri, TEXT, "cut * 6");
    assert_eq!(
        given["range"]["start"],
        json!({ "line": 1, "character": 4 })
    );
    let given = editor.at("textDocument/definition", &uri, TEXT, "house.annulet\"");
    assert!(
        given["uri"].as_str().unwrap().ends_with("/house.annulet"),
        "{given}"
    );
    // What fits: an alloy of the used file, units of the dimension.
    let labels = |found: &Value| -> Vec<String> {
        let all = found.as_array().unwrap().iter();
        all.map(|one| one["label"].as_str().unwrap().to_owned())
            .collect()
    };
    let offered = editor.at("textDocument/completion", &uri, TEXT, "rose\n}");
    let offered = labels(&offered);
    assert!(offered.contains(&"rose".to_owned()) && offered.contains(&"silver-925".to_owned()));
    assert!(!offered.contains(&"mm".to_owned()));
    let offered = editor.at("textDocument/completion", &uri, TEXT, "mm\n  thickness");
    let offered = labels(&offered);
    assert!(
        offered.contains(&"mm".to_owned()) && !offered.contains(&"g".to_owned()),
        "{offered:?}"
    );
    // The weight behind the band.
    let hints = editor.ask(
        "textDocument/inlayHint",
        json!({ "textDocument": { "uri": uri } }),
    );
    assert_eq!(hints[0]["position"], json!({ "line": 3, "character": 9 }));
    assert!(
        hints[0]["label"].as_str().unwrap().starts_with("≈ "),
        "{hints}"
    );
    editor.end();
}

#[test]
fn a_name_is_changed_everywhere_or_not_at_all() {
    let text = TEXT
        .replace("use \"house.annulet\"\n", "")
        .replace("alloy rose", "alloy sterling");
    let folder = TempDir::new().unwrap();
    let mut editor = Editor::begin();
    let uri = editor.open(&folder.path().join("r.annulet"), &text);
    let mut rename = |mark: &str, new: &str| {
        let position = position(&text, text.find(mark).unwrap());
        let params =
            json!({ "textDocument": { "uri": uri }, "position": position, "newName": new });
        editor.answered("textDocument/rename", params)
    };
    let places = |answer: &Value| -> Vec<Value> {
        let edits = answer["result"]["changes"]
            .as_object()
            .unwrap()
            .values()
            .next()
            .unwrap();
        edits
            .as_array()
            .unwrap()
            .iter()
            .map(|edit| edit["range"]["start"].clone())
            .collect()
    };
    let wanted = |marks: [&str; 2]| {
        marks
            .map(|mark| position(&text, text.find(mark).unwrap()))
            .to_vec()
    };
    assert_eq!(
        places(&rename("quay.weight", "pier")),
        wanted(["quay {", "quay.weight"])
    );
    assert_eq!(
        places(&rename("cut * 6", "deep")),
        wanted(["cut = 0.30", "cut * 6"])
    );
    for (mark, new, told) in [
        ("quay {", "1x", "is not a name"),
        ("quay {", "cut", "is a name already"),
        ("sterling", "silver", "is not given in this file"),
    ] {
        let answer = rename(mark, new);
        let message = answer["error"]["message"]
            .as_str()
            .unwrap_or_else(|| panic!("{answer:#}"));
        assert!(message.contains(told), "{message}");
    }
    editor.end();
}

#[test]
fn the_last_good_results_stay_and_repairs_mend() {
    let folder = workshop();
    let mut editor = Editor::begin();
    let uri = editor.open(&folder.path().join("r.annulet"), TEXT);
    // One word of one line is edited, as an editor sends it.
    let at = TEXT.find("width 5").unwrap();
    let range = json!({ "start": position(TEXT, at), "end": position(TEXT, at + 5) });
    editor.change(&uri, json!({ "range": range, "text": "widht" }));
    let broken = TEXT.replace("width 5", "widht 5");
    let found = editor.findings(&uri);
    assert!(
        found
            .iter()
            .any(|one| one["code"] == "model::unknown_field"),
        "{found:#?}"
    );
    let hover = editor.at("textDocument/hover", &uri, &broken, "quay.weight");
    let told = hover["contents"]["value"].as_str().unwrap();
    assert!(
        told.contains("quay.weight = ≈") && told.contains("before the last change"),
        "{told}"
    );
    let range = found
        .iter()
        .find(|one| one["code"] == "model::unknown_field")
        .unwrap()["range"]
        .clone();
    let params =
        json!({ "textDocument": { "uri": uri }, "range": range, "context": { "diagnostics": [] } });
    let actions = editor.ask("textDocument/codeAction", params);
    let edit = &actions[0]["edit"]["changes"][&uri][0];
    assert_eq!(
        (edit["newText"].as_str(), &edit["range"]),
        (Some("width"), &range),
        "{actions:#}"
    );
    editor.change(
        &uri,
        json!({ "range": edit["range"], "text": edit["newText"] }),
    );
    assert_eq!(editor.findings(&uri), Vec::<Value>::new());
    // The tidy form is that of `tidy`.
    let untidy = TEXT.replace("  alloy rose", "alloy    rose");
    editor.change(&uri, json!({ "text": untidy }));
    let params = json!({ "textDocument": { "uri": uri }, "options": { "tabSize": 2, "insertSpaces": true } });
    let edits = editor.ask("textDocument/formatting", params);
    assert_eq!(
        edits[0]["newText"].as_str().unwrap(),
        run(&["tidy", "-"], TEXT).stdout
    );
    editor.end();
}

#[test]
fn no_room_is_made_for_what_is_no_message() {
    let long = "x".repeat(100_000);
    let messages = [
        ("Content-Length: 99999999999\r\n\r\n{}", "at most"),
        (
            "Content-Length: 18446744073709551616\r\n\r\n{}",
            "does not say its length",
        ),
        ("Content-Length: 20\r\n\r\n{}", "ends before its length"),
        ("Content-Length: 2\n\n{}", "its head is no"),
        ("Content-Length: 2\r\n\r\n{}", "data did not match"),
        (long.as_str(), "its head is no"),
    ];
    for (message, said) in messages {
        let ran = crate::support::run(&["serve"], message);
        let shown: String = message.chars().take(40).collect();
        assert_eq!(ran.status, 2, "{shown}");
        assert!(ran.stderr.contains(said), "{shown}: {}", ran.stderr);
        assert!(ran.stderr.len() < 300, "{shown}: {}", ran.stderr);
    }
}

#[test]
fn whatever_is_typed_it_stands() {
    let folder = workshop();
    let mut editor = Editor::begin();
    let uri = editor.open(&folder.path().join("r.annulet"), TEXT);
    let pieces = [
        "{", "}", "\"", "#", "\n", "\r\n", "𝄞", "mm", "5", ",", "band b", " ", "..", "±", "let",
        "[", "\u{0}", "é",
    ];
    // Numbers of a generator with fixed seed (the 64-bit step of Knuth's MMIX), so that a fall can be found again.
    let mut state: u64 = 22;
    let mut draw = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(state >> 33).unwrap() % below
    };
    let edits = std::env::var("ANNULET_EDITS")
        .ok()
        .and_then(|edits| edits.parse().ok())
        .unwrap_or(600);
    for count in 0..edits {
        let place = |draw: &mut dyn FnMut(usize) -> usize| json!({ "line": draw(14), "character": draw(30) });
        if count % 40 == 0 {
            editor.change(&uri, json!({ "text": TEXT }));
        }
        let (start, end) = (place(&mut draw), place(&mut draw));
        let text = pieces[draw(pieces.len())];
        let end = if draw(3) == 0 { end } else { start.clone() };
        editor.change(
            &uri,
            json!({ "range": { "start": start, "end": end }, "text": text }),
        );
        let method = [
            "hover",
            "completion",
            "definition",
            "rename",
            "inlayHint",
            "codeAction",
            "formatting",
        ][draw(7)];
        let at = place(&mut draw);
        let params = json!({
            "textDocument": { "uri": uri }, "position": at, "newName": "pier",
            "range": { "start": at, "end": at }, "context": { "diagnostics": [] },
        });
        editor.answered(&format!("textDocument/{method}"), params);
    }
    // After all of it the sound text is as sound as ever.
    editor.change(&uri, json!({ "text": TEXT }));
    assert_eq!(editor.findings(&uri), Vec::<Value>::new());
    let unknown = editor.answered("textDocument/unknown", json!({}));
    assert_eq!(unknown["error"]["code"], -32601);
    editor.end();
}

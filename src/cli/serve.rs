//! `annulet serve`: recipes in an editor, over standard input and output (Language Server Protocol 3.17).
//!
//! One message is answered after the other. Findings are those of `check`, at the same places; values those of `why`.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::io::{self, BufRead, Read as _};

use lsp_server::{ErrorCode, Message, Notification, Request, RequestId, Response};
use serde_json::{Value as Json, json};

use crate::assist::{self, Opening};
use crate::bench::{Bench, WORDS, complete};
use crate::finding::{Finding, Weight};
use crate::report::{self, Digits};
use crate::schema::ResultId;
use crate::session::NoLibrary;
use crate::source::Span;
use crate::syntax;

use super::library::Folder;
use super::output::Output;
use super::served_files::{OneText, OpenFiles};
use super::served_text::{Lines, path_of, uri_of};
use super::status::Status;

/// Answers an editor until it says that it is done.
pub(super) fn run(output: &mut Output) -> Status {
    let mut server = Server::default();
    let mut input = io::stdin().lock();
    loop {
        let message = match framed(&mut input) {
            Ok(Some(message)) => message,
            // The editor is gone.
            Ok(None) => return server.status(),
            Err(error) => {
                output.complain(&format!("this is not a message of an editor: {error}"));
                return Status::Wrong;
            }
        };
        if matches!(&message, Message::Notification(one) if one.method == "exit") {
            return server.status();
        }
        for answer in server.answers(message) {
            let mut framed = Vec::new();
            let written = answer.write(&mut framed);
            output.bytes(&framed);
            if written.is_err() || output.is_broken() {
                return server.status();
            }
        }
    }
}

/// The most bytes of a message: a recipe of the largest size, each of its characters escaped.
const LARGEST: u64 = 8 * syntax::LARGEST as u64;

/// The most bytes of what stands before one.
const HEAD: u64 = 4096;

/// The next message; none behind the last. What it says of its length is held against a bound before room is made.
fn framed(input: &mut impl BufRead) -> io::Result<Option<Message>> {
    let wrong = |what: String| io::Error::new(io::ErrorKind::InvalidData, what);
    let mut head = Vec::new();
    let mut length = None;
    loop {
        let before = head.len();
        let room = HEAD.saturating_sub(before as u64);
        input.by_ref().take(room).read_until(b'\n', &mut head)?;
        let line = head.get(before..).unwrap_or_default();
        match line.strip_suffix(b"\r\n") {
            None if head.is_empty() => return Ok(None),
            None => return Err(wrong("its head is no `Content-Length: NUMBER`".to_owned())),
            Some([]) => break,
            Some(line) => {
                let line = String::from_utf8_lossy(line);
                let (name, value) = line.split_once(':').unwrap_or((&line, ""));
                if name.eq_ignore_ascii_case("Content-Length") {
                    length = value.trim().parse::<u64>().ok();
                }
            }
        }
    }
    let length = length.ok_or_else(|| wrong("it does not say its length".to_owned()))?;
    if length > LARGEST {
        return Err(wrong(format!(
            "it is {length} bytes long; at most {LARGEST} are read"
        )));
    }
    let mut bytes = Vec::new();
    input.by_ref().take(length).read_to_end(&mut bytes)?;
    if (bytes.len() as u64) < length {
        return Err(wrong("it ends before its length".to_owned()));
    }
    let message = serde_json::from_slice(&bytes);
    message.map(Some).map_err(|error| wrong(error.to_string()))
}

/// A recipe that is open in the editor.
struct Open {
    text: String,
    opening: Opening,
    /// The files that findings of it lie in.
    told: BTreeSet<String>,
}

#[derive(Default)]
struct Server {
    open: HashMap<String, Open>,
    begun: bool,
    done: bool,
}

impl Server {
    /// An editor that goes without saying so has fallen over.
    fn status(&self) -> Status {
        match self.done {
            true => Status::Well,
            false => Status::Short,
        }
    }

    fn answers(&mut self, message: Message) -> Vec<Message> {
        match message {
            Message::Request(Request { id, method, params }) => {
                vec![self.answer(id, &method, &params).into()]
            }
            Message::Notification(Notification { method, params }) => {
                self.told(&method, &params).unwrap_or_default()
            }
            Message::Response(_) => Vec::new(),
        }
    }

    fn answer(&mut self, id: RequestId, method: &str, params: &Json) -> Response {
        if !self.begun && method != "initialize" {
            let code = ErrorCode::ServerNotInitialized as i32;
            return Response::new_err(id, code, "`initialize` comes first".to_owned());
        }
        let found = match method {
            "initialize" => {
                self.begun = true;
                Some(capabilities())
            }
            "shutdown" => {
                self.done = true;
                None
            }
            "textDocument/hover" => self.hover(params),
            "textDocument/completion" => self.completion(params),
            "textDocument/definition" => self.definition(params),
            "textDocument/formatting" => self.formatting(params),
            "textDocument/codeAction" => self.repairs(params),
            "textDocument/inlayHint" => self.results(params),
            "textDocument/rename" => match self.rename(params) {
                Some(Err(message)) => {
                    return Response::new_err(id, ErrorCode::InvalidParams as i32, message);
                }
                found => found.and_then(Result::ok),
            },
            _ => {
                let message = format!("`{method}` is not known here");
                return Response::new_err(id, ErrorCode::MethodNotFound as i32, message);
            }
        };
        Response::new_ok(id, found)
    }

    /// Takes a change in, and says what is found.
    fn told(&mut self, method: &str, params: &Json) -> Option<Vec<Message>> {
        let document = params.get("textDocument")?;
        let uri = document.get("uri")?.as_str()?.to_owned();
        match method {
            "textDocument/didOpen" => {
                let text = document.get("text")?.as_str()?.to_owned();
                Some(self.read(&uri, text))
            }
            "textDocument/didChange" => {
                let changes = params.get("contentChanges")?.as_array()?;
                let mut text = self.open.get(&uri)?.text.clone();
                for change in changes {
                    text = changed(&text, change)?;
                }
                Some(self.read(&uri, text))
            }
            "textDocument/didClose" => {
                let open = self.open.remove(&uri)?;
                Some(open.told.iter().map(|uri| findings_of(uri, &[])).collect())
            }
            _ => None,
        }
    }

    /// Reads a text, and every open recipe that may use it.
    fn read(&mut self, uri: &str, text: String) -> Vec<Message> {
        let mut messages = self.read_one(uri, text);
        let users = self.open.iter().filter(|(other, open)| {
            let path = path_of(uri);
            let files = open.opening.prepared.files();
            *other != uri && files.len() > 1 && path.is_some_and(|path| files.contains(&path))
        });
        let users: Vec<(String, String)> = users
            .map(|(other, open)| (other.clone(), open.text.clone()))
            .collect();
        for (other, text) in users {
            messages.extend(self.read_one(&other, text));
        }
        messages
    }

    fn read_one(&mut self, uri: &str, text: String) -> Vec<Message> {
        let before = self.open.remove(uri);
        let (before, told) = before.map_or((None, BTreeSet::new()), |open| {
            (Some(open.opening), open.told)
        });
        let path = path_of(uri);
        let name = path.clone().unwrap_or_else(|| uri.to_owned());
        let opening = match path {
            Some(path) => {
                let mut files = OpenFiles {
                    folder: Folder::of(&path, None),
                    texts: &|file| Some(self.open.get(&uri_of(file))?.text.clone()),
                };
                Opening::read(&name, &text, &mut files, before)
            }
            None => Opening::read(&name, &text, &mut NoLibrary, before),
        };
        let mut by_file: BTreeMap<String, Vec<Json>> = BTreeMap::new();
        by_file.insert(uri.to_owned(), Vec::new());
        for finding in &opening.outcome.findings {
            let (file, finding) = diagnostic(uri, &opening, finding);
            by_file.entry(file).or_default().push(finding);
        }
        // What was told of a file that no finding lies in any more is taken back.
        for file in told {
            by_file.entry(file).or_default();
        }
        let told = by_file.keys().cloned().collect();
        self.open.insert(
            uri.to_owned(),
            Open {
                text,
                opening,
                told,
            },
        );
        by_file
            .iter()
            .map(|(file, found)| findings_of(file, found))
            .collect()
    }

    /// The recipe that a request is about, and the byte of the place that it is about.
    fn at(&mut self, params: &Json) -> Option<(String, &mut Open, usize)> {
        let uri = uri_in(params)?;
        let open = self.open.get_mut(&uri)?;
        let byte = Lines::of(&open.text).byte(params.get("position")?)?;
        Some((uri, open, byte))
    }

    fn hover(&mut self, params: &Json) -> Option<Json> {
        let (_, open, byte) = self.at(params)?;
        let found = assist::hovered(&mut open.opening, byte)?;
        let range = open.opening.source()?.range(found.at);
        let value = format!("```\n{}```\n", found.text);
        Some(json!({
            "contents": { "kind": "markdown", "value": value },
            "range": Lines::of(&open.text).range(range),
        }))
    }

    fn completion(&mut self, params: &Json) -> Option<Json> {
        let (uri, open, byte) = self.at(params)?;
        let name = path_of(&uri).unwrap_or(uri);
        // What is being typed may be no recipe yet, so names are those of the last good state.
        let known = open.opening.good().source()?.text.to_string();
        let mut bench = Bench::new(Box::new(OneText { text: known }), None);
        bench.opened(&name);
        let before = open.text.get(..byte)?;
        let (start, words) = complete(&mut bench, before, byte);
        let is_top = syntax::open_braces(before) <= 0;
        let lines = Lines::of(&open.text);
        let range = lines.range(start..byte);
        let items: Vec<Json> = words
            .iter()
            // The words of the prompt mean nothing in a file.
            .filter(|word| {
                !is_top || !is_command(word) || syntax::TOP_WORDS.contains(&word.as_str())
            })
            .map(|word| json!({ "label": word, "textEdit": { "range": range, "newText": word } }))
            .collect();
        Some(json!(items))
    }

    fn definition(&mut self, params: &Json) -> Option<Json> {
        let (uri, open, byte) = self.at(params)?;
        if let Some(file) = assist::used_at(&open.opening, byte) {
            let start = json!({ "line": 0, "character": 0 });
            return Some(
                json!({ "uri": uri_of(&file), "range": { "start": start, "end": start } }),
            );
        }
        let span = assist::given(&open.opening, byte)?;
        let (file, range) = place(&uri, &open.opening, span)?;
        Some(json!({ "uri": file, "range": range }))
    }

    fn formatting(&mut self, params: &Json) -> Option<Json> {
        let open = self.open.get(&uri_in(params)?)?;
        let mut sources = crate::source::Sources::default();
        let id = sources.add("recipe", &open.text);
        let parsed = sources.get(id).map(syntax::parse)?;
        if !parsed.findings.is_empty() {
            return None;
        }
        let tidied = syntax::print(&parsed.value);
        if tidied == open.text {
            return Some(json!([]));
        }
        let range = Lines::of(&open.text).whole();
        Some(json!([{ "range": range, "newText": tidied }]))
    }

    fn repairs(&mut self, params: &Json) -> Option<Json> {
        let uri = uri_in(params)?;
        let open = self.open.get(&uri)?;
        let lines = Lines::of(&open.text);
        let wanted = params.get("range")?;
        let (from, to) = (
            lines.byte(wanted.get("start")?)?,
            lines.byte(wanted.get("end")?)?,
        );
        let source = open.opening.source()?;
        let mut actions = Vec::new();
        for finding in &open.opening.outcome.findings {
            let (Some(repair), Some(at)) = (finding.repair(), finding.span()) else {
                continue;
            };
            let is_own = open
                .opening
                .session
                .sources
                .holding(repair.span)
                .map(|one| one.base);
            let touched = source.range(at);
            if is_own != Some(source.base) || touched.end < from || to < touched.start {
                continue;
            }
            let (_, told) = diagnostic(&uri, &open.opening, finding);
            let range = lines.range(source.range(repair.span));
            let edit = json!({ "range": range, "newText": repair.text });
            actions.push(json!({
                "title": format!("write `{}`", repair.text),
                "kind": "quickfix",
                "isPreferred": true,
                "diagnostics": [told],
                "edit": { "changes": { (uri.clone()): [edit] } },
            }));
        }
        Some(json!(actions))
    }

    /// The weight behind the header of each band.
    fn results(&mut self, params: &Json) -> Option<Json> {
        let open = self.open.get(&uri_in(params)?)?;
        let source = open.opening.source()?;
        let lines = Lines::of(&open.text);
        let hint = |evaluation: &crate::evaluate::Evaluation| {
            let value = evaluation.value(ResultId::Weight.row())?;
            let at = source.range(evaluation.band.at).end;
            Some(json!({
                "position": lines.position(at),
                "label": report::value(&value, Digits::Useful),
                "paddingLeft": true,
            }))
        };
        let hints: Vec<Json> = open.opening.outcome.shown().filter_map(hint).collect();
        Some(json!(hints))
    }

    fn rename(&mut self, params: &Json) -> Option<Result<Json, String>> {
        let new = params.get("newName")?.as_str()?.to_owned();
        let (uri, open, byte) = self.at(params)?;
        let found = match assist::renamed(&open.opening, byte, &new) {
            Ok(found) => found,
            Err(message) => return Some(Err(message)),
        };
        let lines = Lines::of(&open.text);
        let places = found.places.into_iter();
        let edits: Vec<Json> = places
            .map(|place| json!({ "range": lines.range(place), "newText": new }))
            .collect();
        Some(Ok(json!({ "changes": { (uri): edits } })))
    }
}

fn is_command(word: &str) -> bool {
    WORDS.iter().any(|one| one.word == word)
}

fn capabilities() -> Json {
    json!({
        "capabilities": {
            "positionEncoding": "utf-16",
            "textDocumentSync": { "openClose": true, "change": 2 },
            "hoverProvider": true,
            "completionProvider": { "triggerCharacters": [" ", "."] },
            "definitionProvider": true,
            "documentFormattingProvider": true,
            "codeActionProvider": { "codeActionKinds": ["quickfix"] },
            "inlayHintProvider": true,
            "renameProvider": true,
        },
        "serverInfo": { "name": "annulet", "version": env!("CARGO_PKG_VERSION") },
    })
}

fn uri_in(params: &Json) -> Option<String> {
    let uri = params.get("textDocument")?.get("uri")?;
    uri.as_str().map(str::to_owned)
}

/// A text with a change of the editor made: of a range, or of all of it.
fn changed(text: &str, change: &Json) -> Option<String> {
    let new = change.get("text")?.as_str()?;
    let Some(range) = change.get("range").filter(|range| !range.is_null()) else {
        return Some(new.to_owned());
    };
    let lines = Lines::of(text);
    let (start, end) = (
        lines.byte(range.get("start")?)?,
        lines.byte(range.get("end")?)?,
    );
    let (before, behind) = (text.get(..start)?, text.get(end.max(start)..)?);
    Some(format!("{before}{new}{behind}"))
}

fn findings_of(uri: &str, found: &[Json]) -> Message {
    let params = json!({ "uri": uri, "diagnostics": found });
    Notification::new("textDocument/publishDiagnostics".to_owned(), params).into()
}

/// A place as the protocol has it: the file, and the range in it.
fn place(uri: &str, opening: &Opening, span: Span) -> Option<(String, Json)> {
    let source = opening.session.sources.holding(span)?;
    let own = opening.source().map(|own| own.base);
    let file = match Some(source.base) == own {
        true => uri.to_owned(),
        false => uri_of(&source.name),
    };
    let range = Lines::of(&source.text).range(source.range(span));
    Some((file, range))
}

/// A finding as the protocol has it, with the file that it lies in.
fn diagnostic(uri: &str, opening: &Opening, finding: &Finding) -> (String, Json) {
    let mut labels = finding.labels().into_iter();
    let main = labels
        .next()
        .and_then(|(span, _)| place(uri, opening, span));
    let nowhere = json!({ "line": 0, "character": 0 });
    let (file, range) =
        main.unwrap_or_else(|| (uri.to_owned(), json!({ "start": nowhere, "end": nowhere })));
    let related: Vec<Json> = labels
        .filter_map(|(span, text)| {
            let (file, range) = place(uri, opening, span)?;
            let location = json!({ "uri": file, "range": range });
            Some(json!({ "location": location, "message": text }))
        })
        .collect();
    let severity = match finding.weight() {
        Weight::Wrong => 1,
        Weight::Short => 2,
        Weight::Note => 3,
    };
    let help = finding
        .help()
        .map_or_else(String::new, |help| format!("\n{help}"));
    let found = json!({
        "range": range,
        "severity": severity,
        "code": finding.code(),
        "source": "annulet",
        "message": finding.message() + &help,
        "relatedInformation": related,
    });
    (file, found)
}

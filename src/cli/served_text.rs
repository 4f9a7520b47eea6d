//! Places as the editor's protocol counts them: lines from 0, columns in UTF-16 units; and names of files as its URIs.
//!
//! Source: Language Server Protocol 3.17, "Position" (line ends are LF, CRLF and CR) and "Uri" (RFC 3986).

use std::ops::Range;

use serde_json::{Value as Json, json};

/// A text and where its lines begin.
pub(super) struct Lines<'t> {
    text: &'t str,
    begins: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub fn of(text: &'t str) -> Self {
        let bytes = text.as_bytes();
        let mut begins = vec![0];
        for (place, byte) in bytes.iter().enumerate() {
            let follows = bytes.get(place + 1);
            if *byte == b'\n' || *byte == b'\r' && follows != Some(&b'\n') {
                begins.push(place + 1);
            }
        }
        Self { text, begins }
    }

    /// A place of the text as the protocol counts it.
    pub fn position(&self, byte: usize) -> Json {
        let byte = byte.min(self.text.len());
        let line = self
            .begins
            .partition_point(|begin| *begin <= byte)
            .saturating_sub(1);
        let begin = self.begins.get(line).copied().unwrap_or(0);
        let before = self.text.get(begin..byte).unwrap_or("");
        json!({ "line": line, "character": before.encode_utf16().count() })
    }

    pub fn range(&self, range: Range<usize>) -> Json {
        json!({ "start": self.position(range.start), "end": self.position(range.end) })
    }

    /// The whole text.
    pub fn whole(&self) -> Json {
        self.range(0..self.text.len())
    }

    /// The byte of a position; behind the end of its line it is that end.
    pub fn byte(&self, position: &Json) -> Option<usize> {
        let number = |key: &str| usize::try_from(position.get(key)?.as_u64()?).ok();
        let (line, character) = (number("line")?, number("character")?);
        let begin = *self.begins.get(line)?;
        let mut units = 0;
        for (place, c) in self.text.get(begin..)?.char_indices() {
            if units >= character || matches!(c, '\n' | '\r') {
                return Some(begin + place);
            }
            units += c.len_utf16();
        }
        Some(self.text.len())
    }
}

/// The path of a file's URI; none for other schemes.
pub(super) fn path_of(uri: &str) -> Option<String> {
    let rest = uri.strip_prefix("file://")?;
    let path = rest.get(rest.find('/')?..)?;
    let mut bytes = Vec::with_capacity(path.len());
    let mut left = path.bytes();
    while let Some(byte) = left.next() {
        if byte != b'%' {
            bytes.push(byte);
            continue;
        }
        let digit = |byte: Option<u8>| char::from(byte?).to_digit(16);
        let (high, low) = (digit(left.next())?, digit(left.next())?);
        bytes.push(u8::try_from(high * 16 + low).ok()?);
    }
    String::from_utf8(bytes).ok()
}

/// The URI of a file's path.
pub(super) fn uri_of(path: &str) -> String {
    let mut uri = String::from("file://");
    for byte in path.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' | b'~' => {
                uri.push(char::from(byte));
            }
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri
}
